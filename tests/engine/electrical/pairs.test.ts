import { describe, expect, test } from 'vitest';
import { deriveAll } from '../../../src/engine/derive/deriveAll.ts';
import { factsOfCircuit } from '../../../src/engine/electrical/facts.ts';
import { electricalInput } from '../../../src/engine/circuitReport/report.ts';
import { questions } from '../../../src/engine/circuitReport/schedule.ts';
import { tableFrom } from '../../../src/engine/model/defaults.ts';
import type { Cable, Circuit, Place, PlanDocument, Point, Run } from '../../../src/engine/model/document.ts';
import { rows } from '../../../src/engine/model/tables.ts';
import { aBoard, found, plan } from '../checks/plans.ts';
import { aCircuit, aPoint, aRun } from '../zones/faces.ts';

// Pairs of plans: the wrong one told, the right one silent. One room of block walls, all cables along one wall at 450.
const low = (along: number): Place => ({ on: 'face', wall: 'w1', side: 'right', along, z: 450 });
const socket = (id: string, along: number, over: Partial<Point> = {}): Point =>
  aPoint(id, { along, ...over });
const messages = (doc: PlanDocument, rule: string): string[] => found(doc, rule).map((f) => f.message);

/** Board p1 at 500; ring p1 r1 p2 r2 p3 r3 p1, with more points and runs. */
function ringPlan(
  ring: Partial<Circuit>,
  over: {
    readonly runs?: Record<string, Partial<Run>>;
    readonly points?: Point[];
    readonly more?: Run[];
  } = {},
  rest: Partial<PlanDocument> = {},
): PlanDocument {
  const run = (id: string, from: string, to: string): Run => {
    const board = [low(500)];
    const corners = from === 'p1' || to === 'p1' ? board : [];
    return aRun(id, { from, to, corners, ...over.runs?.[id] });
  };
  return plan(
    [aBoard({ along: 500 }), socket('p2', 1500), socket('p3', 2500), ...(over.points ?? [])],
    [run('r1', 'p1', 'p2'), run('r2', 'p2', 'p3'), run('r3', 'p3', 'p1'), ...(over.more ?? [])],
    [aCircuit('c1', { board: 'p1', topology: 'ring', device: { type: 'B', rating: 32, rcd: 30 }, ...ring })],
    rest,
  );
}
const device = (rating: number): Partial<Circuit> => ({ device: { type: 'B', rating, rcd: 30 } });

describe('ring final circuits, 433.1.204', () => {
  test.each([30, 32])('%i A on 2.5/1.5 all round: silent', (rating) => {
    expect(messages(ringPlan(device(rating)), 'ring-standard')).toEqual([]);
  });

  test.each([20, 40, 63])('%i A is told', (rating) => {
    expect(messages(ringPlan(device(rating)), 'ring-standard')).toEqual([
      `C1 (Sockets): its device is B${rating}, a ring has 30 or 32 A.`,
    ]);
  });

  test('one leg in 1.5 mm² is told, and so is a ring wholly in it; 4 mm² is silent', () => {
    expect(messages(ringPlan({}, { runs: { r2: { cable: 'te1-5' } } }), 'ring-standard')).toEqual([
      expect.stringContaining('R2 in 1.5/1 mm²'),
    ]);
    const thin = { r1: { cable: 'te1-5' }, r2: { cable: 'te1-5' }, r3: { cable: 'te1-5' } };
    expect(messages(ringPlan({}, { runs: thin }), 'ring-standard')[0]).toMatch(/R1 in .*R2 in .*R3 in /);
    const thick = { r1: { cable: 'te4' }, r2: { cable: 'te4' }, r3: { cable: 'te4' } };
    expect(messages(ringPlan({}, { runs: thick }), 'ring-standard')).toEqual([]);
  });

  test('2.5 mm² with 1 mm² of protective conductor is told', () => {
    const base = ringPlan({}, { runs: { r2: { cable: 'odd' } } });
    const odd = { ...(base.cables.byId['te2-5'] as Cable), id: 'odd', cpc: 1 };
    const doc = {
      ...base,
      cables: tableFrom([...rows(base.cables), odd]),
    };
    expect(messages(doc, 'ring-standard')).toEqual([expect.stringContaining('R2 in 2.5/1 mm²')]);
  });

  // Two sockets on the ring. Three fused spurs: as many as one likes. Three unfused ones: one too many.
  const spurs = (kind: Point['kind'], behind: boolean): PlanDocument => {
    const heads = [1600, 1700, 1800].map((along, i) => socket(`s${i}`, along, { kind, load: 500 }));
    const ends = behind ? [aPoint('x0', { along: 1900, kind: 'extractor', load: 60, box: null })] : [];
    return ringPlan(
      {},
      {
        points: [...heads, ...ends],
        more: [
          ...heads.map((p, i) => aRun(`q${i}`, { from: 'p2', to: p.id })),
          // Behind the fuse of a connection unit 1.5 mm² may go on.
          ...ends.map((p) => aRun('q9', { from: 's0', to: p.id, cable: 'te1-5' })),
        ],
      },
    );
  };
  test('fused spurs are unlimited, feed what they like in 1.5 mm², and are not counted as unfused', () => {
    const doc = spurs('fused-spur', true);
    for (const rule of ['spurs-too-many', 'spur-feeds-more', 'ring-standard'])
      expect(messages(doc, rule)).toEqual([]);
    expect(messages(spurs('socket', false), 'spurs-too-many')).toEqual([
      'C1 (Sockets): 3 unfused spurs, 2 points on the ring.',
    ]);
  });

  test('an unfused spur in 1.5 mm² is told', () => {
    const thin = ringPlan(
      {},
      { points: [socket('s0', 1600)], more: [aRun('q0', { from: 'p2', to: 's0', cable: 'te1-5' })] },
    );
    expect(messages(thin, 'ring-standard')).toEqual([expect.stringContaining('Q0 in 1.5/1 mm²')]);
  });

  // 13 A x 230 V = 2990 W.
  test.each([
    [2990, []],
    [3000, ['C1 (Sockets): S0 takes 13.0 A (3000 W); on a ring and its spurs no load is above 13 A.']],
  ])('a load of %i W on a spur', (load, told) => {
    const heater = socket('s0', 1600, { kind: 'heavy-outlet', load, loadKind: 'other' });
    const doc = ringPlan({}, { points: [heater], more: [aRun('q0', { from: 'p2', to: 's0' })] });
    expect(messages(doc, 'ring-load')).toEqual(told);
  });
});

describe('the voltage drop of a ring is always told', () => {
  const facts = (doc: PlanDocument) =>
    factsOfCircuit(electricalInput(doc, deriveAll(doc)), doc.circuits.byId.c1 as Circuit);
  // A tail of 230 m at p2 makes two legs of over 230 m each: far above 106 m and above 11.5 V. Both are told.
  const long = ringPlan({}, { runs: { r1: { tailTo: 230_000 }, r2: { tailFrom: 230_000 } } });

  test('beside the length, not hidden by it', () => {
    expect(messages(long, 'ring-too-long')).toHaveLength(1);
    expect(messages(long, 'voltage-drop')).toHaveLength(1);
    expect(messages(ringPlan({}), 'voltage-drop')).toEqual([]);
  });

  test('its factor follows the air: at 30 °C 0.923, at 50 °C none is left', () => {
    const at = (ambient: number) => ({ ...long, job: { ...long.job, ambient } });
    // (300 - (1 - (13 / 20)²) x 40) / 300 = 0.923; at 50 °C Ca is 0.71: (300 - (0.5041 - 0.4225) x 40) / 300 = 0.989.
    const [cool, warm] = [facts(at(30)).drop, facts(at(50)).drop];
    expect((warm?.volts ?? NaN) / (cool?.volts ?? NaN)).toBeCloseTo(
      (300 - (0.71 ** 2 - 0.65 ** 2) * 40) / (300 - (1 - 0.65 ** 2) * 40),
      9,
    );
    expect(cool?.working).toContain('x 0.923');
    expect(warm?.working).toContain('x 0.989');
  });
});

describe('what a load is', () => {
  const kitchen = (over: Partial<Point>, circuit: Partial<Circuit> = {}): PlanDocument => ({
    ...plan(
      [aBoard(), aPoint('p2', { along: 2500, kind: 'heavy-outlet', load: 10_500, ...over })],
      [aRun('r1', { from: 'p1', to: 'p2', cable: 'te10', corners: [low(500)] })],
      [aCircuit('c1', { board: 'p1', cable: 'te10', ...circuit })],
    ),
    roomTags: tableFrom([{ id: 't1', storey: 's1', x: 2000, y: 1500, name: 'Kitchen', use: 'kitchen' }]),
  });
  const ib = (doc: PlanDocument) =>
    factsOfCircuit(electricalInput(doc, deriveAll(doc)), doc.circuits.byId.c1 as Circuit).current.amps;

  // 10 500 / 230 = 45.65 A; as a cooker 10 + 0.3 x 35.65 = 20.70 A; with a socket in its plate 5 A more.
  test.each([
    [null, 45.65],
    ['other', 45.65],
    ['cooker', 20.7],
    ['cooker-socket', 25.7],
  ] as const)('a heavy outlet in a kitchen said to be %s', (loadKind, amps) => {
    expect(ib(kitchen({ loadKind }))).toBeCloseTo(amps, 2);
  });

  test('not said, on 32 A: told, and asked; said to be a cooker: silent', () => {
    expect(messages(kitchen({}), 'current-over-device')).toHaveLength(1);
    const asked = (doc: PlanDocument) =>
      questions(electricalInput(doc, deriveAll(doc))).filter((q) => q.key === 'what.p2');
    expect(asked(kitchen({}))).toHaveLength(1);
    expect(messages(kitchen({ loadKind: 'cooker' }), 'current-over-device')).toEqual([]);
    expect(asked(kitchen({ loadKind: 'cooker' }))).toEqual([]);
  });
});

describe('a radial that feeds only lights has 3 %', () => {
  // 1150 W is 5 A. 5 A x 18 mV/A/m x 100 m = 9 V: above 6.9 V (3 %), below 11.5 V (5 %).
  const radial = (kind: Point['kind']): PlanDocument => {
    const runs = [aRun('r1', { from: 'p1', to: 'p2', corners: [low(500)], tailTo: 96_000, tailFrom: 0 })];
    return plan(
      [aBoard(), aPoint('p2', { along: 2500, kind, load: 1150, loadKind: null, box: null })],
      runs,
      [aCircuit('c1', { board: 'p1' })],
    );
  };
  test('lights told, a heater silent', () => {
    expect(messages(radial('wall-light'), 'voltage-drop')[0]).toContain('limit 6.9 V');
    expect(messages(radial('fused-spur'), 'voltage-drop')).toEqual([]);
  });
});

describe('cables by the table they are rated by', () => {
  test('without one nothing passes: rating and drop are asked, with the reason', () => {
    const base = plan(
      [aBoard(), aPoint('p2', { along: 2500, kind: 'fused-spur', load: 1000 })],
      [aRun('r1', { from: 'p1', to: 'p2', cable: 'armoured', corners: [low(500)] })],
    );
    const armoured: Cable = {
      ...(base.cables.byId['te10'] as Cable),
      id: 'armoured',
      name: 'Armoured, two-core',
      ratedBy: null,
    };
    const doc = {
      ...base,
      cables: tableFrom([...rows(base.cables), armoured]),
    };
    const facts = factsOfCircuit(electricalInput(doc, deriveAll(doc)), doc.circuits.byId.c1 as Circuit);
    expect([facts.iz, facts.drop]).toEqual([null, null]);
    const asked = questions(electricalInput(doc, deriveAll(doc))).map((q) => q.ask);
    const why = 'nobody has said which table rates "Armoured, two-core": not checked';
    expect(asked.filter((text) => text.includes(why))).toHaveLength(2);
    const rated = { ...armoured, ratedBy: '4D5' } as const;
    const said = {
      ...base,
      cables: tableFrom([...rows(base.cables), rated]),
    };
    // 10 mm² in method C or B carries 64 or 52 A by Table 4D5.
    expect(
      [52, 64].includes(
        factsOfCircuit(electricalInput(said, deriveAll(said)), said.circuits.byId.c1 as Circuit).iz ?? 0,
      ),
    ).toBe(true);
  });
});

describe('a TT electrode above 200 Ω', () => {
  const tt = (electrode: number | null, ze = 21): PlanDocument => {
    const doc = plan([aBoard()], []);
    return { ...doc, job: { ...doc.job, supply: { ...doc.job.supply, earthing: 'TT', ze, electrode } } };
  };
  test.each([
    [200, 21, 0],
    [201, 21, 1],
    [null, 21, 0],
    [null, 250, 1],
  ])('electrode %s Ω, Ze %i Ω: told %i times', (electrode, ze, times) => {
    expect(messages(tt(electrode, ze), 'tt-electrode-high')).toHaveLength(times);
  });
  test('not of a TN supply', () => {
    const doc = plan([aBoard()], []);
    const supply = { ...doc.job.supply, electrode: 500 };
    expect(messages({ ...doc, job: { ...doc.job, supply } }, 'tt-electrode-high')).toEqual([]);
  });
});

import { describe, expect, test } from 'vitest';
import type { Finding, Severity } from '../../../src/engine/checks/types.ts';
import { deriveAll } from '../../../src/engine/derive/deriveAll.ts';
import type { Derived } from '../../../src/engine/derive/types.ts';
import { tableFrom } from '../../../src/engine/model/defaults.ts';
import type { PlanDocument, Reading, Run } from '../../../src/engine/model/document.ts';
import { rows } from '../../../src/engine/model/tables.ts';
import { coverAnswers, HINDRANCES, type CoverAnswer } from '../../../src/engine/site/cover.ts';
import { reportOf } from '../../../src/report/format.ts';
import { makeMistakes } from '../../samples/mistakes.ts';
import { makeStudio } from '../../samples/studio.ts';
import { makeTwoStoreys } from '../../samples/twoStoreys.ts';
import { aBoard, plan } from '../checks/plans.ts';
import { aCircuit, aPoint, aRun } from '../zones/faces.ts';

const DONE: Partial<Run> = {
  progress: {
    pulled: '2026-11-01',
    labelled: '2026-11-01',
    photographed: '2026-11-01',
    tested: '2026-11-02',
    covered: null,
  },
  asLaid: { state: 'as-drawn', note: '' },
};
const reading = (id: string, over: Partial<Reading>): Reading => ({
  id,
  circuit: 'c1',
  run: 'r1',
  point: null,
  kind: 'continuity',
  value: 0,
  stage: 'before-boarding',
  date: '2026-11-02',
  instrument: '',
  by: '',
  note: '',
  ...over,
});
const on = (wall: string, along: number, z: number) =>
  ({ on: 'face', wall, side: 'right', along, z }) as const;

/**
 * A board and a socket on the north wall, joined level and plumb in 2.5 mm²: 950 down and 1500 along, 2.45 m, with
 * tails 1 m and 0.15 m: 3.6 m. Line and protective conductor: 3.6 x (7.41 + 12.10) / 1000 = 0.0702 Ω at 20 °C.
 */
function wall(readings: readonly Reading[], run: Partial<Run> = {}): PlanDocument {
  const doc = plan(
    [aBoard(), aPoint('p2', { along: 2000, kind: 'socket', load: 100 })],
    [aRun('r1', { from: 'p1', to: 'p2', corners: [on('w1', 500, 450)], ...DONE, ...run })],
    [aCircuit('c1', { board: 'p1', device: { type: 'B', rating: 16, rcd: 30 } })],
    { readings: tableFrom(readings) },
  );
  return { ...doc, job: { ...doc.job, testTemperature: 20 } };
}
const GOOD = [
  reading('a', { value: 0.07 }),
  reading('b', { kind: 'insulation-line-neutral', value: 200 }),
  reading('c', { kind: 'insulation-line-earth', value: 200 }),
];

const NONE = new Set<string>();
/** The run of these plans turns where two strips cross, away from a point: disputed, and accepted here with a reason. */
const turnAccepted = (doc: PlanDocument): Set<string> =>
  new Set(
    deriveAll(doc)
      .findings.filter((f) => f.message.includes('away from any point'))
      .map((f) => f.key),
  );
const answersOf = (doc: PlanDocument, accepted = NONE): CoverAnswer[] =>
  coverAnswers(doc, deriveAll(doc), accepted);
/** The answer of the wall the run lies on. */
const north = (doc: PlanDocument): CoverAnswer =>
  answersOf(doc, turnAccepted(doc)).find(
    (a) => a.surface.kind === 'face' && a.runs.length > 0,
  ) as CoverAnswer;
const kinds = (answer: CoverAnswer) => answer.inTheWay.map((h) => h.kind);
const texts = (answer: CoverAnswer) => answer.inTheWay.map((h) => h.text);

describe('ticks, records and readings', () => {
  test('all there and within their bands: nothing recorded stands in the way', () => {
    const doc = wall(GOOD);
    expect(deriveAll(doc).findings).toHaveLength(turnAccepted(doc).size);
    const answer = north(doc);
    expect(answer.inTheWay).toEqual([]);
    expect(answer.covered).toBe(false);
    expect(answer.name).toBe('the top wall of Glaze room');
  });

  test.each([
    ['pulled', 'R1 not pulled'],
    ['labelled', 'R1 not labelled'],
    ['photographed', 'R1 not photographed'],
    ['tested', 'R1 not dead-tested'],
  ] as const)('%s not ticked is told', (step, text) => {
    const progress = { ...(DONE.progress as Run['progress']), [step]: null };
    expect(texts(north(wall(GOOD, { progress })))).toEqual([text]);
  });

  test('covered is said only when every run is ticked so', () => {
    const progress = { ...(DONE.progress as Run['progress']), covered: '2026-11-03' };
    expect(north(wall(GOOD, { progress })).covered).toBe(true);
    const bare = answersOf(wall(GOOD)).filter((a) => a.runs.length === 0);
    expect(bare.length).toBeGreaterThan(0);
    expect(bare.every((a) => !a.covered)).toBe(true);
  });

  test('not recorded as laid, and laid differently, each stand in the way', () => {
    expect(texts(north(wall(GOOD, { asLaid: { state: 'not-recorded', note: '' } })))).toEqual([
      'R1 not recorded as laid',
    ]);
    const differently = north(wall(GOOD, { asLaid: { state: 'differently', note: '200 mm lower' } }));
    expect(kinds(differently)).toEqual(['laid-differently']);
    expect(texts(differently)[0]).toContain('200 mm lower');
    expect(texts(north(wall(GOOD, { asLaid: { state: 'differently', note: '' } })))[0]).toMatch(
      /^R1 is laid differently:/,
    );
  });

  test('each reading asked for is missed', () => {
    expect(texts(north(wall([])))).toEqual([
      'R1 has no reading before boarding of continuity, insulation, line to neutral and insulation, live to earth',
    ]);
    GOOD.forEach((gone) => {
      expect(kinds(north(wall(GOOD.filter((r) => r !== gone))))).toEqual(['reading-missing']);
    });
  });

  test('0.02 MΩ is no reading to cover on; the least value, 1 MΩ (Table 64), is', () => {
    const insulation = (value: number) => [
      GOOD[0] as Reading,
      { ...(GOOD[1] as Reading), value },
      GOOD[2] as Reading,
    ];
    expect(kinds(north(wall(insulation(0.02))))).toEqual(['reading-off', 'reading-missing']);
    expect(texts(north(wall(insulation(0.02))))[0]).toContain('0.02 MΩ is below the least value of 1 MΩ');
    expect(kinds(north(wall(insulation(0.99))))).toEqual(['reading-off', 'reading-missing']);
    expect(kinds(north(wall(insulation(1))))).toEqual([]);
  });

  test('a continuity off its band is told', () => {
    // 0.0702 Ω drawn; the meter's hundredth each side of 2.45 m (0.048) to 3.6 m: 0.5 Ω is a loose joint.
    expect(kinds(north(wall([reading('a', { value: 0.5 }), ...GOOD.slice(1)])))).toEqual([
      'reading-off',
      'reading-missing',
    ]);
  });

  test('the latest of a kind counts, either way; a later stage alone is not before covering', () => {
    const late = reading('z', { kind: 'insulation-line-neutral', value: 0.02, date: '2026-11-05' });
    expect(kinds(north(wall([...GOOD, late])))).toEqual(['reading-off', 'reading-missing']);
    expect(kinds(north(wall([{ ...late, date: '2026-11-01' }, ...GOOD])))).toEqual([]);
    expect(kinds(north(wall([...GOOD, { ...late, date: '2026-11-01' }])))).toEqual([]);
    expect(kinds(north(wall(GOOD.map((r) => ({ ...r, stage: 'final' as const })))))).toEqual([
      'reading-missing',
    ]);
  });

  test('a reading of the whole circuit serves its runs; one of another circuit does not', () => {
    const whole = GOOD.map((r) => ({ ...r, run: null, point: r.kind === 'continuity' ? 'p2' : null }));
    expect(kinds(north(wall(whole)))).toEqual([]);
    expect(kinds(north(wall(whole.map((r) => ({ ...r, circuit: 'c9' })))))).toEqual(['reading-missing']);
  });

  test('r1, rn and r2 of the cable alone are continuity too, all three of them', () => {
    // 3.6 m: line 0.0267 Ω, protective conductor 0.0436 Ω.
    const three = [
      reading('d', { kind: 'r1', value: 0.03 }),
      reading('e', { kind: 'rn', value: 0.03 }),
      reading('f', { kind: 'r2', value: 0.04 }),
    ];
    expect(kinds(north(wall([...three, ...GOOD.slice(1)])))).toEqual([]);
    expect(kinds(north(wall([...three.slice(1), ...GOOD.slice(1)])))).toEqual(['reading-missing']);
  });

  test('a reading that nothing can be held against is not a pass', () => {
    const doc = wall([reading('a', { run: null, point: 'p1', value: 0.07 }), ...GOOD.slice(1)]);
    expect(kinds(north(doc))).toEqual(['reading-off', 'reading-missing']);
    expect(texts(north(doc))[0]).toContain('not checked');
  });

  test('a data cable is asked for no continuity', () => {
    expect(kinds(north(wall([], { cable: 'data-utp', circuit: null }))).includes('reading-missing')).toBe(
      false,
    );
  });
});

describe('findings', () => {
  const finding = (over: Partial<Finding>, severity: Severity): Finding => ({
    key: `x:${severity}`,
    rule: 'x',
    severity,
    stage: 'runs',
    run: null,
    leg: null,
    point: null,
    circuit: null,
    wall: null,
    at: null,
    outsideMm: null,
    message: severity,
    fix: '',
    source: 'test',
    rank: 'memory',
    ...over,
  });
  const withFindings = (findings: readonly Finding[], accepted = NONE): CoverAnswer => {
    const doc = wall(GOOD);
    const all: Derived = { ...deriveAllParts(doc), findings };
    return coverAnswers(doc, all, accepted).find((a) => a.runs.length > 0) as CoverAnswer;
  };
  const deriveAllParts = (doc: PlanDocument): Derived => {
    const { fabrics, zones, runs, findings, takeOff, drums } = deriveAll(doc);
    return { fabrics, zones, runs, findings, takeOff, drums };
  };

  test.each([
    ['of a run there', { run: 'r1' }],
    ['of a circuit there', { circuit: 'c1' }],
    ['of a point its runs end at', { point: 'p1' }],
    ['of a point of its circuit', { point: 'p2' }],
  ])('%s is told, wherever it is filed', (_what, over) => {
    expect(kinds(withFindings([finding(over, 'error')]))).toEqual(['against']);
  });

  test('of another run or circuit is not', () => {
    expect(
      kinds(withFindings([finding({ run: 'r2' }, 'error'), finding({ circuit: 'c2' }, 'error')])),
    ).toEqual([]);
  });

  test('the heaviest first, and those accepted with a reason not at all', () => {
    const all = (['note', 'warning', 'disputed', 'error'] as const).map((s) => finding({ run: 'r1' }, s));
    expect(kinds(withFindings(all))).toEqual(['against', 'disputed', 'warning', 'to-know']);
    expect(kinds(withFindings(all, new Set(['x:disputed', 'x:note'])))).toEqual(['against', 'warning']);
  });

  test('of the surface itself, with no cable there: on its wall, in its ceiling', () => {
    const doc = wall(GOOD);
    const parts = deriveAllParts(doc);
    const [room] = [...(parts.fabrics.get('s1')?.rooms.values() ?? [])];
    const [, east] = room?.faces ?? [];
    const at = { storey: 's1', plan: { x: 3900, y: 1500 }, face: east as string, on: null };
    const middle = { storey: 's1', plan: { x: 2000, y: 1500 }, face: null, on: null };
    const told = (f: Finding) =>
      coverAnswers(doc, { ...parts, findings: [f] }, NONE)
        .filter((a) => a.inTheWay.length > 0)
        .map((a) => a.surface.face ?? a.surface.kind);
    expect(told(finding({ at }, 'error'))).toEqual([east]);
    expect(told(finding({ at: middle }, 'error'))).toEqual(['ceiling', 'floor']);
    expect(told(finding({ at: { ...middle, storey: 's2' } }, 'error'))).toEqual([]);
  });
});

describe('every run is in some surface’s answer', () => {
  test.each([
    ['the studio', makeStudio().doc],
    ['the studio with mistakes', makeMistakes().doc],
    ['two storeys', makeTwoStoreys()],
  ])('%s', (_name, doc) => {
    const { cover } = reportOf(doc, deriveAll(doc));
    expect(new Set(cover.flatMap((a) => a.runs))).toEqual(new Set(doc.runs.order));
    expect(
      new Set(cover.map((a) => `${a.surface.kind} ${a.surface.face} ${a.surface.room} ${a.surface.storey}`))
        .size,
    ).toBe(cover.length);
    for (const { ready, inTheWay } of cover) {
      expect(ready).toBe(inTheWay.length === 0);
      const order = inTheWay.map((h) => HINDRANCES.indexOf(h.kind));
      expect(order).toEqual(order.toSorted((a, b) => a - b));
    }
    // One answer for each face that looks into a room, each ceiling and each floor.
    const rooms = [...deriveAll(doc).fabrics.values()].flatMap((f) => [...f.rooms.values()]);
    expect(cover.filter((a) => a.surface.kind === 'ceiling' && a.surface.room !== null)).toHaveLength(
      rooms.length,
    );
    expect(cover.filter((a) => a.surface.kind === 'floor' && a.surface.room !== null)).toHaveLength(
      rooms.length,
    );
  });

  test('an accepted finding does not count in the report', () => {
    const { doc } = makeMistakes();
    const [first] = deriveAll(doc).findings.filter((f) => f.run !== null);
    const key = first?.key ?? '';
    const has = (d: PlanDocument) =>
      reportOf(d, deriveAll(d)).cover.some((a) => a.inTheWay.some((h) => h.finding === key));
    expect(has(doc)).toBe(true);
    const acceptance = { id: 'a1', finding: key, reason: 'seen', by: 'me', date: '2026-11-01' };
    expect(has({ ...doc, acceptances: tableFrom([acceptance]) })).toBe(false);
  });

  test('a cable straight through a wall is in the answers of both its faces', () => {
    const { doc } = makeStudio();
    const [, second] = [doc.points.byId.p4, doc.points.byId.p5];
    expect(second).toBeDefined();
    // Two sockets back to back on the thin partition, joined straight through.
    const back = { ...(second as (typeof doc.points.byId)[string]), gangs: 1 as const };
    const place = (side: 'left' | 'right') =>
      ({ on: 'face', wall: 'w7', side, along: 2600, z: 450 }) as const;
    const points = tableFrom([
      ...rows(doc.points),
      { ...back, id: 'p90', label: 'P90', place: place('left') },
      { ...back, id: 'p91', label: 'P91', place: place('right') },
    ]);
    const run = aRun('r90', { from: 'p90', to: 'p91' });
    const through = { ...doc, points, runs: tableFrom([...rows(doc.runs), run]) };
    const derived = deriveAll(through);
    expect(derived.runs.get('r90')?.legs.map((l) => l.leg.kind)).toEqual(['through']);
    const on = coverAnswers(through, derived, NONE).filter((a) => a.runs.some((r) => r.id === 'r90'));
    expect(on.map((a) => a.surface.kind)).toEqual(['face', 'face']);
    expect(new Set(on.map((a) => a.surface.room)).size).toBe(2);
  });

  test('a cable in a shared stud is behind the other side; in the plaster of a block it is not', () => {
    const onWall = (buildUp: string) => {
      const { doc } = makeStudio();
      const w7 = { ...(doc.walls.byId.w7 as (typeof doc.walls.byId)[string]), buildUp };
      const changed = { ...doc, walls: { ...doc.walls, byId: { ...doc.walls.byId, w7 } } };
      const derived = deriveAll(changed);
      // The WC switch drops down the WC's side of the partition.
      const drop = rows(doc.runs).find((r) => doc.points.byId[r.to ?? '']?.name === 'WC switch') as Run;
      return coverAnswers(changed, derived, NONE)
        .filter((a) => a.surface.kind === 'face' && a.runs.some((r) => r.id === drop.id))
        .map((a) => a.name);
    };
    expect(onWall('timber-stud')).toHaveLength(2);
    expect(onWall('block-plaster')).toHaveLength(1);
  });

  test('a run with both ends parked is told as lying nowhere yet', () => {
    const doc = plan([aBoard()], [aRun('r1')]);
    const [answer] = answersOf(doc).filter((a) => a.runs.length > 0);
    expect(answer?.surface.kind).toBe('open');
    expect(answer?.inTheWay.length).toBeGreaterThan(0);
    expect(answer?.name).toMatch(/^no wall, ceiling or floor yet/);
  });

  test('the void between a ceiling and the floor above is behind both', () => {
    const doc = makeTwoStoreys();
    const upper = rows(doc.storeys)[1];
    const answers = answersOf(doc);
    const inVoid = rows(doc.runs).filter((r) =>
      deriveAll(doc)
        .runs.get(r.id)
        ?.legs.some(({ leg }) => leg.kind === 'ceiling' && leg.storey === 's1'),
    );
    expect(inVoid.length).toBeGreaterThan(0);
    for (const run of inVoid) {
      const of = answers
        .filter((a) => a.runs.includes(run))
        .map((a) => `${a.surface.kind} ${a.surface.storey}`);
      expect(of).toContain('ceiling s1');
      if (upper?.floor.kind === 'void') expect(of).toContain('floor s2');
    }
  });
});

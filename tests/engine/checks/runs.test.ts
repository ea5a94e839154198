import { describe, expect, it } from 'vitest';
import { tableFrom } from '../../../src/engine/model/defaults.ts';
import type { Place, Run, Thing } from '../../../src/engine/model/document.ts';
import { aCircuit, aPoint, aRun } from '../zones/faces.ts';
import { aBoard, found, plan, rulesOf } from './plans.ts';

const on = (along: number, z: number, wall = 'w1'): Place => ({ on: 'face', wall, side: 'right', along, z });
const up = (x: number, y: number): Place => ({ on: 'ceiling', storey: 's1', x, y });
const socket = (over: Parameters<typeof aPoint>[1] = {}) => aPoint('p2', { along: 2500, z: 450, ...over });

// The board stands at along 500 and the socket at 2500 of the north wall: plates 360 x 240 and 86 x 86 mm.
const along = (z: number, over: Partial<Run> = {}) =>
  aRun('r1', { from: 'p1', to: 'p2', corners: [on(500, z), on(2500, z)], ...over });
const good = along(2300);

describe('a run in its zones', () => {
  it('up to the top band, along it and down: nothing to find', () => {
    expect(rulesOf(plan([aBoard(), socket()], [good]))).toEqual([]);
  });

  it('over the ceiling: nothing to find', () => {
    const run = aRun('r1', { from: 'p1', to: 'p2', corners: [up(500, 0), up(2500, 0)] });
    expect(rulesOf(plan([aBoard(), socket()], [run]))).toEqual([]);
  });
});

describe('zone-outside', () => {
  it('says how far, on which wall of which room, and how to mend it', () => {
    // Level at 1000 between the strips: the socket's level strip ends at 493, the board's begins at 1280. The leg is
    // 280 below the one and 507 above the other; plumb strips are at 680 and 2457. Worst: 280 mm.
    const [finding, ...more] = found(plan([aBoard(), socket()], [along(1000)]), 'zone-outside');
    expect(more).toEqual([]);
    expect(finding).toMatchObject({ run: 'r1', leg: 1, severity: 'error', stage: 'runs', wall: 'w1' });
    expect(finding?.outsideMm).toBeCloseTo(280, 6);
    expect(finding?.message).toContain('Leg 2 of R1 is 280 mm outside the permitted zones, 1.78 m of it');
    expect(finding?.message).toContain('on the top wall of Glaze room');
    expect(finding?.message).toContain('30 mA RCD alone does not');
    // With its half width of 5.15 mm clear of the strip's edge at 1280.
    expect(finding?.fix).toContain('Move it 285 mm up, to 1285 mm above the floor');
    expect(finding?.source).toContain('BS 7671:2018+A4:2026 522.6.202');
  });

  it('is silent about the RCD where there is none', () => {
    const circuits = [aCircuit('c1', { board: 'p1', device: { type: 'B', rating: 32, rcd: null } })];
    const [finding] = found(plan([aBoard(), socket()], [along(1000)], circuits), 'zone-outside');
    expect(finding?.message).not.toContain('RCD');
  });

  it('tells a leg drawn in two parts once', () => {
    const run = along(1000, { corners: [on(500, 1000), on(1300, 1000), on(2500, 1000)] });
    expect(found(plan([aBoard(), socket()], [run]), 'zone-outside')).toHaveLength(1);
  });

  it('tells two legs at different heights twice', () => {
    const run = along(1000, { corners: [on(500, 1000), on(1300, 1000), on(1300, 900), on(2500, 900)] });
    expect(found(plan([aBoard(), socket()], [run]), 'zone-outside')).toHaveLength(3);
  });
});

describe('diagonal', () => {
  it('says what it saves and where, and once although it also leaves the zones', () => {
    // From the board (500, 1400) straight to the socket (2500, 450): 2000 and 950 against 2214.16: 735.8 mm saved.
    const doc = plan([aBoard(), socket()], [aRun('r1', { from: 'p1', to: 'p2' })]);
    expect(rulesOf(doc)).toEqual(['zone-outside', 'diagonal']);
    expect(found(doc, 'diagonal')[0]?.message).toContain('saves 0.74 m');
    expect(found(doc, 'diagonal')[0]?.fix).toContain('one level leg of 2.00 m and one plumb leg of 0.95 m');
  });

  it('is told alone where it stays in a zone', () => {
    const run = aRun('r1', { from: 'p1', to: 'p2', corners: [on(500, 2270), on(2500, 2380)] });
    expect(rulesOf(plan([aBoard(), socket()], [run]))).toEqual(['diagonal']);
  });
});

describe('depth, RCD and metal frames (522.6.202, .203, 415.1.1)', () => {
  const noRcd = (rcd: number | null) => [
    aCircuit('c1', { board: 'p1', device: { type: 'B', rating: 32, rcd } }),
  ];
  const isolator = socket({ kind: 'isolator' });

  it.each([
    [30, []],
    [10, []],
    [100, ['cover-needs-rcd']],
    [null, ['cover-needs-rcd']],
  ])('shallow in its zone with an RCD of %s mA', (rcd, rules) => {
    expect(rulesOf(plan([aBoard(), isolator], [good], noRcd(rcd)))).toEqual(rules);
  });

  it('50 mm deep needs neither; protected needs neither', () => {
    expect(rulesOf(plan([aBoard(), isolator], [along(2300, { depth: 60 })], noRcd(null)))).toEqual([]);
    const run = along(2300, { protection: 'earthed-conduit' });
    expect(rulesOf(plan([aBoard(), isolator], [run], noRcd(null)))).toEqual([]);
    const steel = found(
      plan([aBoard(), isolator], [along(2300, { protection: 'steel-3mm' })], noRcd(null)),
      'cover-needs-rcd',
    );
    expect(steel.map((f) => f.severity)).toEqual(['disputed']);
    const capped = along(2300, { protection: 'capping' });
    expect(rulesOf(plan([aBoard(), isolator], [capped], noRcd(null)))).toEqual(['cover-needs-rcd']);
  });

  it.each(['bs7671-2018-a3', 'bs7671-2018-a4'] as const)('metal-framed, any depth, under %s', (edition) => {
    const doc = plan([aBoard(), isolator], [good], noRcd(null), { frame: 'metal-stud' });
    // A wall of 95 mm with nothing drawn behind it: the strips that reach through are disputed there, for both drops.
    const drops = ['zone-disputed', 'zone-disputed'];
    expect(rulesOf({ ...doc, job: { ...doc.job, edition } })).toEqual([...drops, 'metal-frame']);
    const withRcd = plan([aBoard(), isolator], [good], noRcd(30), { frame: 'metal-stud' });
    expect(rulesOf({ ...withRcd, job: { ...withRcd.job, edition } })).toEqual(drops);
  });
});

describe('turns', () => {
  const plate = { width: 100, height: 100 };
  const light = aPoint('p3', { kind: 'wall-light', along: 1500, z: 1800, circuit: 'c1', plate });

  it('where two strips cross away from both points is disputed, at a point and in the top band silent', () => {
    // Up the socket's strip to the light's level strip, along it to the light.
    const run = aRun('r2', { from: 'p2', to: 'p3', corners: [on(2500, 1800)] });
    const doc = plan([aBoard(), socket(), light], [good, run]);
    expect(rulesOf(doc)).toEqual(['turn-away-from-point']);
    expect(found(doc, 'turn-away-from-point')[0]).toMatchObject({ run: 'r2', severity: 'disputed' });
    const overTop = aRun('r2', { from: 'p2', to: 'p3', corners: [on(2500, 2300), on(1500, 2300)] });
    expect(rulesOf(plan([aBoard(), socket(), light], [good, overTop]))).toEqual([]);
  });

  it('a jog within one strip is a disputed note of its own', () => {
    const run = along(2300, { corners: [on(500, 2300), on(2470, 2300), on(2470, 1000), on(2500, 1000)] });
    const notes = found(plan([aBoard(), socket()], [run]), 'turn-away-from-point');
    expect(notes.map((n) => n.severity)).toEqual(['disputed', 'disputed']);
  });
});

describe('ends', () => {
  it('a parked end, once, and no break of the circuit told beside it', () => {
    expect(rulesOf(plan([aBoard(), socket()], [along(2300, { to: null })]))).toEqual(['parked-end']);
  });

  it('a run of another circuit is told at the run, not at each point', () => {
    const circuits = [aCircuit('c1', { board: 'p1' }), aCircuit('c2', { board: 'p1' })];
    const doc = plan([aBoard(), socket()], [along(2300, { circuit: 'c2' })], circuits);
    expect(rulesOf(doc)).toEqual(['end-mismatch']);
  });

  it('a run on no circuit is told as that alone; a data cable may be on none', () => {
    expect(rulesOf(plan([aBoard(), socket()], [along(2300, { circuit: null })]))).toEqual(['run-no-circuit']);
    const data = aPoint('p2', { kind: 'data', along: 2500, circuit: null });
    expect(rulesOf(plan([aBoard(), data], [along(2300, { circuit: null, cable: 'data-utp' })]))).toEqual([]);
  });

  it('a jump across the room is told once', () => {
    const run = aRun('r1', {
      from: 'p1',
      to: 'p2',
      corners: [on(500, 2300), on(2000, 1000, 'w3'), on(2500, 2300)],
    });
    expect(found(plan([aBoard(), socket()], [run]), 'run-unresolved')).toHaveLength(1);
  });
});

describe('things to keep clear', () => {
  const thing = (
    place: Thing['place'],
    kind: Thing['kind'] = 'no-cable',
  ): Partial<ReturnType<typeof plan>> => ({
    things: tableFrom([{ id: 'k1', kind, name: 'Shelf bracket', place }]),
  });
  const wallBox = {
    on: 'face',
    wall: 'w1',
    side: 'right',
    along0: 1000,
    along1: 1600,
    z0: 2200,
    z1: 2400,
  } as const;

  it('on a wall: the length behind it', () => {
    const [finding] = found(
      plan([aBoard(), socket()], [good], undefined, thing(wallBox)),
      'run-through-no-cable',
    );
    expect(finding?.message).toContain('behind "Shelf bracket" for 600 mm');
  });

  it('touching its edge is not behind it, and furniture is no reason', () => {
    const touching = { ...wallBox, z0: 2300 };
    expect(rulesOf(plan([aBoard(), socket()], [good], undefined, thing(touching)))).toEqual([]);
    expect(rulesOf(plan([aBoard(), socket()], [good], undefined, thing(wallBox, 'worktop')))).toEqual([]);
  });

  it('in a void: only what lies in the notches of its outline', () => {
    // A U open to the south, arms 1000..1300 and 1700..2000: a run along y = 500 crosses 300 + 300 mm of it.
    const outline = [
      [1000, 200],
      [2000, 200],
      [2000, 800],
      [1700, 800],
      [1700, 400],
      [1300, 400],
      [1300, 800],
      [1000, 800],
    ].map(([x = 0, y = 0]) => ({ x, y }));
    const place = { on: 'plan', storey: 's1', outline, z0: 0, z1: 0, where: 'ceiling' } as const;
    const run = aRun('r1', {
      from: 'p1',
      to: 'p2',
      corners: [up(500, 0), up(500, 500), up(2500, 500), up(2500, 0)],
    });
    const [finding] = found(
      plan([aBoard(), socket()], [run], undefined, thing(place)),
      'run-through-no-cable',
    );
    expect(finding?.message).toContain('for 600 mm, above the ceiling');
  });
});

it('run-longer-than-drum counts tails and allowance', () => {
  // 900 + 2000 + 1850 mm on the wall, tails 1000 at the board and 150 at the box: 5.9 m, with 10 % 6.49 m.
  const doc = plan([aBoard(), socket()], [good]);
  const cable = doc.cables.byId['te2-5'];
  if (!cable) throw new Error('no such cable');
  const withDrum = (length: number) => ({
    ...doc,
    cables: {
      ...doc.cables,
      byId: { ...doc.cables.byId, 'te2-5': { ...cable, drums: [{ length, price: null }] } },
    },
  });
  expect(rulesOf(withDrum(6.5))).toEqual([]);
  const [finding] = found(withDrum(6.48), 'run-longer-than-drum');
  expect(finding?.message).toContain('needs 6.49 m');
});

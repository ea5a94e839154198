import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { buildFabric } from '../../../src/engine/fabric/build.ts';
import { resolveRun } from '../../../src/engine/fabric/resolve.ts';
import { moveKeepingRight } from '../../../src/engine/fabric/stretch.ts';
import type { Fabric, ResolvedRun } from '../../../src/engine/fabric/types.ts';
import { DEFAULT_STOREY } from '../../../src/engine/model/defaults.ts';
import type {
  Id,
  PlanDocument,
  Place,
  Point,
  Run,
  Side,
  Storey,
} from '../../../src/engine/model/document.ts';
import { planOf } from './plans.ts';

const on = (wall: Id, side: Side, along: number, z: number): Place => ({ on: 'face', wall, side, along, z });
const above = (x: number, y: number, storey = 's1'): Place => ({ on: 'ceiling', storey, x, y });
const below = (x: number, y: number, storey = 's1'): Place => ({ on: 'floor', storey, x, y });

const point = (id: Id, place: Place): Point => ({
  id,
  label: id,
  kind: 'socket',
  name: '',
  place,
  gangs: 1,
  box: null,
  visible: true,
  circuit: null,
  load: null,
  loadKind: null,
  controls: [],
  plate: null,
});

const run = (corners: readonly Place[], more: Partial<Run> = {}): Run => ({
  id: 'r1',
  label: '1',
  circuit: null,
  cable: 'te2-5',
  from: 'p1',
  to: 'p2',
  corners,
  fixing: 'clipped',
  depth: null,
  protection: 'none',
  tailFrom: null,
  tailTo: null,
  origin: 'drawn',
  locked: false,
  progress: { pulled: null, labelled: null, photographed: null, tested: null, covered: null },
  asLaid: { state: 'not-recorded', note: '' },
  notes: '',
  ...more,
});

const UPPER: Storey = {
  ...DEFAULT_STOREY,
  id: 's2',
  level: 2700,
  floor: { kind: 'void', voidDepth: 200, cableDrop: 100, joists: null },
};

/** 9 x 5 m box in 166 mm block, an 88 mm partition at x = 4000; ceiling 2400, cables 100 above it. */
const base = (points: readonly Point[], storeys?: readonly Storey[]): PlanDocument => {
  const doc = planOf({
    nodes: {
      a: [0, 0],
      b: [9000, 0],
      c: [9000, 5000],
      d: [0, 5000],
      m: [4000, 0],
      n: [4000, 5000],
      e: [0, 0],
      f: [9000, 0],
    },
    walls: {
      north: ['a', 'b', 'block-plaster'],
      east: ['b', 'c', 'block-plaster'],
      south: ['c', 'd', 'block-plaster'],
      west: ['d', 'a', 'block-plaster'],
      part: ['m', 'n', 'timber-stud'],
      ...(storeys ? { over: ['e', 'f', 'block-plaster', { storey: 's2' }] as const } : {}),
    },
    points,
    ...(storeys ? { storeys } : {}),
  });
  return doc;
};
const fabricsOf = (doc: PlanDocument): ReadonlyMap<Id, Fabric> =>
  new Map(doc.storeys.order.map((s) => [s, buildFabric(doc, s)]));

function resolve(
  from: Place,
  corners: readonly Place[],
  to: Place,
  storeys?: readonly Storey[],
): ResolvedRun {
  const doc = base([point('p1', from), point('p2', to)], storeys);
  return resolveRun(doc, fabricsOf(doc), run(corners));
}
const brief = (r: ResolvedRun): string[] =>
  r.legs.map((l) => `${l.stretch} ${l.kind} ${Math.round(l.length * 1000) / 1000}`);

describe('a run as legs', () => {
  test('up the wall, over the ceiling, down another: split at the top of each wall', () => {
    // Surfaces: north y = 83, east x = 8917.
    const r = resolve(
      on('north', 'right', 1000, 450),
      [above(1000, 83), above(1000, 2000), above(8917, 2000)],
      on('east', 'right', 2000, 1200),
    );
    expect(r.missing).toBeNull();
    expect(brief(r)).toEqual([
      '0 face 1950',
      '0 riser 100',
      '1 ceiling 1917',
      '2 ceiling 7917',
      '3 riser 100',
      '3 face 1200',
    ]);
    expect(r.legs[0]).toMatchObject({
      face: 'north.right.0',
      wall: 'north',
      fa: { u: 917, z: 450 },
      fb: { u: 917, z: 2400 },
    });
    expect(r.legs[5]).toMatchObject({
      face: 'east.right.0',
      wall: 'east',
      fa: { u: 1917, z: 2400 },
      fb: { u: 1917, z: 1200 },
    });
    expect(r.legs[1]?.b.z).toBe(2500);
  });

  test('points on ceilings and floors enter the void plumb', () => {
    expect(brief(resolve(above(2000, 2000), [], above(2000, 3500)))).toEqual([
      '0 riser 100',
      '0 ceiling 1500',
      '0 riser 100',
    ]);
    expect(
      brief(
        resolve(above(2000, 2000), [above(1000, 2000), above(1000, 83)], on('north', 'right', 1000, 1200)),
      ),
    ).toEqual(['0 riser 100', '0 ceiling 1000', '1 ceiling 1917', '2 riser 100', '2 face 1200']);
  });

  test('level along a wall across a partition: face, through 88, face', () => {
    const r = resolve(on('north', 'right', 3000, 450), [], on('north', 'right', 6000, 450));
    expect(brief(r)).toEqual(['0 face 956', '0 through 88', '0 face 1956']);
    expect(r.legs.map((l) => l.face)).toEqual(['north.right.0', null, 'north.right.1']);
    expect(r.legs[1]?.wall).toBe('part');
    // The other side of that wall has no partition: one leg, and the other way round.
    expect(brief(resolve(on('north', 'left', 6000, 450), [], on('north', 'left', 3000, 450)))).toEqual([
      '0 face 3000',
    ]);
    const back = resolve(on('north', 'right', 6000, 450), [], on('north', 'right', 3000, 450));
    expect(brief(back)).toEqual(['0 face 1956', '0 through 88', '0 face 956']);
    expect(back.legs[1]?.wall).toBe('part');
    // Not level: no way through is assumed.
    expect(brief(resolve(on('north', 'right', 3000, 450), [], on('north', 'right', 6000, 900)))[0]).toMatch(
      /^0 loose/,
    );
  });

  test('through a wall to its other face: its thickness', () => {
    const r = resolve(on('part', 'left', 2000, 450), [], on('part', 'right', 2000, 450));
    expect(brief(r)).toEqual(['0 through 88']);
    expect(r.legs[0]?.wall).toBe('part');
    expect(brief(resolve(on('part', 'left', 2000, 450), [], on('part', 'right', 2010, 450)))[0]).toMatch(
      /^0 loose/,
    );
  });

  test('round an angle: a corner of no length between two places at it', () => {
    const r = resolve(
      on('north', 'right', 7000, 450),
      [on('north', 'right', 8917, 450), on('east', 'right', 83, 450)],
      on('east', 'right', 1083, 450),
    );
    expect(brief(r)).toEqual(['0 face 1917', '1 corner 0', '2 face 1000']);
    const apart = resolve(on('north', 'right', 8900, 450), [], on('east', 'right', 83, 450));
    expect(brief(apart)[0]).toMatch(/^0 loose/);
    const uneven = resolve(on('north', 'right', 8917, 450), [], on('east', 'right', 83, 460));
    expect(brief(uneven)[0]).toMatch(/^0 loose/);
  });

  test('a diagonal on one face is still a leg of that face; across the room it is loose', () => {
    expect(brief(resolve(on('north', 'right', 1000, 450), [], on('north', 'right', 1300, 850)))).toEqual([
      '0 face 500',
    ]);
    const r = resolve(on('north', 'right', 1000, 450), [], on('south', 'right', 8000, 450));
    expect(brief(r)).toEqual(['0 loose 4834']);
  });

  test('between storeys: ceiling void below to floor void above; and wall to wall', () => {
    const storeys = [DEFAULT_STOREY, UPPER];
    // 2400 + 100 = 2500 below, 2700 - 100 = 2600 above.
    expect(brief(resolve(above(2000, 2000), [], below(2000, 2000, 's2'), storeys))).toEqual([
      '0 riser 100',
      '0 riser 100',
      '0 riser 100',
    ]);
    expect(
      brief(resolve(on('north', 'right', 2000, 450), [], on('over', 'right', 2000, 300), storeys)),
    ).toEqual(['0 face 1950', '0 riser 300', '0 face 300']);
    expect(brief(resolve(on('north', 'right', 2000, 450), [], below(2000, 83, 's2'), storeys))).toEqual([
      '0 face 1950',
      '0 riser 200',
      '0 riser 100',
    ]);
    // Ceiling to ceiling passes through the room above: not a riser.
    expect(brief(resolve(above(2000, 2000), [], above(2000, 2000, 's2'), storeys))[1]).toMatch(/^0 loose/);
  });

  test('the middle of a wall drawn for its surface still goes down into it', () => {
    const r = resolve(on('part', 'left', 2000, 450), [above(4000, 2000)], above(6000, 2000));
    expect(brief(r).slice(0, 1)).toEqual(['0 face 1950']);
    expect(r.legs[1]?.kind).toBe('riser');
    expect(r.legs[1]?.length).toBeCloseTo(Math.hypot(100, 44), 6);
  });

  test('what is missing is said, the rest is resolved', () => {
    const doc = base([point('p1', on('north', 'right', 1000, 450))]);
    const fabrics = fabricsOf(doc);
    const parked = resolveRun(doc, fabrics, run([on('north', 'right', 2000, 450)], { to: null }));
    expect(brief(parked)).toEqual(['0 face 1000']);
    expect(parked.missing).toMatch(/second end is on no point/);
    expect(resolveRun(doc, fabrics, run([], { to: 'p9' })).missing).toMatch(/p9 is missing/);
    expect(resolveRun(doc, fabrics, run([on('gone', 'left', 1, 1)], { to: null })).missing).toMatch(
      /gone is missing/,
    );
    const buried = resolveRun(doc, fabrics, run([on('north', 'right', 4000, 450)], { to: null }));
    expect(buried.missing).toMatch(/inside another wall/);
    expect(buried.legs[0]?.kind).toBe('loose');
  });

  test('a leg split in two changes no total and no kind', () => {
    const from = on('north', 'right', 1000, 450);
    const to = on('east', 'right', 2000, 1200);
    const corners = [above(1000, 83), above(1000, 2000), above(8917, 2000)];
    const total = (r: ResolvedRun): number => r.legs.reduce((s, l) => s + l.length, 0);
    const kinds = (r: ResolvedRun): Record<string, number> => {
      const out: Record<string, number> = {};
      for (const l of r.legs) out[l.kind] = (out[l.kind] ?? 0) + Math.round(l.length * 1e6) / 1e6;
      return out;
    };
    const whole = resolve(from, corners, to);
    fc.assert(
      fc.property(fc.double({ min: 0.01, max: 0.99, noNaN: true }), fc.nat(3), (t, leg) => {
        const extra: readonly Place[] = [
          on('north', 'right', 1000, 450 + t * 1950),
          above(1000, 83 + t * 1917),
          above(1000 + t * 7917, 2000),
          on('east', 'right', 2000, 2400 - t * 1200),
        ];
        const split = corners.toSpliced(leg, 0, extra[leg] as Place);
        const r = resolve(from, split, to);
        expect(total(r)).toBeCloseTo(total(whole), 6);
        for (const [kind, length] of Object.entries(kinds(whole)))
          expect(kinds(r)[kind]).toBeCloseTo(length, 5);
      }),
    );
  });
});

describe('moving a place of a run', () => {
  const from = on('north', 'right', 1000, 450);
  const to = on('east', 'right', 2000, 1200);
  const corners = [above(1000, 83), above(1000, 2000), above(8917, 2000)];
  const setUp = (path: readonly Place[], a = from, b = to) => {
    const doc = base([point('p1', a), point('p2', b)]);
    const fabrics = fabricsOf(doc);
    return { doc, fabrics, r: run(path) };
  };

  test('along the wall: the drop and the first stretch over the ceiling follow, the next one stretches', () => {
    const { doc, fabrics, r } = setUp(corners);
    expect(moveKeepingRight(doc, fabrics, r, 'from', on('north', 'right', 1600, 450))).toEqual([
      above(1600, 83),
      above(1600, 2000),
      above(8917, 2000),
    ]);
  });

  test('up the wall: the drop alone', () => {
    const { doc, fabrics, r } = setUp(corners);
    expect(moveKeepingRight(doc, fabrics, r, 'from', on('north', 'right', 1000, 1200))).toEqual(corners);
  });

  test('the other end, the same way backwards', () => {
    const { doc, fabrics, r } = setUp(corners);
    expect(moveKeepingRight(doc, fabrics, r, 'to', on('east', 'right', 2500, 1200))).toEqual([
      above(1000, 83),
      above(1000, 2500),
      above(8917, 2500),
    ]);
  });

  test('a straight run to a fixed end gets a jog at it', () => {
    const level = on('north', 'right', 3000, 450);
    const { doc, fabrics, r } = setUp([], from, level);
    expect(moveKeepingRight(doc, fabrics, r, 'from', on('north', 'right', 1000, 600))).toEqual([
      on('north', 'right', 3000, 600),
    ]);
    expect(moveKeepingRight(doc, fabrics, r, 'from', on('north', 'right', 1200, 450))).toEqual([]);
  });

  test('round an angle: the height goes round, the level place does not', () => {
    const path = [
      on('north', 'right', 8917, 450),
      on('east', 'right', 83, 450),
      on('east', 'right', 2000, 450),
    ];
    const { doc, fabrics, r } = setUp(path);
    const moved = moveKeepingRight(doc, fabrics, r, 'from', on('north', 'right', 1300, 700));
    expect(moved).toEqual([
      on('north', 'right', 8917, 700),
      on('east', 'right', 83, 700),
      on('east', 'right', 2000, 700),
    ]);
  });

  test('a corner: both its neighbours follow', () => {
    const { doc, fabrics, r } = setUp(corners);
    // The middle corner 300 to the right and 500 down: the first drop would have to move 300 along, which it does not
    // (its socket is fixed): a jog at the socket.
    const moved = moveKeepingRight(doc, fabrics, r, 1, above(1300, 2500));
    expect(moved).toEqual([
      on('north', 'right', 1300, 450),
      above(1300, 83),
      above(1300, 2500),
      above(8917, 2500),
      on('east', 'right', 2500, 1200),
    ]);
  });

  test('a corner that cannot follow square out of its wall: the jog is in the void', () => {
    const { doc, fabrics, r } = setUp(corners);
    // The corner over the east wall pulled 400 into the room: its drop stays in the wall.
    const moved = moveKeepingRight(doc, fabrics, r, 2, above(8517, 2000));
    expect(moved).toEqual([above(1000, 83), above(1000, 2000), above(8517, 2000), above(8917, 2000)]);
  });

  test('misuse throws', () => {
    const { doc, fabrics, r } = setUp(corners);
    expect(() => moveKeepingRight(doc, fabrics, r, 7, from)).toThrow(RangeError);
  });

  test('whatever the move along the wall and up it, no leg is tilted and the ends are met', () => {
    const paths: readonly (readonly [Place, readonly Place[], Place])[] = [
      [from, corners, to],
      [from, [on('north', 'right', 2500, 450)], on('north', 'right', 2500, 1200)],
      [from, [], on('north', 'right', 3500, 450)],
      [from, [above(1000, 83), above(1000, 2000)], above(3000, 2000)],
      [
        from,
        [on('north', 'right', 8917, 450), on('east', 'right', 83, 450), on('east', 'right', 2000, 450)],
        to,
      ],
      [
        from,
        [on('north', 'right', 6000, 450), on('north', 'right', 6000, 1500)],
        on('north', 'right', 7000, 1500),
      ],
    ];
    fc.assert(
      fc.property(
        fc.nat(paths.length - 1),
        fc.integer({ min: 200, max: 3800 }),
        fc.integer({ min: 100, max: 2200 }),
        (k, along, z) => {
          const [a, path, b] = paths[k] as (typeof paths)[number];
          const { doc, fabrics, r } = setUp(path, a, b);
          const place = on('north', 'right', along, z);
          const moved = moveKeepingRight(doc, fabrics, r, 'from', place);
          const after = base([point('p1', place), point('p2', b)]);
          const resolved = resolveRun(after, fabricsOf(after), run(moved));
          for (const leg of resolved.legs) {
            const steps = [leg.b.x - leg.a.x, leg.b.y - leg.a.y, leg.b.z - leg.a.z].filter(
              (d) => Math.abs(d) > 1e-6,
            );
            expect(leg.kind === 'corner' || steps.length <= 1, `${k}: ${JSON.stringify(leg)}`).toBe(true);
            expect(leg.kind, `${k}: ${JSON.stringify(moved)}`).not.toBe('loose');
          }
          resolved.legs.slice(1).forEach((leg, i) => {
            const last = resolved.legs[i]?.b;
            expect(
              Math.hypot(leg.a.x - (last?.x ?? 0), leg.a.y - (last?.y ?? 0), leg.a.z - (last?.z ?? 0)),
            ).toBeLessThan(1e-6);
          });
        },
      ),
      { numRuns: 400 },
    );
  });
});

import polygonClipping, { type MultiPolygon, type Ring } from 'polygon-clipping';
import { describe, expect, it } from 'vitest';
import { bathroomZone, type Water } from '../../../src/engine/electrical/bathroomZones.ts';
import { pointInPolygon } from '../../../src/engine/geometry/polygon.ts';
import { tableFrom } from '../../../src/engine/model/defaults.ts';
import type { PlanDocument, Point, RoomTag, Thing } from '../../../src/engine/model/document.ts';
import { freshSeed, seeded } from '../../random.ts';
import { aPoint } from '../zones/faces.ts';
import { found, plan } from './plans.ts';

const rectangle = (x0: number, y0: number, x1: number, y1: number) => [
  { x: x0, y: y0 },
  { x: x1, y: y0 },
  { x: x1, y: y1 },
  { x: x0, y: y1 },
];
const thing = (kind: Thing['kind'], outline = rectangle(100, 2200, 1800, 2900), z1 = 600): Thing => ({
  id: 'k1',
  kind,
  name: '',
  place: { on: 'plan', storey: 's1', outline, z0: 0, z1, where: 'room' },
});
const TAG: RoomTag = { id: 't1', storey: 's1', x: 2000, y: 1500, name: 'Bathroom', use: 'bathroom' };
/** The room: 4 by 3 m, its surfaces at 72.5 and 3927.5, 2927.5. The bath lies along the south wall, in its west corner. */
const bathroom = (points: readonly Point[], things: readonly Thing[], ceilingHeight = 2400): PlanDocument => {
  const doc = plan(points, [], [], { things: tableFrom(things), roomTags: tableFrom([TAG]) });
  const s1 = { ...(doc.storeys.byId.s1 as (typeof doc.storeys.byId)[string]), ceilingHeight };
  return { ...doc, storeys: tableFrom([s1]) };
};
/** On the south wall, w3, which runs from x 4000 to 0: along = 4000 - x. */
const south = (x: number, over: Partial<Point> & { z?: number } = {}) =>
  aPoint('p1', { wall: 'w3', along: 4000 - x, z: 1000, ...over });
const overhead = (x: number, y: number, kind: Point['kind']) =>
  aPoint('p1', { kind, box: null, place: { on: 'ceiling', storey: 's1', x, y } });

describe('zones 0, 1 and 2 by hand', () => {
  // The bath ends at x 1800; zone 2 ends at 2400. A plate of 86 mm centred at x begins 43 mm before it.
  it.each([
    ['fused-spur', 2442, 1],
    ['fused-spur', 2444, 0],
    ['data', 2442, 1],
    ['data', 2444, 0],
    ['isolator', 2100, 1],
    ['joint', 2399, 1],
    ['joint', 2401, 0],
  ] as const)('%s centred at %i is told %i time', (kind, x, times) => {
    expect(found(bathroom([south(x, { kind })], [thing('bath')]), 'bathroom-zone')).toHaveLength(times);
  });

  it('up to 2250 mm by the lowest edge, not the centre', () => {
    // 2290 - 43 = 2247 is in; 2294 - 43 = 2251 is over it.
    expect(
      found(bathroom([south(2000, { kind: 'data', z: 2290 })], [thing('bath')]), 'bathroom-zone'),
    ).toHaveLength(1);
    expect(
      found(bathroom([south(2000, { kind: 'data', z: 2294 })], [thing('bath')]), 'bathroom-zone'),
    ).toEqual([]);
  });

  it('the body of a pull switch is told under a low ceiling only', () => {
    const cord = overhead(1000, 2500, 'switch-pull');
    expect(found(bathroom([cord], [thing('bath')], 2200), 'bathroom-zone')).toHaveLength(1);
    expect(found(bathroom([cord], [thing('bath')], 2400), 'bathroom-zone')).toEqual([]);
  });

  it('inside the tray below its rim is zone 0', () => {
    const low = bathroom(
      [south(1000, { kind: 'joint', z: 300 })],
      [thing('bath', rectangle(100, 2200, 1800, 2930))],
    );
    expect(found(low, 'bathroom-zone')[0]?.message).toContain('zone 0');
  });

  it('1,200 mm round a shower head with no tray, and no zone 2 beyond', () => {
    // The head's middle is at (1000, 2900), 27.5 mm from the wall: along the wall 1200 reaches sqrt(1200² - 27.5²) = 1199.7.
    const head = thing('shower-head', rectangle(950, 2850, 1050, 2950), 2000);
    const at = (x: number) => found(bathroom([south(x, { kind: 'joint' })], [head]), 'bathroom-zone');
    expect(at(2199)[0]?.message).toContain('zone 1');
    expect(at(2200.5)).toEqual([]);
    // Sockets keep 2500 from there: 1000 + 1200 + 2500 is beyond this room, so its east end at 3800 is told.
    expect(found(bathroom([south(3800)], [head]), 'bathroom-socket')).toHaveLength(1);
    // Up to the head's own height where that is more than 2250.
    const high = { ...head, place: { ...head.place, z1: 2350 } };
    const over = south(1500, { kind: 'joint', z: 2300 });
    expect(found(bathroom([over], [high]), 'bathroom-zone')).toHaveLength(1);
    expect(found(bathroom([over], [head]), 'bathroom-zone')).toEqual([]);
  });

  it.each(['wall-light', 'extractor'] as const)(
    'a %s in a zone is told with IPX4, outside it is not',
    (kind) => {
      const inside = bathroom([south(2000, { kind, z: 1800 })], [thing('shower')]);
      expect(found(inside, 'bathroom-ip')[0]?.message).toContain('IPX4');
      expect(found(inside, 'bathroom-zone')).toEqual([]);
      expect(found(bathroom([south(3000, { kind, z: 1800 })], [thing('shower')]), 'bathroom-ip')).toEqual([]);
    },
  );

  it('a bath drawn on its wall counts too', () => {
    const onWall: Thing = {
      ...thing('bath'),
      place: { on: 'face', wall: 'w3', side: 'right', along0: 2200, along1: 3900, z0: 0, z1: 600 },
    };
    expect(found(bathroom([south(2000, { kind: 'data' })], [onWall]), 'bathroom-zone')).toHaveLength(1);
    expect(found(bathroom([south(3000, { kind: 'data' })], [onWall]), 'bathroom-not-checked')).toEqual([]);
  });
});

describe('a bathroom with nothing drawn', () => {
  it('is told once as not checked, whatever stands in it', () => {
    const told = found(bathroom([south(2000), { ...south(3000), id: 'p2' }], []), 'bathroom-not-checked');
    expect(told.map((f) => f.severity)).toEqual(['disputed']);
    expect(told[0]?.message).toContain('not checked');
    for (const kind of ['bath', 'shower', 'shower-head'] as const)
      expect(found(bathroom([south(2000)], [thing(kind)]), 'bathroom-not-checked')).toEqual([]);
  });

  it('other rooms are silent', () => {
    expect(found(plan([south(2000)], [], []), 'bathroom-not-checked')).toEqual([]);
  });
});

describe('shapes against a polygon library', () => {
  const circle = (x: number, y: number, r: number, n = 720): Ring =>
    Array.from({ length: n }, (_, i) => [
      x + r * Math.cos((2 * Math.PI * (i + 0.5)) / n),
      y + r * Math.sin((2 * Math.PI * (i + 0.5)) / n),
    ]);
  /** Everything within r of a rectangle: the two widened rectangles and a circle at each corner. */
  const widened = ([a, , c]: readonly { x: number; y: number }[], r: number): MultiPolygon => {
    const [x0, y0, x1, y1] = [a?.x ?? 0, a?.y ?? 0, c?.x ?? 0, c?.y ?? 0];
    const box = (p: number, q: number, s: number, t: number): [Ring] => [
      [
        [p, q],
        [s, q],
        [s, t],
        [p, t],
      ],
    ];
    return polygonClipping.union(
      box(x0 - r, y0, x1 + r, y1),
      box(x0, y0 - r, x1, y1 + r),
      ...[
        [x0, y0],
        [x1, y0],
        [x1, y1],
        [x0, y1],
      ].map(([x, y]): [Ring] => [circle(x as number, y as number, r)]),
    );
  };
  const holds = (shape: MultiPolygon, x: number, y: number): boolean =>
    shape.some(([outer, ...holes]) => {
      const within = (ring: Ring) =>
        pointInPolygon(
          { x, y },
          ring.map(([px, py]) => ({ x: px, y: py })),
          0,
        ) !== 'outside';
      return within(outer as Ring) && !holes.some(within);
    });

  it('zone 1, and zone 2 of the trays less zone 1, at random spots', () => {
    const random = seeded(freshSeed('bathroom shapes'));
    const tray = rectangle(0, 0, 1700, 700);
    const small = rectangle(2500, 200, 3400, 1100);
    const waters: readonly Water[] = [
      { kind: 'tray', outline: tray, rim: 0 },
      { kind: 'tray', outline: small, rim: 0 },
      { kind: 'head', at: { x: 800, y: 2600 }, z: 2000 },
    ];
    const ring = (o: typeof tray): [Ring] => [o.map(({ x, y }) => [x, y])];
    const one = polygonClipping.union(ring(tray), ring(small), [circle(800, 2600, 1200)]);
    const two = polygonClipping.difference(
      polygonClipping.union(widened(tray, 600), widened(small, 600)),
      one,
    );
    const seen = new Map<string, number>();
    for (let i = 0; i < 4000; i++) {
      const at = { x: random() * 5500 - 1000, y: random() * 5500 - 1000 };
      const { zone } = bathroomZone(at, at, 1000, waters);
      const expected = holds(one, at.x, at.y) ? 1 : holds(two, at.x, at.y) ? 2 : null;
      // A chord of the drawn circle lies r(1 - cos(π/720)) = 0.012 mm inside the true one.
      if (zone !== expected) {
        const nudged = [-0.02, 0.02].flatMap((d) => [
          bathroomZone({ x: at.x + d, y: at.y }, { x: at.x + d, y: at.y }, 1000, waters).zone,
          bathroomZone({ x: at.x, y: at.y + d }, { x: at.x, y: at.y + d }, 1000, waters).zone,
        ]);
        expect(nudged).toContain(expected);
      }
      seen.set(String(expected), (seen.get(String(expected)) ?? 0) + 1);
    }
    expect([...seen.keys()].sort()).toEqual(['1', '2', 'null']);
  });
});

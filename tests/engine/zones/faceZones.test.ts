import { describe, expect, it } from 'vitest';
import { faceZones } from '../../../src/engine/zones/faceZones.ts';
import type { Zone } from '../../../src/engine/zones/types.ts';
import { fabricOf } from './context.ts';
import { aFace, aPlan, aPoint, behind } from './faces.ts';

const box = (z: Zone | undefined) => z && [z.u0, z.u1, z.z0, z.z1];
const find = (zones: Zone[], source: Zone['source'], reverse = false) =>
  zones.find((z) => z.source === source && z.reverse === reverse);

// Figures: BS 7671 522.6.202. Plate of 86 x 86 mm: BS 1363/BS 4662 plates, from memory, the program's own default.
describe('zones of a face 3000 mm long and 2400 mm high', () => {
  it('without points: top band and one band at each angle, nothing at the floor', () => {
    const face = aFace('w1.right.0', { left: 'internal', right: 'external' });
    const zones = faceZones(aPlan([]), fabricOf([face]), face);
    expect(zones.map((z) => [z.source, z.status, ...(box(z) ?? [])])).toEqual([
      ['top', 'permitted', 0, 3000, 2250, 2400],
      ['angle-left', 'permitted', 0, 150, 0, 2400],
      ['angle-right', 'disputed', 2850, 3000, 0, 2400],
    ]);
    expect(zones[2]?.why).toContain('external');
  });

  it('an angle band ends at the top of the lower of its two walls', () => {
    const low = aFace('w1.right.0');
    const face = { ...low, left: { ...low.left, top: 1200 } };
    const zones = faceZones(aPlan([]), fabricOf([face]), face);
    expect(box(find(zones, 'angle-left'))).toEqual([0, 150, 0, 1200]);
    expect(box(find(zones, 'angle-right'))).toEqual([2850, 3000, 0, 2400]);
  });

  it.each([
    [170.1, 'disputed'],
    [169.9, 'permitted'],
    [189.9, 'disputed'],
  ])(
    'walls that meet at %d° make a band that is %s: below a bend of 10° nobody has ruled',
    (angle, status) => {
      const plain = aFace('w1.right.0');
      const kind = angle < 180 ? ('internal' as const) : ('external' as const);
      const face = { ...plain, left: { ...plain.left, kind, angle: (angle * Math.PI) / 180 } };
      expect(find(faceZones(aPlan([]), fabricOf([face]), face), 'angle-left')?.status).toBe(status);
    },
  );

  it('a strip whose width has no source is disputed until the size is typed, and then as wide as that', () => {
    const face = aFace('w1.right.0');
    const strips = (over: Parameters<typeof aPoint>[1]) =>
      faceZones(aPlan([aPoint('p1', over)]), fabricOf([face]), face).filter((z) => z.source === 'plumb');
    for (const kind of ['consumer-unit', 'extractor', 'wall-light'] as const) {
      expect(strips({ kind }).map((z) => z.status)).toEqual(['disputed']);
      const [typed] = strips({ kind, plate: { width: 200, height: 100 } });
      expect([typed?.status, typed?.u0, typed?.u1]).toEqual(['permitted', 900, 1100]);
    }
    expect(strips({ kind: 'socket' }).map((z) => z.status)).toEqual(['permitted']);
  });

  it.each([
    [1, 86, 'permitted'],
    [3, 86, 'permitted'],
    [4, 146, 'permitted'],
    [5, 146, 'disputed'],
  ] as const)('a switch of %d gangs: plate %d mm wide, %s (common practice)', (gangs, width, status) => {
    const face = aFace('w1.right.0');
    const doc = aPlan([aPoint('p1', { kind: 'switch-1way', gangs })]);
    const plumb = find(faceZones(doc, fabricOf([face]), face), 'plumb');
    expect([(plumb?.u1 ?? 0) - (plumb?.u0 ?? 0), plumb?.status]).toEqual([width, status]);
  });

  it.each([
    [true, 'room', ['permitted', 'permitted']],
    [null, 'room', ['disputed', 'disputed']],
    [false, 'room', []],
    [true, null, ['disputed', 'disputed']],
    [null, null, ['disputed', 'disputed']],
    [false, null, []],
  ])('points behind a thin wall, told from here %s, room %s: strips %o', (tellsBehind, room, statuses) => {
    const build = { thickness: 88, tellsBehind };
    const front = aFace('w1.right.0', { opposite: [behind('w1.left.0', 3000)], build, room });
    const back = aFace('w1.left.0', { opposite: [behind('w1.right.0', 3000)], build });
    const doc = aPlan([aPoint('p1', { side: 'left', along: 700, z: 1200 })]);
    const zones = faceZones(doc, fabricOf([front, back]), front).filter((z) => z.reverse);
    expect(zones.map((z) => z.status)).toEqual(statuses);
  });

  it('a free end and a straight step are no angle', () => {
    const face = aFace('w1.right.0', { left: 'free', right: 'straight' });
    expect(faceZones(aPlan([]), fabricOf([face]), face).map((z) => z.source)).toEqual(['top']);
  });

  it('a socket at 1000, 450: plumb 957 to 1043 full height, level 407 to 493 full length', () => {
    const face = aFace('w1.right.0');
    const zones = faceZones(aPlan([aPoint('p1')]), fabricOf([face]), face);
    expect(box(find(zones, 'plumb'))).toEqual([957, 1043, 0, 2400]);
    expect(box(find(zones, 'level'))).toEqual([0, 3000, 407, 493]);
    expect(find(zones, 'level')).toMatchObject({ status: 'permitted', point: 'p1', circuit: 'c1' });
  });

  it('a two-gang plate is 146 mm wide, and strips are clipped to the face', () => {
    const face = aFace('w1.right.0');
    const zones = faceZones(aPlan([aPoint('p1', { gangs: 2, along: 50, z: 20 })]), fabricOf([face]), face);
    expect(box(find(zones, 'plumb'))).toEqual([0, 123, 0, 2400]);
    expect(box(find(zones, 'level'))).toEqual([0, 3000, 0, 63]);
  });

  it('hidden points and blank plates are disputed; a concealed joint makes no strip', () => {
    const face = aFace('w1.right.0');
    const points = [
      aPoint('p1', { visible: false }),
      aPoint('p2', { kind: 'blank-plate' }),
      aPoint('p3', { kind: 'joint' }),
    ];
    const zones = faceZones(aPlan(points), fabricOf([face]), face).filter((z) => z.point !== null);
    expect(zones.map((z) => [z.point, z.status])).toEqual([
      ['p1', 'disputed'],
      ['p1', 'disputed'],
      ['p2', 'disputed'],
      ['p2', 'disputed'],
    ]);
  });

  it('a point on the other side of the same wall gives nothing when the wall is 145 mm thick', () => {
    const [front, back] = [
      aFace('w1.right.0', { opposite: [behind('w1.left.0', 3000)] }),
      aFace('w1.left.0', { opposite: [behind('w1.right.0', 3000)] }),
    ];
    const zones = faceZones(aPlan([aPoint('p1', { side: 'left' })]), fabricOf([front, back]), front);
    expect(zones.filter((z) => z.point !== null)).toEqual([]);
  });

  it.each([
    [88, 2],
    [100, 2],
    [100.1, 0],
  ])('wall of %d mm: %d reverse strips (522.6.202: 100 mm or less)', (thickness, count) => {
    const build = { thickness };
    const [front, back] = [
      aFace('w1.right.0', { opposite: [behind('w1.left.0', 3000)], build }),
      aFace('w1.left.0', { opposite: [behind('w1.right.0', 3000)], build }),
    ];
    const doc = aPlan([aPoint('p1', { side: 'left', along: 700, z: 1200 })]);
    const zones = faceZones(doc, fabricOf([front, back]), front).filter((z) => z.reverse);
    expect(zones).toHaveLength(count);
    if (count > 0) {
      // Along 700 on the wall is u = 700 on the right side, and 2300 on the left one.
      expect(box(find(zones, 'plumb', true))).toEqual([657, 743, 0, 2400]);
      expect(box(find(zones, 'level', true))).toEqual([0, 3000, 1157, 1243]);
    }
  });

  it('a reverse strip keeps to the thin stretch', () => {
    const front = aFace('w1.right.0', {
      pieces: [
        { wall: 'w1', side: 'right', u0: 0, u1: 1200, alongAtU0: 0, alongAtU1: 1200 },
        { wall: 'w2', side: 'right', u0: 1200, u1: 3000, alongAtU0: 0, alongAtU1: 1800 },
      ],
      builds: [
        {
          wall: 'w1',
          buildUp: 'x',
          thickness: 88,
          metal: false,
          masonry: false,
          coverNear: 12.5,
          coverFar: 12.5,
          tellsBehind: true,
        },
        {
          wall: 'w2',
          buildUp: 'x',
          thickness: 145,
          metal: false,
          masonry: true,
          coverNear: 12.5,
          coverFar: 90,
          tellsBehind: true,
        },
      ],
      opposite: [behind('w1.left.0', 3000)],
    });
    const back = aFace('w1.left.0');
    const doc = aPlan([aPoint('p1', { side: 'left', along: 700, z: 1200 })]);
    const zones = faceZones(doc, fabricOf([front, back]), front).filter((z) => z.reverse);
    expect(box(find(zones, 'level', true))).toEqual([0, 1200, 1157, 1243]);
  });

  it('under a sloping top the band is a disputed quadrilateral, and the rest is cut to the slope', () => {
    const face = aFace('w1.right.0', {
      top: [
        { u: 0, z: 2400 },
        { u: 3000, z: 900 },
      ],
      sloped: true,
    });
    const zones = faceZones(aPlan([aPoint('p1', { along: 1000, z: 450 })]), fabricOf([face]), face);
    const top = find(zones, 'top');
    expect(top?.status).toBe('disputed');
    expect(top?.outline).toEqual([
      { u: 0, z: 2250 },
      { u: 3000, z: 750 },
      { u: 3000, z: 900 },
      { u: 0, z: 2400 },
    ]);
    // Top at 957 is 2400 - 957/2 = 1921.5, at 1043 it is 1878.5.
    const plumb = find(zones, 'plumb');
    const corners = plumb?.outline.map((p) => `${p.u} ${p.z.toFixed(6)}`).sort();
    expect(corners).toEqual(['1043 0.000000', '1043 1878.500000', '957 0.000000', '957 1921.500000']);
  });

  it('the end of a wall is disputed', () => {
    const cap = aFace('w1.from.0', {
      length: 145,
      pieces: [],
      builds: [],
      left: 'external',
      right: 'external',
    });
    const zones = faceZones(aPlan([]), fabricOf([cap]), cap);
    expect(zones.map((z) => z.status)).toEqual(['disputed']);
  });

  it('mirrored walls have mirrored zones', () => {
    const points = [aPoint('p1', { along: 640, z: 450, gangs: 2 }), aPoint('p2', { along: 2100, z: 1200 })];
    const mirrored = points.map((p) => ({
      ...p,
      place: p.place.on === 'face' ? { ...p.place, along: 3000 - p.place.along } : p.place,
    }));
    const face = aFace('w1.right.0', { left: 'internal', right: 'free' });
    const mirror = aFace('w1.right.0', { left: 'free', right: 'internal' });
    const here = faceZones(aPlan(points), fabricOf([face]), face);
    const there = faceZones(aPlan(mirrored), fabricOf([mirror]), mirror);
    const flip = { 'angle-left': 'angle-right', 'angle-right': 'angle-left' } as Record<string, string>;
    const rows = (zones: Zone[], mirror: boolean) =>
      zones
        .map((z) =>
          mirror
            ? [flip[z.source] ?? z.source, z.point, 3000 - z.u1, 3000 - z.u0, z.z0, z.z1]
            : [z.source, z.point, z.u0, z.u1, z.z0, z.z1],
        )
        .map((r) => r.join(' '))
        .sort();
    expect(rows(here, true)).toEqual(rows(there, false));
  });
});

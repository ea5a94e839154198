import { describe, expect, test } from 'vitest';
import { buildFabric } from '../../../src/engine/fabric/build.ts';
import { alongOfU, faceAt, facePlan, roomAt, topAt, uOfAlong } from '../../../src/engine/fabric/lookup.ts';
import { teesOf } from '../../../src/engine/fabric/tees.ts';
import type { Fabric, Face } from '../../../src/engine/fabric/types.ts';
import {
  faceSurfacePoint,
  placeInSpace,
  wallFrame,
  wallTopAt,
} from '../../../src/engine/fabric/wallFrame.ts';
import type { PlanDocument, Wall } from '../../../src/engine/model/document.ts';
import { buildUpOf, planOf } from './plans.ts';

const face = (fabric: Fabric, id: string): Face => {
  const found = fabric.faces.get(id);
  if (!found) throw new Error(`no face ${id}: ${[...fabric.faces.keys()].join(' ')}`);
  return found;
};
const near = (p: { x: number; y: number }, x: number, y: number): void => {
  expect(p.x).toBeCloseTo(x, 6);
  expect(p.y).toBeCloseTo(y, 6);
};

/**
 * 9 x 5 m on centre lines, walls clockwise on screen, so that their right sides face in. Block all round, 166 mm (half
 * 83), and an 88 mm stud partition (half 44) from the middle of the north wall to that of the south wall.
 */
const BOX = {
  nodes: {
    a: [0, 0],
    b: [9000, 0],
    c: [9000, 5000],
    d: [0, 5000],
    m: [4000, 0],
    n: [4000, 5000],
  },
  walls: {
    north: ['a', 'b', 'block-plaster'],
    east: ['b', 'c', 'block-plaster'],
    south: ['c', 'd', 'block-plaster'],
    west: ['d', 'a', 'block-plaster'],
  },
} as const;
const boxOnly = planOf(BOX);
const teed = planOf({ nodes: BOX.nodes, walls: { ...BOX.walls, part: ['m', 'n', 'timber-stud'] } });

describe('a box of 9 x 5 m in 166 mm walls', () => {
  const fabric = buildFabric(boxOnly, 's1');

  test('one room of (9000 - 166) x (5000 - 166)', () => {
    expect(fabric.rooms.size).toBe(1);
    const room = [...fabric.rooms.values()][0];
    expect(room?.area).toBeCloseTo(8834 * 4834, 3);
    expect(room?.faces).toEqual(['east.right.0', 'south.right.0', 'west.right.0', 'north.right.0']);
    expect(fabric.outside).toEqual([['east.left.0', 'north.left.0', 'west.left.0', 'south.left.0']]);
  });

  test('inside faces: u runs along the wall; corners internal, 90°', () => {
    const north = face(fabric, 'north.right.0');
    expect(north.length).toBeCloseTo(8834, 6);
    near(north.a, 83, 83);
    near(north.b, 8917, 83);
    expect(north.left.kind).toBe('internal');
    expect(north.left.angle).toBeCloseTo(Math.PI / 2, 9);
    expect(north.left.next).toBe('west.right.0');
    expect(north.right.next).toBe('east.right.0');
    expect(north.pieces).toEqual([
      { wall: 'north', side: 'right', u0: 0, u1: 8834, alongAtU0: 83, alongAtU1: 8917 },
    ]);
    expect(north.top).toEqual([
      { u: 0, z: 2400 },
      { u: 8834, z: 2400 },
    ]);
    expect(north.sloped).toBe(false);
  });

  test('outside faces: longer by the thickness, u against the wall; corners external, 270°', () => {
    const north = face(fabric, 'north.left.0');
    expect(north.length).toBeCloseTo(9166, 6);
    expect(north.room).toBeNull();
    near(north.a, 9083, -83);
    near(north.b, -83, -83);
    expect(north.left.kind).toBe('external');
    expect(north.left.angle).toBeCloseTo(1.5 * Math.PI, 9);
    expect(north.pieces[0]?.alongAtU0).toBeCloseTo(9083, 6);
    expect(north.pieces[0]?.alongAtU1).toBeCloseTo(-83, 6);
    // Behind it the room's north wall, from 83 + 83 to 9083 - 83, the other way round.
    expect(north.opposite).toHaveLength(1);
    expect(north.opposite[0]).toMatchObject({ face: 'north.right.0', u0: 166, u1: 9000 });
    expect(north.opposite[0]?.otherAtU0).toBeCloseTo(8834, 6);
    expect(north.opposite[0]?.otherAtU1).toBeCloseTo(0, 6);
  });
});

describe('a tee: an 88 mm partition between the two long walls', () => {
  const fabric = buildFabric(teed, 's1');

  test('two rooms: 3873 and 4873 wide (4000 - 83 - 44, 5000 - 44 - 83)', () => {
    const areas = [...fabric.rooms.values()].map((r) => r.area).sort((x, y) => x - y);
    expect(areas[0]).toBeCloseTo(3873 * 4834, 3);
    expect(areas[1]).toBeCloseTo(4873 * 4834, 3);
  });

  test('the side it meets is split, the other is not', () => {
    expect(face(fabric, 'north.right.0').length).toBeCloseTo(3873, 6);
    expect(face(fabric, 'north.right.1').length).toBeCloseTo(4873, 6);
    expect(face(fabric, 'north.left.0').length).toBeCloseTo(9166, 6);
    expect(face(fabric, 'north.right.0').right).toMatchObject({ kind: 'internal', next: 'part.right.0' });
    expect(face(fabric, 'north.right.1').left).toMatchObject({ kind: 'internal', next: 'part.left.0' });
    expect(face(fabric, 'north.left.0').opposite.map((o) => o.face)).toEqual([
      'north.right.1',
      'north.right.0',
    ]);
  });

  test('partition: 4834 each side, its far side straight behind', () => {
    const left = face(fabric, 'part.left.0');
    expect(left.length).toBeCloseTo(4834, 6);
    // Going down the screen, the left side looks east: facing it, the left-hand end is at the south.
    expect(left.pieces[0]?.alongAtU0).toBeCloseTo(4917, 6);
    expect(left.opposite[0]).toMatchObject({ face: 'part.right.0' });
    expect(left.opposite[0]?.otherAtU0).toBeCloseTo(4834, 6);
  });

  test('a node between the surfaces counts as standing on the wall, one outside does not', () => {
    const at = (y: number): Fabric =>
      buildFabric(
        planOf({ nodes: { ...BOX.nodes, m: [4000, y] }, walls: { ...BOX.walls, part: ['m', 'n'] } }),
        's1',
      );
    expect(at(83).rooms.size).toBe(2);
    expect(at(-83).rooms.size).toBe(2);
    expect(face(at(40), 'part.left.0').length).toBeCloseTo(4834, 6);
    const apart = at(85);
    expect(apart.rooms.size).toBe(1);
    expect(face(apart, 'part.from.0').length).toBeCloseTo(88, 6);
  });

  test('what stands on a wall', () => {
    expect(teesOf(teed, 'north')).toEqual([{ node: 'm', along: 4000, off: 0 }]);
    expect(teesOf(teed, 'part')).toEqual([]);
    expect(teesOf(teed, 'nowhere')).toEqual([]);
  });

  test('there and back: along, u and plan', () => {
    const hit = faceAt(fabric, 'north', 'right', 6044);
    expect(hit?.face.id).toBe('north.right.1');
    expect(hit?.u).toBeCloseTo(2000, 6);
    expect(faceAt(fabric, 'north', 'right', 4000)).toBeNull();
    expect(faceAt(fabric, 'north', 'right', 4043)?.u).toBe(0);
    expect(faceAt(fabric, 'north', 'left', 4000)?.u).toBeCloseTo(5083, 6);
    const f = face(fabric, 'north.right.1');
    expect(uOfAlong(f, 'north', 'right', 6044)).toBeCloseTo(2000, 6);
    expect(uOfAlong(f, 'north', 'left', 6044)).toBeNull();
    expect(alongOfU(f, 2000)).toMatchObject({ wall: 'north', side: 'right' });
    expect(alongOfU(f, 2000)?.along).toBeCloseTo(6044, 6);
    near(facePlan(f, 2000), 6044, 83);
    expect(topAt(f, 2000)).toBe(2400);
    expect(roomAt(fabric, { x: 1000, y: 1000 })?.faces).toContain('north.right.0');
    expect(roomAt(fabric, { x: 4000, y: 1000 })).toBeNull();
    expect(roomAt(fabric, { x: -500, y: 1000 })).toBeNull();
  });
});

describe('cross, step, free end, island', () => {
  test('two walls that cross without a node: both sides of both are split', () => {
    const doc = planOf({
      nodes: { ...BOX.nodes, e: [0, 2000], f: [9000, 2000] },
      walls: { ...BOX.walls, part: ['m', 'n'], across: ['e', 'f'] },
    });
    const fabric = buildFabric(doc, 's1');
    expect(fabric.rooms.size).toBe(4);
    // 2000 - 83 - 44 and 3000 - 44 - 83 high; 3873 and 4873 wide.
    const areas = [...fabric.rooms.values()].map((r) => Math.round(r.area)).sort((x, y) => x - y);
    expect(areas).toEqual([3873 * 1873, 4873 * 1873, 3873 * 2873, 4873 * 2873].sort((x, y) => x - y));
    for (const id of [
      'part.left.0',
      'part.left.1',
      'part.right.0',
      'part.right.1',
      'across.left.0',
      'across.left.1',
    ])
      expect(face(fabric, id).left.kind).toBe('internal');
    expect(face(fabric, 'across.right.1').length).toBeCloseTo(4873, 6);
  });

  test('in line, 166 mm then 88 mm: a step, its ends straight; the same thickness: one face of two pieces', () => {
    const nodes = { a: [0, 0], b: [3000, 0], c: [5000, 0] } as const;
    const step = buildFabric(
      planOf({ nodes, walls: { thick: ['a', 'b', 'block-plaster'], thin: ['b', 'c', 'timber-stud'] } }),
      's1',
    );
    const thick = face(step, 'thick.right.0');
    expect(thick.length).toBeCloseTo(3000, 6);
    expect(thick.right).toMatchObject({ kind: 'straight', next: 'thin.right.0' });
    expect(thick.right.angle).toBeCloseTo(Math.PI, 9);
    near(thick.b, 3000, 83);
    near(face(step, 'thin.right.0').a, 3000, 44);
    const one = buildFabric(
      planOf({
        nodes,
        walls: {
          p: ['a', 'b', 'timber-stud'],
          q: ['b', 'c', 'timber-stud', { top: { kind: 'level', z: 2000 } }],
        },
      }),
      's1',
    );
    const joined = face(one, 'p.right.0');
    expect(joined.length).toBeCloseTo(5000, 6);
    expect(joined.pieces.map((x) => [x.wall, x.u0, x.u1])).toEqual([
      ['p', 0, 3000],
      ['q', 3000, 5000],
    ]);
    expect(joined.builds.map((x) => x.wall)).toEqual(['p', 'q']);
    expect(joined.top).toEqual([
      { u: 0, z: 2400 },
      { u: 3000, z: 2400 },
      { u: 3000, z: 2000 },
      { u: 5000, z: 2000 },
    ]);
    expect(topAt(joined, 3000)).toBe(2000);
    // On the other side the faces read the other way: q comes first.
    expect(face(one, 'q.left.0').pieces.map((x) => x.wall)).toEqual(['q', 'p']);
  });

  test('a wall on its own: two sides, two caps, all ends free, in no room', () => {
    const fabric = buildFabric(
      planOf({ nodes: { a: [0, 0], b: [3000, 0] }, walls: { w: ['a', 'b'] } }),
      's1',
    );
    expect([...fabric.faces.keys()]).toEqual(['w.from.0', 'w.left.0', 'w.right.0', 'w.to.0']);
    expect(fabric.outside).toEqual([['w.from.0', 'w.right.0', 'w.to.0', 'w.left.0']]);
    for (const f of fabric.faces.values()) {
      expect([f.left.kind, f.right.kind]).toEqual(['free', 'free']);
      expect(f.left.angle).toBeCloseTo(1.5 * Math.PI, 9);
    }
    expect(face(fabric, 'w.right.0').length).toBe(3000);
    expect(face(fabric, 'w.to.0').length).toBe(88);
    expect(face(fabric, 'w.to.0').pieces).toEqual([]);
  });

  test('an island takes its area from the room and belongs to it', () => {
    const doc = planOf({
      nodes: { ...BOX.nodes, p: [2000, 2000], q: [4000, 2000] },
      walls: { ...BOX.walls, pier: ['p', 'q', 'block-plaster'] },
    });
    const room = [...buildFabric(doc, 's1').rooms.values()][0];
    expect(room?.area).toBeCloseTo(8834 * 4834 - 2000 * 166, 3);
    expect(room?.islands).toEqual([['pier.from.0', 'pier.right.0', 'pier.to.0', 'pier.left.0']]);
    expect(room?.holes).toHaveLength(1);
    expect(buildFabric(doc, 's1').faces.get('pier.left.0')?.room).toBe(room?.id);
  });

  test('mixed thickness at a corner: each face ends at the other wall’s surface', () => {
    const fabric = buildFabric(
      planOf({
        nodes: { a: [0, 0], b: [4000, 0], c: [4000, 3000], d: [0, 3000] },
        walls: {
          n: ['a', 'b', 'block-plaster'],
          e: ['b', 'c', 'timber-stud'],
          s: ['c', 'd', 'block-plaster'],
          w: ['d', 'a', 'timber-stud'],
        },
      }),
      's1',
    );
    expect(face(fabric, 'n.right.0').length).toBeCloseTo(4000 - 88, 6);
    expect(face(fabric, 'e.right.0').length).toBeCloseTo(3000 - 166, 6);
    expect(face(fabric, 'e.left.0').length).toBeCloseTo(3000 + 166, 6);
  });

  test('a very sharp outer corner is cut off at four half thicknesses past the node', () => {
    // 10°: a full mitre would stand 44 / tan 5° = 503 mm past the node.
    const far = { x: 5000 * Math.cos(Math.PI / 18), y: 5000 * Math.sin(Math.PI / 18) };
    const fabric = buildFabric(
      planOf({
        nodes: { o: [0, 0], a: [5000, 0], b: [far.x, far.y] },
        walls: { p: ['o', 'a'], q: ['o', 'b'] },
      }),
      's1',
    );
    const outer = face(fabric, 'p.left.0');
    expect(outer.right).toMatchObject({ kind: 'external', next: 'q.right.0' });
    near(outer.b, -176, -44);
    // Inside the surfaces do meet, 503 mm out.
    const inner = face(fabric, 'p.right.0');
    expect(inner.left.kind).toBe('internal');
    near(inner.a, 44 / Math.tan(Math.PI / 36), 44);
  });

  test('a nook between parallel walls closer than their thickness is no room', () => {
    const fabric = buildFabric(
      planOf({
        nodes: { a: [0, 0], b: [4000, 0], c: [4000, 100], d: [0, 100] },
        walls: {
          n: ['a', 'b', 'block-plaster'],
          e: ['b', 'c', 'block-plaster'],
          s: ['c', 'd', 'block-plaster'],
          w: ['d', 'a', 'block-plaster'],
        },
      }),
      's1',
    );
    expect(fabric.rooms.size).toBe(0);
  });
});

describe('openings, covers, tops, tags, space', () => {
  test('an opening is clipped to each face, as it is seen from there', () => {
    const doc = planOf({
      ...BOX,
      openings: [
        { id: 'door', wall: 'north', kind: 'door', along: 1000, width: 800, sill: 0, head: 2000 },
        { id: 'wide', wall: 'north', kind: 'opening', along: 8500, width: 2000, sill: -50, head: 9999 },
      ],
    });
    const fabric = buildFabric(doc, 's1');
    // Inside u = along - 83; the wide one is cut at the face's end, the floor and the top.
    expect(face(fabric, 'north.right.0').openings).toEqual([
      { id: 'door', kind: 'door', u0: 917, u1: 1717, z0: 0, z1: 2000 },
      { id: 'wide', kind: 'opening', u0: 8417, u1: 8834, z0: 0, z1: 2400 },
    ]);
    // Outside u = 9083 - along; there the wide one is cut at the end of the wall's centre line.
    expect(face(fabric, 'north.left.0').openings).toEqual([
      { id: 'door', kind: 'door', u0: 7283, u1: 8083, z0: 0, z1: 2000 },
      { id: 'wide', kind: 'opening', u0: 83, u1: 583, z0: 0, z1: 2400 },
    ]);
  });

  test('covers: near is what lies over the cable layer of that side, far the rest, and a flip swaps them', () => {
    // timber-void, from its left: board 12.5, battened void 50 (cables), membrane 0.5, stud 140, sheathing 9, cladding 45.
    const of = (flipped: boolean): Fabric =>
      buildFabric(
        planOf({ nodes: { a: [0, 0], b: [3000, 0] }, walls: { w: ['a', 'b', 'timber-void', { flipped }] } }),
        's1',
      );
    const build = (f: Fabric, id: string) => face(f, id).builds[0];
    expect(build(of(false), 'w.left.0')).toMatchObject({ thickness: 257, coverNear: 12.5, coverFar: 194.5 });
    expect(build(of(false), 'w.right.0')).toMatchObject({ coverNear: 194.5, coverFar: 12.5 });
    expect(build(of(true), 'w.left.0')).toMatchObject({ coverNear: 194.5, coverFar: 12.5, metal: false });
    const metal = buildFabric(
      planOf({ nodes: { a: [0, 0], b: [3000, 0] }, walls: { w: ['a', 'b', 'metal-stud'] } }),
      's1',
    );
    expect(build(metal, 'w.left.0')).toMatchObject({
      metal: true,
      masonry: false,
      coverNear: 12.5,
      coverFar: 12.5,
    });
  });

  test('a sloped top goes on past the ends of the centre line', () => {
    const top: Wall['top'] = { kind: 'sloped', zFrom: 2000, zTo: 3000 };
    const doc = planOf({ ...BOX, walls: { ...BOX.walls, north: ['a', 'b', 'block-plaster', { top }] } });
    const fabric = buildFabric(doc, 's1');
    const f = face(fabric, 'north.right.0');
    expect(f.sloped).toBe(true);
    expect(f.top[0]?.z).toBeCloseTo(2000 + 83 / 9, 6);
    expect(topAt(f, 4417)).toBeCloseTo(2500, 6);
    const frame = wallFrame(doc, doc.walls.byId['north'] as Wall);
    expect(frame && wallTopAt(frame, 4500)).toBe(2500);
  });

  test('a tag names the room that holds it; of two in one room the smaller id', () => {
    const tag = (id: string, x: number) => ({
      id,
      storey: 's1',
      x,
      y: 1000,
      name: id,
      use: 'other' as const,
    });
    const doc = planOf({
      nodes: BOX.nodes,
      walls: { ...BOX.walls, part: ['m', 'n'] },
      tags: [tag('t3', 1500), tag('t1', 1000), tag('t2', 6000), tag('t4', -900)],
    });
    const fabric = buildFabric(doc, 's1');
    expect(roomAt(fabric, { x: 1000, y: 1000 })?.tag?.id).toBe('t1');
    expect(roomAt(fabric, { x: 6000, y: 1000 })?.tag?.id).toBe('t2');
  });

  test('places in space: surface for points, cable height for corners, on top of the storey’s level', () => {
    const doc: PlanDocument = planOf(BOX);
    const s1 = { ...(doc.storeys.byId['s1'] as PlanDocument['storeys']['byId'][string]), level: 3000 };
    const up: PlanDocument = { ...doc, storeys: { order: ['s1'], byId: { s1 } } };
    const ceiling = { on: 'ceiling', storey: 's1', x: 1, y: 2 } as const;
    expect(placeInSpace(up, ceiling, 'point')).toEqual({ x: 1, y: 2, z: 5400 });
    expect(placeInSpace(up, ceiling, 'corner')).toEqual({ x: 1, y: 2, z: 5500 });
    expect(placeInSpace(up, { ...ceiling, on: 'floor' }, 'point')?.z).toBe(3000);
    const onFace = { on: 'face', wall: 'north', side: 'right', along: 1000, z: 450 } as const;
    expect(placeInSpace(up, onFace, 'point')).toEqual({ x: 1000, y: 83, z: 3450 });
    expect(placeInSpace(up, { ...onFace, wall: 'gone' }, 'point')).toBeNull();
    const frame = wallFrame(up, up.walls.byId['north'] as Wall);
    if (!frame) throw new Error('no frame');
    near(faceSurfacePoint(frame, 'left', 1000), 1000, -83);
    expect(buildUpOf('x', 100).layers.reduce((s, l) => s + l.thickness, 0)).toBe(100);
  });
});

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { buildFabric } from '../../../src/engine/fabric/build.ts';
import type { Fabric, Face } from '../../../src/engine/fabric/types.ts';
import { rigidApply, rigidQuarter } from '../../../src/engine/geometry/transform.ts';
import type { Rigid } from '../../../src/engine/geometry/transform.ts';
import type { PlanDocument, Table, Wall, WallNode } from '../../../src/engine/model/document.ts';
import { planOf } from './plans.ts';
import { randomPlan } from './randomPlans.ts';

// fast-check prints the failing seed and path itself.
const anyPlan = fc
  .record({ seed: fc.integer({ min: 1, max: 1e6 }), skew: fc.boolean() })
  .map(({ seed, skew }) => randomPlan(seed, skew).doc);
const RUNS = { numRuns: 60 };

function mapTable<T>(table: Table<T>, f: (record: T) => T): Table<T> {
  return {
    order: table.order,
    byId: Object.fromEntries(table.order.map((id) => [id, f(table.byId[id] as T)])),
  };
}
const moved = (doc: PlanDocument, t: Rigid): PlanDocument => ({
  ...doc,
  nodes: mapTable(doc.nodes, (n) => ({ ...n, ...rigidApply(t, n) })),
});

/** Everything of a face but where it is. */
const shape = (f: Face) => ({
  length: f.length,
  left: f.left.kind,
  right: f.right.kind,
  nextLeft: f.left.next,
  nextRight: f.right.next,
  room: f.room,
  pieces: f.pieces,
  builds: f.builds,
  opposite: f.opposite,
  top: f.top,
});

/** The same but for rounding: numbers within 1e-5, all else equal. */
function expectAlike(a: unknown, b: unknown, where: string): void {
  if (typeof a === 'number' && typeof b === 'number') {
    if (Math.abs(a - b) > 1e-5) expect(a, where).toBe(b);
  } else if (a !== null && b !== null && typeof a === 'object' && typeof b === 'object') {
    expect(Object.keys(a).sort(), where).toEqual(Object.keys(b).sort());
    for (const k of Object.keys(a)) expectAlike((a as never)[k], (b as never)[k], `${where}.${k}`);
  } else expect(a, where).toBe(b);
}

function expectSame(a: Fabric, b: Fabric): void {
  expect([...b.faces.keys()]).toEqual([...a.faces.keys()]);
  expect([...b.rooms.keys()]).toEqual([...a.rooms.keys()]);
  expect(b.outside).toEqual(a.outside);
  for (const [id, f] of a.faces) expectAlike(shape(f), shape(b.faces.get(id) as Face), id);
  for (const [id, room] of a.rooms) {
    const other = b.rooms.get(id);
    expect(Math.abs(room.area - (other?.area ?? NaN))).toBeLessThan(0.01);
    expect(other?.faces).toEqual(room.faces);
  }
}

describe('a plan moved, turned or mirrored', () => {
  test('a shift and quarter turns change no length, area, end or neighbour', () => {
    fc.assert(
      fc.property(
        anyPlan,
        fc.integer({ min: 0, max: 3 }),
        fc.integer({ min: -50000, max: 50000 }),
        fc.integer({ min: -50000, max: 50000 }),
        (doc, turns, dx, dy) => {
          expectSame(buildFabric(doc, 's1'), buildFabric(moved(doc, rigidQuarter(turns, dx, dy)), 's1'));
        },
      ),
      RUNS,
    );
  });

  test('a mirrored plan has mirrored faces: sides and ends change places', () => {
    fc.assert(
      fc.property(anyPlan, (doc) => {
        const plain = buildFabric(doc, 's1');
        const mirror = buildFabric(moved(doc, rigidQuarter(0, 0, 0, true)), 's1');
        // Left and right of each wall change places; end caps keep their names.
        const key = (f: Face, swap: boolean): string =>
          JSON.stringify([
            f.pieces
              .map((p) => [
                p.wall,
                swap ? (p.side === 'left' ? 'right' : 'left') : p.side,
                ...[p.alongAtU0, p.alongAtU1].map((x) => Math.round(x * 1000) / 1000 + 0).sort(),
              ])
              .sort(),
            f.pieces.length === 0 ? f.id : '',
            Math.round(f.length * 1000) / 1000,
            swap ? [f.right.kind, f.left.kind] : [f.left.kind, f.right.kind],
          ]);
        const one = [...plain.faces.values()].map((f) => key(f, false)).sort();
        const two = [...mirror.faces.values()].map((f) => key(f, true)).sort();
        expect(two).toEqual(one);
        const areas = (f: Fabric) =>
          [...f.rooms.values()].map((r) => Math.round(r.area)).sort((a, b) => a - b);
        expect(areas(mirror)).toEqual(areas(plain));
      }),
      RUNS,
    );
  });
});

describe('the same walls written otherwise', () => {
  test('a wall split in two in line changes no face and no room', () => {
    fc.assert(
      fc.property(anyPlan, fc.nat(), fc.double({ min: 0.02, max: 0.98, noNaN: true }), (doc, pick, t) => {
        const wall = doc.walls.byId[doc.walls.order[pick % doc.walls.order.length] as string] as Wall;
        const [a, b] = [doc.nodes.byId[wall.from] as WallNode, doc.nodes.byId[wall.to] as WallNode];
        const node: WallNode = { ...a, id: 'cut', x: a.x + (b.x - a.x) * t, y: a.y + (b.y - a.y) * t };
        const rest: Wall = { ...wall, id: 'rest', from: 'cut' };
        const split: PlanDocument = {
          ...doc,
          nodes: { order: [...doc.nodes.order, 'cut'], byId: { ...doc.nodes.byId, cut: node } },
          walls: {
            order: [...doc.walls.order, 'rest'],
            byId: { ...doc.walls.byId, [wall.id]: { ...wall, to: 'cut' }, rest },
          },
        };
        const key = (f: Face): string =>
          [f.a.x, f.a.y, f.b.x, f.b.y, f.length]
            .map((v) => (Math.round(v * 100) / 100 + 0).toFixed(2))
            .concat(f.left.kind, f.right.kind)
            .join(' ');
        const faces = (f: Fabric) => [...f.faces.values()].map(key).sort();
        const [before, after] = [buildFabric(doc, 's1'), buildFabric(split, 's1')];
        expect(faces(after)).toEqual(faces(before));
        expect(after.rooms.size).toBe(before.rooms.size);
      }),
      RUNS,
    );
  });

  test('the order of the tables does not matter', () => {
    fc.assert(
      fc.property(anyPlan, (doc) => {
        const turned: PlanDocument = {
          ...doc,
          nodes: { ...doc.nodes, order: doc.nodes.order.toReversed() },
          walls: { ...doc.walls, order: doc.walls.order.toReversed() },
        };
        expect(buildFabric(turned, 's1')).toEqual(buildFabric(doc, 's1'));
      }),
      RUNS,
    );
  });
});

describe('bad graphs', () => {
  const coordinate = fc.oneof(
    fc.integer({ min: 0, max: 12 }).map((v) => v * 250),
    fc.constantFrom(0.4, 249.7, NaN, Infinity, 1e12),
  );
  const junk = fc
    .record({
      nodes: fc.array(fc.tuple(coordinate, coordinate), { minLength: 1, maxLength: 10 }),
      walls: fc.array(
        fc.tuple(fc.nat(11), fc.nat(11), fc.constantFrom('timber-stud', 'block-plaster', 'gone')),
        {
          maxLength: 16,
        },
      ),
    })
    .map(({ nodes, walls }) =>
      planOf({
        nodes: Object.fromEntries(nodes.map((n, i) => [`n${i}`, n])),
        walls: Object.fromEntries(walls.map(([p, q, b], i) => [`w${i}`, [`n${p}`, `n${q}`, b] as const])),
      }),
    );

  test('walls of no length, twice, overlapping, dangling: never throws, and what comes out holds together', () => {
    fc.assert(
      fc.property(junk, (doc) => {
        const fabric = buildFabric(doc, 's1');
        expect(buildFabric(doc, 's1')).toEqual(fabric);
        for (const f of fabric.faces.values()) {
          expect(f.length).toBeGreaterThan(0);
          expect(Number.isFinite(f.length)).toBe(true);
          expect(fabric.faces.has(f.left.next ?? '')).toBe(true);
          expect(fabric.faces.get(f.left.next ?? '')?.right.next).toBe(f.id);
          expect(f.builds).toHaveLength(f.pieces.length);
          let u = 0;
          for (const p of f.pieces) {
            expect(p.u0).toBe(u);
            u = p.u1;
          }
          if (f.pieces.length > 0) expect(u).toBe(f.length);
          for (const o of f.opposite) expect(fabric.faces.has(o.face)).toBe(true);
        }
        for (const room of fabric.rooms.values())
          for (const id of room.faces) expect(fabric.faces.get(id)?.room).toBe(room.id);
      }),
      { numRuns: 1500 },
    );
  });

  test('the same wall three times is one wall', () => {
    const nodes = { a: [0, 0], b: [3000, 0], c: [3000, 0.4] } as const;
    const fabric = buildFabric(
      planOf({
        nodes,
        walls: { w1: ['a', 'b'], w2: ['b', 'a'], w3: ['a', 'c'], w4: ['b', 'c'], w5: ['b', 'zz'] },
      }),
      's1',
    );
    expect([...fabric.faces.keys()]).toEqual(['w1.from.0', 'w1.left.0', 'w1.right.0', 'w1.to.0']);
  });

  test('overlapping walls in line: the thicker stands where they overlap', () => {
    const nodes = { a: [0, 0], b: [3000, 0], c: [2000, 0], d: [5000, 0] } as const;
    const fabric = buildFabric(
      planOf({ nodes, walls: { thin: ['a', 'b', 'timber-stud'], thick: ['c', 'd', 'block-plaster'] } }),
      's1',
    );
    expect(fabric.faces.get('thin.right.0')?.length).toBeCloseTo(2000, 6);
    expect(fabric.faces.get('thick.right.0')?.length).toBeCloseTo(3000, 6);
  });
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { boxOf } from '../../src/tools/boxIndex.ts';
import { pickAll, pickArea, pickPlan, pickScene, segmentMeetsBox } from '../../src/tools/pick.ts';
import { planShapes } from '../../src/tools/planShapes.ts';
import { selectTool } from '../../src/tools/select/selectTool.ts';
import { World, deriveFor } from './run/world.ts';
import { addRun } from '../../src/document/commands/runs.ts';
import { planOf } from '../engine/fabric/plans.ts';

function studio() {
  const world = new World(selectTool);
  const a = world.point('socket', 'top', 'right', 1000, 450);
  const b = world.point('socket', 'top', 'right', 3000, 450);
  world.ceilingPoint('ceiling-light', 2000, 1500);
  const run = world.do(
    addRun({
      from: a,
      to: b,
      corners: [
        { on: 'ceiling', storey: 's1', x: 1000, y: 44 },
        { on: 'ceiling', storey: 's1', x: 1000, y: 1000 },
        { on: 'ceiling', storey: 's1', x: 3000, y: 1000 },
        { on: 'ceiling', storey: 's1', x: 3000, y: 44 },
      ],
      cable: 'te2-5',
    }),
  );
  const shapes = planShapes(world.doc, deriveFor(world.doc), 's1');
  return { world, a, b, run, shapes, scene: pickScene(shapes) };
}

describe('picking on the plan', () => {
  const { a, run, scene, shapes } = studio();
  const pick = (x: number, y: number, scale = 0.1) => pickPlan(scene, { x, y }, { scale, tolerance: 8 });

  it('takes the symbol where it is drawn, in front of the wall', () => {
    // 15 px in front of the surface at 0.1 px/mm: 150 mm.
    expect(pick(1005, 200)).toEqual({ table: 'points', id: a, part: null });
  });

  it('takes the wall when the pointer is in it, its corner at its end', () => {
    expect(pick(2000, 10)).toEqual({ table: 'walls', id: 'top', part: null });
    expect(pick(4020, 3010)).toEqual({ table: 'nodes', id: 'e', part: null });
  });

  it('takes a leg of a run by its distance on the screen, whatever the zoom', () => {
    for (const scale of [0.02, 0.1, 1]) {
      expect(pick(2400, 1000 - 6 / scale, scale)).toMatchObject({ table: 'runs', id: run });
      expect(pick(2400, 1000 - 9.5 / scale, scale)?.table).not.toBe('runs');
    }
  });

  it('finds nothing on empty ground', () => {
    expect(pick(2000, 2500)).toBeNull();
    expect(pick(50_000, 50_000)).toBeNull();
  });

  it('misses nothing that an exhaustive look finds', () => {
    const all = {
      parts: scene.parts.map(({ items }) => ({
        items,
        index: { size: items.length, search: () => items.map((_, i) => i) },
      })),
    };
    fc.assert(
      fc.property(
        fc.integer({ min: -500, max: 7500 }),
        fc.integer({ min: -500, max: 3500 }),
        fc.constantFrom(0.02, 0.1, 0.5),
        (x, y, scale) => {
          const options = { scale, tolerance: 8 };
          expect(pickAll(scene, { x, y }, options)).toEqual(pickAll(all, { x, y }, options));
        },
      ),
      { numRuns: 500 },
    );
  });

  it('takes by marquee what lies wholly inside, or whatever is touched', () => {
    const area = { minX: 800, minY: -100, maxX: 3200, maxY: 1600 };
    const tables = (touching: boolean) =>
      pickArea(scene, area, touching).map((ref) => `${ref.table}:${ref.id}`);
    expect(tables(false)).toContain(`runs:${run}`);
    expect(tables(false)).not.toContain('walls:top');
    expect(tables(true)).toContain('walls:top');
    // Cut through the run: it is touched, not inside.
    const half = { minX: 800, minY: 500, maxX: 2000, maxY: 1200 };
    expect(pickArea(scene, half, false).some((ref) => ref.id === run)).toBe(false);
    expect(pickArea(scene, half, true).some((ref) => ref.id === run)).toBe(true);
    // A small marquee wholly inside a wall touches it.
    const inWall = boxOf([
      { x: 1990, y: -5 },
      { x: 2010, y: 5 },
    ]);
    expect(inWall && pickArea(scene, inWall, true).map((r) => r.id)).toEqual(['top']);
    expect(shapes.walls).toHaveLength(7);
  });

  it('knows when a segment meets a box', () => {
    const box = { minX: 0, minY: 0, maxX: 10, maxY: 10 };
    expect(segmentMeetsBox({ x: -5, y: 5 }, { x: 15, y: 5 }, box)).toBe(true);
    expect(segmentMeetsBox({ x: -5, y: 8 }, { x: 4, y: 14 }, box)).toBe(false);
    expect(segmentMeetsBox({ x: 5, y: 5 }, { x: 5, y: 5 }, box)).toBe(true);
    expect(segmentMeetsBox({ x: 10, y: -5 }, { x: 10, y: -1 }, box)).toBe(false);
  });
});

describe('shapes of the plan', () => {
  it('mitres the corners of walls as the fabric does', () => {
    const doc = planOf({
      nodes: { a: [0, 0], b: [4000, 0], c: [4000, 3000], d: [0, 3000] },
      walls: { n: ['a', 'b'], e: ['b', 'c'], s: ['c', 'd'], w: ['d', 'a'] },
    });
    const quad = planShapes(doc, deriveFor(doc), 's1').walls[0]?.quad.map((p) => [p.x, p.y]);
    // 88 mm thick: outside corners at -44, inside at 44.
    expect(quad).toEqual([
      [-44, -44],
      [4044, -44],
      [3956, 44],
      [44, 44],
    ]);
  });
});

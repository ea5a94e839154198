import type { DistanceTable } from '../../../src/engine/routing/types.ts';
import { describe, expect, it } from 'vitest';
import { tourLength } from '../../../src/engine/routing/localSearch.ts';
import { bestOrder, shortTour } from '../../../src/engine/routing/order.ts';
import { oneTreeBound } from '../../../src/engine/routing/tourBound.ts';
import { freshSeed, seeded } from '../../random.ts';

/** Rectilinear distances between random spots: what runs along walls and voids look like. */
function randomTable(random: () => number, n: number): DistanceTable {
  const xs = Array.from({ length: n }, () => Math.floor(random() * 1000));
  const ys = Array.from({ length: n }, () => Math.floor(random() * 1000));
  const d = new Float64Array(n * n);
  for (let i = 0; i < n; i += 1)
    for (let j = 0; j < n; j += 1)
      d[i * n + j] =
        Math.abs((xs[i] as number) - (xs[j] as number)) + Math.abs((ys[i] as number) - (ys[j] as number));
  return { n, d };
}

function permutations(items: readonly number[]): number[][] {
  if (items.length === 0) return [[]];
  return items.flatMap((item, i) =>
    permutations([...items.slice(0, i), ...items.slice(i + 1)]).map((rest) => [item, ...rest]),
  );
}

const lengthOf = ({ n, d }: DistanceTable, path: readonly number[]): number =>
  path.slice(1).reduce((sum, to, i) => sum + (d[(path[i] as number) * n + to] as number), 0);

describe('order of visits', () => {
  it('equals trying every order, for rings, open chains and fixed ends', () => {
    const random = seeded(freshSeed('orders'));
    for (let round = 0; round < 60; round += 1) {
      const n = 3 + Math.floor(random() * 6);
      const table = randomTable(random, n);
      for (const end of [0, null, n - 1]) {
        const free = Array.from({ length: n - 1 }, (_, i) => i + 1).filter((i) => i !== end);
        const all = permutations(free).map((p) => lengthOf(table, end === null ? [0, ...p] : [0, ...p, end]));
        const best = bestOrder(table, 0, end, free);
        expect(best.length).toBeCloseTo(Math.min(...all), 9);
        const path = end === null ? [0, ...best.order] : [0, ...best.order, end];
        expect(lengthOf(table, path)).toBeCloseTo(best.length, 9);
        expect([...best.order].sort((a, b) => a - b)).toEqual(free);
        expect(best.exact).toBe(true);
      }
    }
  });

  it('beyond the exact limit visits everything once, and the bound stays below what is known to be best', () => {
    const random = seeded(freshSeed('long orders'));
    for (let round = 0; round < 8; round += 1) {
      const table = randomTable(random, 24);
      const free = Array.from({ length: 23 }, (_, i) => i + 1);
      for (const end of [0, null]) {
        const found = bestOrder(table, 0, end, free);
        expect([...found.order].sort((a, b) => a - b)).toEqual(free);
        expect(lengthOf(table, end === null ? [0, ...found.order] : [0, ...found.order, 0])).toBeCloseTo(
          found.length,
          6,
        );
        expect(found.bound).toBeLessThanOrEqual(found.length + 1e-9);
        expect(found.length / found.bound).toBeLessThan(1.15);
      }
    }
  });

  it('the one-tree bound never exceeds the exact ring', () => {
    const random = seeded(freshSeed('bounds'));
    for (let round = 0; round < 40; round += 1) {
      const n = 4 + Math.floor(random() * 9);
      const table = randomTable(random, n);
      const free = Array.from({ length: n - 1 }, (_, i) => i + 1);
      const exact = bestOrder(table, 0, 0, free).length;
      const heuristic = tourLength(table, shortTour(table));
      expect(heuristic).toBeGreaterThanOrEqual(exact - 1e-9);
      expect(oneTreeBound(table, heuristic)).toBeLessThanOrEqual(exact + 1e-6);
    }
  });

  it('says nothing is to be ordered when there is nothing', () => {
    const table = randomTable(seeded(1), 3);
    expect(bestOrder(table, 0, 0, [])).toEqual({ order: [], length: 0, bound: 0, exact: true });
    expect(bestOrder(table, 0, 2, []).length).toBe(table.d[2]);
  });
});

import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { bestFitShrunk } from '../../../../src/engine/takeoff/packing/bestFit.ts';
import { solvePacking } from '../../../../src/engine/takeoff/packing/solve.ts';
import { costOf, type PackingTask } from '../../../../src/engine/takeoff/packing/types.ts';

interface Stored {
  readonly how: string;
  readonly lists: readonly { readonly name: string; readonly task: PackingTask; readonly optimum: number }[];
}
const stored = JSON.parse(readFileSync(new URL('./proven.json', import.meta.url), 'utf8')) as Stored;

// The optima were proven by HiGHS, an integer programme solver from the registry (see prove.ts), not by this planner.
describe('lists with proven optima', () => {
  it('are forty at least, ten of them with 120 cuts or more', () => {
    expect(stored.lists.length).toBeGreaterThanOrEqual(40);
    expect(stored.lists.filter((l) => l.task.sizes.length >= 120).length).toBeGreaterThanOrEqual(10);
  });

  it('come out within 0.5 % on average and 2 % at worst, never worse than best-fit decreasing shrunk', () => {
    const gaps = stored.lists.map(({ name, task, optimum }) => {
      const answer = solvePacking(task);
      const plain = bestFitShrunk(task);
      if (answer === null || plain === null) throw new Error(`${name}: a piece fits nowhere`);
      expect(answer.cost, name).toBeGreaterThanOrEqual(optimum);
      expect(answer.lowerBound, name).toBeLessThanOrEqual(optimum);
      expect(answer.cost, name).toBeLessThanOrEqual(costOf(task, plain.purchase));
      if (answer.proven) expect(answer.cost, name).toBe(optimum);
      return { name, gap: answer.cost / optimum - 1, proven: answer.proven };
    });
    const mean = gaps.reduce((sum, g) => sum + g.gap, 0) / gaps.length;
    const worst = Math.max(...gaps.map((g) => g.gap));
    const proven = gaps.filter((g) => g.proven).length;
    console.log(
      `cutting: ${gaps.length} lists, mean gap ${(100 * mean).toFixed(3)} %, worst ${(100 * worst).toFixed(3)} %, ${proven} proven`,
    );
    expect(mean).toBeLessThanOrEqual(0.005);
    expect(worst).toBeLessThanOrEqual(0.02);
  });
});

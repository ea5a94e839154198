import { describe, expect, it } from 'vitest';
import { solvePacking } from '../../../../src/engine/takeoff/packing/solve.ts';
import { seeded, type PackingTask } from '../../../../src/engine/takeoff/packing/types.ts';
import { optimumByHighs } from './arcFlow.ts';

/** Prices in pence or none; drums of 100, 50, 25 and, last, 10 m: bigger ones cheaper by the metre, or not. */
const STOCKS = [
  [100, 50, 25].map((capacity) => ({ capacity, cost: capacity })),
  [
    { capacity: 100, cost: 6500 },
    { capacity: 50, cost: 3600 },
    { capacity: 25, cost: 2000 },
  ],
  [
    { capacity: 100, cost: 5899 },
    { capacity: 50, cost: 3249 },
    { capacity: 25, cost: 1799 },
    { capacity: 10, cost: 899 },
  ],
  [
    { capacity: 50, cost: 34 },
    { capacity: 25, cost: 19 },
  ],
] as const;

/** A list as one floor has: 4 to 18 cuts in whole metres, most of 3 to 15, with remnants owned every fourth time. */
function realistic(seed: number): PackingTask {
  const random = seeded(seed);
  const kinds = STOCKS[seed % STOCKS.length] ?? STOCKS[0];
  const count = 4 + Math.floor(random() * 15);
  const sizes = Array.from({ length: count }, () => 2 + Math.round(14 * random() + 22 * random() ** 4)).sort(
    (a, b) => b - a,
  );
  const owned = seed % 8 >= 6 ? [15 + Math.floor(30 * random()), 8 + Math.floor(12 * random())] : [];
  return { sizes, kinds, owned };
}

// HiGHS (npm highs, WASM), an integer programme solver that knows nothing of this planner.
describe.each([0, 1, 2])('drums against an integer programme, lists %d00 and on', (hundred) => {
  it('cost the same wherever HiGHS proves optimality', async () => {
    let proven = 0;
    for (let seed = 100 * hundred; seed < 100 * hundred + 100; seed++) {
      const task = realistic(seed);
      const optimum = await optimumByHighs(task, 10);
      if (optimum === null) continue;
      proven++;
      const answer = solvePacking(task);
      expect([seed, answer?.cost]).toEqual([seed, optimum]);
      expect(answer?.lowerBound).toBeLessThanOrEqual(optimum);
    }
    console.log(`HiGHS proved ${proven} of 100`);
    expect(proven).toBeGreaterThanOrEqual(80);
  }, 600_000);
});

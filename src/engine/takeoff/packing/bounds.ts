import type { PackingTask, Purchase } from './types.ts';

/**
 * A weight per piece and the most weight that one bin of each kind can hold. No packing puts more than that in a bin,
 * so a purchase whose bins cannot hold the total weight is impossible: Σ weight ≤ Σ held over all bins. The lengths
 * themselves give the plain bound by metres; step weights are dual feasible functions (Martello and Toth's L2 and
 * Fekete and Schepers' roundings); the held weights come from an exact knapsack, so any weights give a true bound.
 */
export interface Weighting {
  readonly weight: readonly number[];
  readonly total: number;
  readonly heldByKind: readonly number[];
  readonly heldByOwned: readonly number[];
}

/** Finest grid of the knapsacks; above it sizes and capacities are rounded down, which only weakens a bound. */
const GRID = 4096;
const GRID_LARGE = 1500;
/** How many thresholds are tried per kind. Any number of them is valid. */
const THRESHOLDS = 16;

export interface Grid {
  readonly sizes: readonly number[];
  readonly capacities: readonly number[];
}

/** Sizes and capacities (kinds, then owned) rounded down to the grid the knapsacks run on. */
export function gridOf(task: PackingTask): Grid {
  const all = [...task.kinds.map((k) => k.capacity), ...task.owned];
  const largest = Math.max(0, ...all);
  const limit = task.sizes.length > 80 ? GRID_LARGE : GRID;
  const step = largest <= limit ? 1 : Math.ceil(largest / limit);
  const down = (n: number) => Math.floor(n / step);
  return { sizes: task.sizes.map(down), capacities: all.map(down) };
}

/** The most weight of pieces that fits each capacity: 0-1 knapsack over the grid. */
function held({ sizes, capacities }: Grid, weight: readonly number[]): number[] {
  const top = Math.max(0, ...capacities);
  const best = new Float64Array(top + 1);
  for (const [i, size] of sizes.entries()) {
    const gain = weight[i] ?? 0;
    if (gain <= 0) continue;
    for (let c = top; c >= size; c--) {
      const other = (best[c - size] as number) + gain;
      if (other > (best[c] as number)) best[c] = other;
    }
  }
  return capacities.map((c) => best[c] as number);
}

/** The weighting of a weight per piece, whole numbers. */
export function weighting(task: PackingTask, weight: readonly number[], grid = gridOf(task)): Weighting {
  const most = held(grid, weight);
  return {
    weight,
    total: weight.reduce((sum, w) => sum + w, 0),
    heldByKind: most.slice(0, task.kinds.length),
    heldByOwned: most.slice(task.kinds.length),
  };
}

/** At most `count` of the sorted values, spread evenly, ends included. */
function spread(values: readonly number[], count: number): number[] {
  if (values.length <= count) return [...values];
  return Array.from(
    { length: count },
    (_, i) => values[Math.round((i * (values.length - 1)) / (count - 1))] ?? 0,
  );
}

/** Weightings of one task: lengths, counts of pieces above a size, and step weights for each kind's capacity. */
export function weightingsOf(task: PackingTask): Weighting[] {
  const { sizes } = task;
  const grid = gridOf(task);
  const distinct = [...new Set(sizes)].sort((a, b) => a - b);
  const seen = new Set<string>();
  const found: Weighting[] = [];
  const add = (weight: readonly number[]) => {
    const key = weight.join(',');
    if (seen.has(key)) return;
    seen.add(key);
    found.push(weighting(task, weight, grid));
  };
  // Held lengths are exact bounds only on the grid: never more than the capacity itself.
  const lengths = weighting(task, sizes, grid);
  found.push({
    ...lengths,
    heldByKind: lengths.heldByKind.map((h, k) => Math.min(h, task.kinds[k]?.capacity ?? 0)),
    heldByOwned: lengths.heldByOwned.map((h, k) => Math.min(h, task.owned[k] ?? 0)),
  });
  for (const least of spread(distinct, THRESHOLDS)) add(sizes.map((s) => (s >= least ? 1 : 0)));
  for (const { capacity } of task.kinds) {
    for (let parts = 2; parts <= 5; parts++) {
      add(
        sizes.map((s) =>
          (parts * s) % capacity === 0 ? (parts * s) / capacity - 1 : Math.floor((parts * s) / capacity),
        ),
      );
      // The rounding that keeps exact multiples: u(x) = x where (p + 1)x / C is whole, else floor((p + 1)x / C) C / p.
      add(
        sizes.map((s) =>
          (parts * s) % capacity === 0 ? s * (parts - 1) : Math.floor((parts * s) / capacity) * capacity,
        ),
      );
    }
    const halves = distinct.filter((s) => 2 * s <= capacity);
    for (const k of spread(halves, THRESHOLDS)) {
      add(sizes.map((s) => (s > capacity - k ? capacity : s >= k ? s : 0)));
    }
  }
  return found;
}

/** What is left of a weighting's room when a purchase holds the pieces: below nothing, the purchase is impossible. */
export function spare(weighted: Weighting, purchase: Purchase): number {
  const bought = purchase.reduce((sum, n, k) => sum + n * (weighted.heldByKind[k] ?? 0), 0);
  return bought + weighted.heldByOwned.reduce((sum, h) => sum + h, 0) - weighted.total;
}

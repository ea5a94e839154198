import type { Weighting } from './bounds.ts';
import { gridOf, weighting } from './bounds.ts';
import type { Effort, PackingTask } from './types.ts';

/** Whole numbers the dual prices are rounded down to, per unit of the dearest kind. */
const SCALE = 1_000_000;
const TOLERANCE = 1e-9;

/** The best filling of each kind at given prices per distinct size, by one knapsack over the grid. */
class Pricing {
  private readonly best: Float64Array;
  private readonly taken: Uint8Array;
  private readonly pieces: readonly number[];
  private readonly top: number;

  constructor(
    private readonly sizes: readonly number[],
    demand: readonly number[],
    private readonly capacities: readonly number[],
  ) {
    this.top = Math.max(0, ...capacities);
    // No more copies of a size than fit the largest bin.
    this.pieces = sizes.flatMap((s, j) => {
      const fit = s === 0 ? (demand[j] ?? 0) : Math.floor(this.top / s);
      return new Array<number>(Math.min(demand[j] ?? 0, fit)).fill(j);
    });
    this.best = new Float64Array(this.top + 1);
    this.taken = new Uint8Array(this.pieces.length * (this.top + 1));
  }

  get work(): number {
    return this.pieces.length * this.top;
  }

  solve(prices: readonly number[]): void {
    const { best, taken, top } = this;
    best.fill(0);
    taken.fill(0);
    for (const [i, j] of this.pieces.entries()) {
      const size = this.sizes[j] as number;
      const price = prices[j] as number;
      if (price <= 0) continue;
      const row = i * (top + 1);
      for (let c = top; c >= size; c--) {
        const other = (best[c - size] as number) + price;
        if (other > (best[c] as number)) {
          best[c] = other;
          taken[row + c] = 1;
        }
      }
    }
  }

  value(kind: number): number {
    return this.best[this.capacities[kind] ?? 0] as number;
  }

  /** Copies of each size in the best filling of a kind. */
  filling(kind: number): number[] {
    const copies = this.sizes.map(() => 0);
    let room = this.capacities[kind] ?? 0;
    for (let i = this.pieces.length - 1; i >= 0; i--) {
      if (this.taken[i * (this.top + 1) + room] !== 1) continue;
      const j = this.pieces[i] as number;
      copies[j] = (copies[j] as number) + 1;
      room -= this.sizes[j] as number;
    }
    return copies;
  }
}

/**
 * The weighting from the dual prices of the packing with fillings in fractions, by column generation (Gilmore and
 * Gomory, Operations Research 9, 1961) on a dense revised simplex. Stopped early its prices are merely weaker: the
 * weighting works out anew, exactly, what each bin can hold. Null when there is nothing to price.
 */
export function dualWeighting(task: PackingTask, effort: Effort): Weighting | null {
  const grid = gridOf(task);
  const capacities = grid.capacities.slice(0, task.kinds.length);
  const costs = task.kinds.map((k) => k.cost);
  const dearest = Math.max(0, ...costs);
  // Pieces alike on the grid are one row.
  const rowOf = new Map<number, number>();
  const demand: number[] = [];
  for (const s of grid.sizes) {
    const row = rowOf.get(s) ?? rowOf.size;
    rowOf.set(s, row);
    demand[row] = (demand[row] ?? 0) + 1;
  }
  const sizes = [...rowOf.keys()];
  const m = sizes.length;
  if (m === 0 || dearest === 0 || sizes.includes(0)) return null;

  // Start: each size alone in its cheapest kind, as many as go in.
  const inverse = Array.from({ length: m }, () => new Float64Array(m));
  const basisCost = new Float64Array(m);
  const amount = new Float64Array(m);
  for (let j = 0; j < m; j++) {
    let copies = 1;
    let price = Infinity;
    for (const [k, capacity] of capacities.entries()) {
      const fit = Math.min(demand[j] as number, Math.floor(capacity / (sizes[j] as number)));
      if (fit > 0 && (costs[k] as number) / fit < price) {
        price = (costs[k] as number) / fit;
        copies = fit;
      }
    }
    if (price === Infinity) return null;
    (inverse[j] as Float64Array)[j] = 1 / copies;
    basisCost[j] = price * copies;
    amount[j] = (demand[j] as number) / copies;
  }

  const pricing = new Pricing(sizes, demand, capacities);
  let prices: number[] = [];
  while (effort.left > 0) {
    prices = Array.from({ length: m }, (_, j) => {
      let sum = 0;
      for (let i = 0; i < m; i++)
        sum += (basisCost[i] as number) * ((inverse[i] as Float64Array)[j] as number);
      return sum;
    });
    pricing.solve(prices);
    effort.left -= pricing.work + 2 * m * m;
    let column: number[] | null = null;
    let columnCost = 0;
    let worst = -TOLERANCE * dearest;
    for (let k = 0; k < costs.length; k++) {
      const reduced = (costs[k] as number) - pricing.value(k);
      if (reduced < worst) {
        worst = reduced;
        column = pricing.filling(k);
        columnCost = costs[k] as number;
      }
    }
    for (let j = 0; j < m; j++) {
      // A piece more than wanted costs nothing: prices are never below nothing.
      if ((prices[j] as number) < worst) {
        worst = prices[j] as number;
        column = sizes.map((_, i) => (i === j ? -1 : 0));
        columnCost = 0;
      }
    }
    if (column === null) break;
    const along = Float64Array.from({ length: m }, (_, i) => {
      let sum = 0;
      for (let j = 0; j < m; j++)
        sum += ((inverse[i] as Float64Array)[j] as number) * ((column as number[])[j] as number);
      return sum;
    });
    let leave = -1;
    let ratio = Infinity;
    for (let i = 0; i < m; i++) {
      if ((along[i] as number) <= TOLERANCE) continue;
      const r = (amount[i] as number) / (along[i] as number);
      if (r < ratio) {
        ratio = r;
        leave = i;
      }
    }
    if (leave < 0) break;
    const pivot = along[leave] as number;
    const pivotRow = inverse[leave] as Float64Array;
    for (let j = 0; j < m; j++) pivotRow[j] = (pivotRow[j] as number) / pivot;
    for (let i = 0; i < m; i++) {
      const factor = along[i] as number;
      if (i === leave || factor === 0) continue;
      const row = inverse[i] as Float64Array;
      for (let j = 0; j < m; j++) row[j] = (row[j] as number) - factor * (pivotRow[j] as number);
      amount[i] = Math.max(0, (amount[i] as number) - factor * ratio);
    }
    amount[leave] = ratio;
    basisCost[leave] = columnCost;
  }
  const whole = prices.map((p) => Math.max(0, Math.floor((p / dearest) * SCALE)));
  return weighting(
    task,
    grid.sizes.map((s) => whole[rowOf.get(s) ?? 0] ?? 0),
    grid,
  );
}

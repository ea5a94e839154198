/**
 * Packing in whole units: pieces into bins of a few kinds bought at a cost, and into bins already owned, which cost
 * nothing. Pieces are never joined. All numbers are whole and not negative; capacities and sizes share one unit.
 */
export interface BinKind {
  readonly capacity: number;
  readonly cost: number;
}

export interface PackingTask {
  /** Largest first; each fits the largest kind. */
  readonly sizes: readonly number[];
  /** Largest capacity first, no two alike, none of nothing. */
  readonly kinds: readonly BinKind[];
  /** Capacities of owned bins, one each. */
  readonly owned: readonly number[];
}

/** Bins bought, as a count per kind; the owned bins are always there as well. */
export type Purchase = readonly number[];

/** Which piece lies in which bin: `binOf[piece]` indexes `capacities`. */
export interface Packing {
  readonly capacities: readonly number[];
  readonly binOf: readonly number[];
}

/** A count of work that runs down: the same input always stops at the same place, on any machine. */
export interface Effort {
  left: number;
}

/** Random numbers in [0, 1) from a seed: 32-bit mulberry, so that each plan comes out the same every time. */
export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/** Greatest common divisor of whole numbers; 0 when there are none. */
export function gcdOf(numbers: readonly number[]): number {
  let g = 0;
  for (const n of numbers) {
    let a = g;
    let b = n;
    while (b !== 0) [a, b] = [b, a % b];
    g = a;
  }
  return g;
}

/** Capacities of the owned bins, then of those bought, kind by kind. */
export function capacitiesOf(task: PackingTask, purchase: Purchase): number[] {
  return [
    ...task.owned,
    ...task.kinds.flatMap((kind, k) => new Array<number>(purchase[k] ?? 0).fill(kind.capacity)),
  ];
}

export function costOf(task: PackingTask, purchase: Purchase): number {
  return task.kinds.reduce((sum, kind, k) => sum + kind.cost * (purchase[k] ?? 0), 0);
}

export function countOf(purchase: Purchase): number {
  return purchase.reduce((sum, n) => sum + n, 0);
}

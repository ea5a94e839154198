import { improveTour, nearestTour, tourLength } from './localSearch.ts';
import type { DistanceTable } from './types.ts';
import { oneTreeBound } from './tourBound.ts';

/** An order of the free places, its length from start to end, and how sure we are that none is shorter. */
export interface Order {
  readonly order: readonly number[];
  readonly length: number;
  /** No order is shorter than this. */
  readonly bound: number;
  readonly exact: boolean;
}

/** Up to this many free places the order is found by dynamic programming over subsets (Held and Karp, 1962). */
export const EXACT_LIMIT = 16;

/**
 * The shortest order in which to visit the `free` places from `start` to `end` (null: end anywhere; the same place as
 * `start`: a ring). Exact to EXACT_LIMIT free places, else local search with the one-tree bound. Deterministic.
 */
export function bestOrder(
  table: DistanceTable,
  start: number,
  end: number | null,
  free: readonly number[],
): Order {
  if (free.length === 0) {
    const length = end === null || end === start ? 0 : (table.d[start * table.n + end] as number);
    return { order: [], length, bound: length, exact: true };
  }
  return free.length <= EXACT_LIMIT
    ? exactOrder(table, start, end, free)
    : longOrder(table, start, end, free);
}

function exactOrder(table: DistanceTable, start: number, end: number | null, free: readonly number[]): Order {
  const k = free.length;
  const at = (a: number, b: number): number => table.d[a * table.n + b] as number;
  const between = new Float64Array(k * k);
  for (let i = 0; i < k; i += 1)
    for (let j = 0; j < k; j += 1) between[i * k + j] = at(free[i] as number, free[j] as number);
  const full = (1 << k) - 1;
  const cost = new Float64Array((full + 1) * k).fill(Infinity);
  const from = new Int8Array((full + 1) * k).fill(-1);
  for (let i = 0; i < k; i += 1) cost[(1 << i) * k + i] = at(start, free[i] as number);
  for (let set = 1; set <= full; set += 1) {
    for (let last = 0; last < k; last += 1) {
      const base = cost[set * k + last] as number;
      if (base === Infinity || (set & (1 << last)) === 0) continue;
      for (let next = 0; next < k; next += 1) {
        if ((set & (1 << next)) !== 0) continue;
        const slot = (set | (1 << next)) * k + next;
        const c = base + (between[last * k + next] as number);
        if (c < (cost[slot] as number)) {
          cost[slot] = c;
          from[slot] = last;
        }
      }
    }
  }
  let best = 0;
  let length = Infinity;
  for (let last = 0; last < k; last += 1) {
    const close = end === null ? 0 : at(free[last] as number, end);
    const c = (cost[full * k + last] as number) + close;
    if (c < length) {
      length = c;
      best = last;
    }
  }
  const order: number[] = [];
  for (let set = full, last = best; last >= 0;) {
    order.push(free[last] as number);
    const before = from[set * k + last] as number;
    set &= ~(1 << last);
    last = before;
  }
  return { order: order.reverse(), length, bound: length, exact: true };
}

/**
 * A path with fixed ends is a tour through a link of its own: the link from end to start costs -`pull`, so much less
 * than nothing that every good tour uses it. An open end is a place of its own at no distance from any other.
 */
function longOrder(table: DistanceTable, start: number, end: number | null, free: readonly number[]): Order {
  const ring = end === start;
  const places = ring ? [start, ...free] : [start, ...free, end ?? -1];
  const n = places.length;
  const d = new Float64Array(n * n);
  let longest = 0;
  for (let i = 0; i < n; i += 1) {
    for (let j = 0; j < n; j += 1) {
      const a = places[i] as number;
      const b = places[j] as number;
      const value = i === j || a < 0 || b < 0 ? 0 : (table.d[a * table.n + b] as number);
      d[i * n + j] = value;
      if (value < Infinity && value > longest) longest = value;
    }
  }
  const far = longest * n + 1;
  for (let i = 0; i < d.length; i += 1) if (d[i] === Infinity) d[i] = far;
  const pull = ring ? 0 : far;
  if (!ring) {
    d[n - 1] = -pull;
    d[(n - 1) * n] = -pull;
  }
  const tour = shortTour({ n, d });
  const turn = tour.indexOf(0);
  let cycle = [...tour.slice(turn), ...tour.slice(0, turn)];
  if (!ring && cycle[1] === n - 1) cycle = [0, ...cycle.slice(1).reverse()];
  const order = cycle.slice(1, ring ? undefined : -1).map((i) => places[i] as number);
  const length = tourLength({ n, d }, tour) + pull;
  const bound = Math.min(length, oneTreeBound({ n, d }, tourLength({ n, d }, tour)) + pull);
  return { order, length, bound, exact: length - bound <= 1e-9 * Math.max(1, length) };
}

/**
 * A short closed tour of all n places: nearest-neighbour tours from every place, improved by two-opt and or-opt, then
 * the best one kicked (double bridge) and improved again, a fixed number of times from a fixed seed.
 */
export function shortTour(table: DistanceTable): number[] {
  const { n } = table;
  if (n <= 3) return Array.from({ length: n }, (_, i) => i);
  let best: number[] = [];
  let bestLength = Infinity;
  for (let s = 0; s < n; s += 1) {
    const tour = improveTour(table, nearestTour(table, s));
    const length = tourLength(table, tour);
    if (length < bestLength - 1e-9) {
      best = tour;
      bestLength = length;
    }
  }
  let seed = 0x2545f491;
  const random = (below: number): number => {
    seed ^= seed << 13;
    seed ^= seed >>> 17;
    seed ^= seed << 5;
    return (seed >>> 0) % below;
  };
  const kicks = 40 * n;
  for (let kick = 0; kick < kicks && n >= 8; kick += 1) {
    // A double bridge within a short window, so that improvement stays local and cheap.
    const window = Math.min(n - 1, 30);
    const offset = random(n);
    const turned = [...best.slice(offset), ...best.slice(0, offset)];
    const cuts = [1 + random(window), 1 + random(window), 1 + random(window)].sort((a, b) => a - b);
    const [p, q, r] = cuts as [number, number, number];
    const tour = improveTour(table, [
      ...turned.slice(0, p),
      ...turned.slice(q, r),
      ...turned.slice(p, q),
      ...turned.slice(r),
    ]);
    const length = tourLength(table, tour);
    // A tour as short as the best takes its place, so that kicks start from different ones.
    if (length <= bestLength) {
      best = tour;
      bestLength = length;
    }
  }
  return best;
}

import { spare } from './bounds.ts';
import type { Weighting } from './bounds.ts';
import type { Effort, PackingTask, Purchase } from './types.ts';
import { costOf, countOf } from './types.ts';

/** Purchases kept at most; beyond it only the cheapest are, and `cutOff` says where that begins. */
const KEPT = 800;
/** Steps of one listing at most. */
const NODES = 60_000;
/** Weightings followed while listing: those that ask the most. The rest are held against what was listed. */
const FOLLOWED = 12;

export interface Purchases {
  /** Cheapest first, then fewest bins. None of them is shown impossible by the weightings. */
  readonly list: readonly Purchase[];
  /** Every purchase below this cost that may be possible is in the list. */
  readonly cutOff: number;
}

/**
 * The most bins of each kind worth buying: where q of a kind cost no less than one bin that holds as much as all q,
 * that one bin is never worse, and q of them need not be looked at.
 */
function worthBuying(task: PackingTask): number[] {
  return task.kinds.map(({ capacity, cost }, k) => {
    let most = task.sizes.length;
    for (const larger of task.kinds.slice(0, k)) {
      const q = cost > 0 ? Math.max(2, Math.ceil(larger.cost / cost)) : 2;
      if (q * capacity <= larger.capacity && larger.cost <= q * cost) most = Math.min(most, q - 1);
    }
    return most;
  });
}

/** What the cheapest purchase costs at least by one weighting, with bins in fractions. */
function leastBy(task: PackingTask, weighted: Weighting): number {
  const need = weighted.total - weighted.heldByOwned.reduce((sum, h) => sum + h, 0);
  const unit = task.kinds.map(({ cost }, k) => {
    const holds = weighted.heldByKind[k] ?? 0;
    return holds > 0 ? cost / holds : Infinity;
  });
  return need > 0 ? need * Math.min(...unit) : 0;
}

/** What the cheapest purchase costs at least, by the weighting that asks the most. */
export function leastCost(task: PackingTask, weightings: readonly Weighting[]): number {
  return Math.max(0, ...weightings.map((w) => leastBy(task, w)));
}

/**
 * The purchases costing `floor` or more but less than `limit` (or as much, with fewer than `fewer` bins) whose bins could hold the pieces
 * by every weighting. Depth first over the kinds, largest first, cut where the cheapest completion costs too much.
 */
export function purchasesBetween(
  task: PackingTask,
  all: readonly Weighting[],
  floor: number,
  limit: number,
  fewer: number,
  effort: Effort,
): Purchases {
  const weightings = [...all].sort((a, b) => leastBy(task, b) - leastBy(task, a)).slice(0, FOLLOWED);
  const kinds = task.kinds;
  const need = weightings.map((w) => w.total - w.heldByOwned.reduce((sum, h) => sum + h, 0));
  // Least cost of a unit of weight with the kinds from k on.
  const unitCost = weightings.map((w) => {
    const least = new Array<number>(kinds.length + 1).fill(Infinity);
    for (let k = kinds.length - 1; k >= 0; k--) {
      const holds = w.heldByKind[k] ?? 0;
      least[k] = Math.min(least[k + 1] ?? Infinity, holds > 0 ? (kinds[k]?.cost ?? 0) / holds : Infinity);
    }
    return least;
  });
  const most = worthBuying(task);
  const found: Purchase[] = [];
  let cutOff = Infinity;
  let bound = limit;
  let nodes = 0;
  const better = (a: Purchase, b: Purchase) => costOf(task, a) - costOf(task, b) || countOf(a) - countOf(b);
  const trim = () => {
    found.sort(better);
    if (found.length <= KEPT) return;
    const last = found[KEPT];
    if (last !== undefined) cutOff = Math.min(cutOff, costOf(task, last));
    bound = Math.min(bound, cutOff);
    found.length = KEPT;
  };
  const counts = kinds.map(() => 0);
  const visit = (k: number, cost: number, count: number, left: readonly number[]) => {
    let least = 0;
    for (const [i, n] of left.entries()) {
      if (n > 0) least = Math.max(least, n * (unitCost[i]?.[k] ?? Infinity));
    }
    // A hair of slack keeps floating division from losing a purchase that costs exactly the bound.
    const total = cost + least * (1 - 1e-12);
    if (total > bound || (total >= bound && count >= fewer)) return;
    if (++nodes > NODES) {
      cutOff = Math.min(cutOff, total);
      return;
    }
    if (k === kinds.length) {
      if (cost >= floor && (cost < bound || (cost === limit && bound === limit && count < fewer))) {
        if (all.every((w) => spare(w, counts) >= 0)) found.push([...counts]);
        if (found.length > 4 * KEPT) trim();
      }
      return;
    }
    const kind = kinds[k];
    if (kind === undefined) return;
    const useful = most[k] ?? 0;
    // The last kind must hold all that is left.
    const last = k === kinds.length - 1;
    const short = left.map((l, i) => (l > 0 ? Math.ceil(l / (weightings[i]?.heldByKind[k] ?? 0)) : 0));
    for (let n = last ? Math.max(0, ...short) : 0; n <= useful && cost + n * kind.cost <= bound; n++) {
      counts[k] = n;
      visit(
        k + 1,
        cost + n * kind.cost,
        count + n,
        left.map((l, i) => l - n * (weightings[i]?.heldByKind[k] ?? 0)),
      );
    }
    counts[k] = 0;
  };
  visit(0, 0, 0, need);
  effort.left -= 6 * nodes * weightings.length + (nodes / 4) * all.length;
  trim();
  found.sort(better);
  return { list: found, cutOff };
}

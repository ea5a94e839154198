import { bestFitShrunk } from './bestFit.ts';
import { spare, weightingsOf } from './bounds.ts';
import type { Weighting } from './bounds.ts';
import { dualWeighting } from './columns.ts';
import { exactFit } from './exact.ts';
import { searchFit } from './fit.ts';
import { leastCost, purchasesBetween } from './purchases.ts';
import type { Effort, Packing, PackingTask, Purchase } from './types.ts';
import { capacitiesOf, costOf, countOf, gcdOf, seeded } from './types.ts';

export interface PackingAnswer {
  readonly purchase: Purchase;
  readonly packing: Packing;
  readonly cost: number;
  /** No packing costs less than this. */
  readonly lowerBound: number;
  /** The cost equals the lower bound. */
  readonly proven: boolean;
}

/** Work that takes about half a second on a laptop of 2020 for 200 pieces. */
export const USUAL_EFFORT = 100_000_000;
const SEED = 20260417;

interface State {
  readonly task: PackingTask;
  weightings: readonly Weighting[];
  readonly random: () => number;
  readonly effort: Effort;
  best: { purchase: Purchase; packing: Packing; cost: number; count: number };
  /** Purchases better than the best that may still hold the pieces, cheapest first. */
  open: Purchase[];
}

/** Spends at most `share` of what is left through `work`. */
function spend<T>(effort: Effort, share: number, work: (own: Effort) => T): T {
  const own: Effort = { left: Math.min(share, effort.left) };
  const given = own.left;
  const answer = work(own);
  effort.left -= given - own.left;
  return answer;
}

function accept(state: State, purchase: Purchase, binOf: readonly number[]): void {
  const { task } = state;
  const cost = costOf(task, purchase);
  const count = countOf(purchase);
  state.best = { purchase, packing: { capacities: capacitiesOf(task, purchase), binOf }, cost, count };
  state.open = state.open.filter((p) => {
    const c = costOf(task, p);
    return c < cost || (c === cost && countOf(p) < count);
  });
}

/** Tries to pack into a purchase; on success it is the best yet. */
function search(state: State, purchase: Purchase, share: number): boolean {
  const capacities = capacitiesOf(state.task, purchase);
  const binOf = spend(state.effort, share, (own) =>
    searchFit(state.task.sizes, capacities, state.random, own),
  );
  if (binOf !== null) accept(state, purchase, binOf);
  return binOf !== null;
}

/** True when every bin of `small` can be laid on a bin of `large` at least as big. */
function within(task: PackingTask, small: Purchase, large: Purchase): boolean {
  // Kinds go from large to small: counted from the largest, `small` never has more bins than `large`.
  let ahead = 0;
  return task.kinds.every((_, k) => (ahead += (large[k] ?? 0) - (small[k] ?? 0)) >= 0);
}

/** Full search of one purchase: it fits, or it and all it covers are struck out, or it stays open. */
function settle(state: State, purchase: Purchase, share: number): void {
  const { task, weightings } = state;
  const capacities = capacitiesOf(task, purchase);
  const held = weightings.map((w) => [
    ...w.heldByOwned,
    ...task.kinds.flatMap((_, k) => new Array<number>(purchase[k] ?? 0).fill(w.heldByKind[k] ?? 0)),
  ]);
  state.effort.left -= 4 * weightings.length * capacities.length + 20 * state.open.length;
  const verdict = spend(state.effort, share, (own) =>
    exactFit(task.sizes, capacities, weightings, held, own),
  );
  if (verdict.fits === true) accept(state, purchase, verdict.binOf);
  else if (verdict.fits === false) state.open = state.open.filter((p) => !within(task, p, purchase));
}

/** Brings the best down by halving a list of purchases from `from` on, with little effort for each. */
function descend(state: State, from: number): void {
  let low = from;
  let high = state.open.length;
  while (low < high && state.effort.left > 0) {
    const middle = Math.floor((low + high) / 2);
    const purchase = state.open[middle];
    if (purchase === undefined) return;
    if (search(state, purchase, 60_000)) high = Math.min(middle, state.open.length);
    else low = middle + 1;
  }
}

/**
 * Lists purchases by rising cost, a wider span each time, until one of a span is found to hold the pieces. Returns the
 * cost below which every purchase that may hold them has been listed.
 */
function listUpwards(state: State): number {
  const { task, weightings } = state;
  const least = Math.ceil(leastCost(task, weightings) * (1 - 1e-12));
  const step = Math.max(1, gcdOf(task.kinds.map((kind) => kind.cost)));
  state.open = [];
  let listed = Infinity;
  let floor = 0;
  for (let span = 4 * step; ; span *= 2) {
    const { cost, count } = state.best;
    const limit = Math.min(cost, least + span);
    const fewer = limit === cost ? count : 0;
    const { list, cutOff } = purchasesBetween(task, weightings, floor, limit, fewer, state.effort);
    listed = Math.min(listed, cutOff);
    const before = state.open.length;
    state.open = [...state.open, ...list];
    descend(state, before);
    if (limit === cost || state.best.cost < cost || state.effort.left <= 0) return Math.min(listed, limit);
    floor = limit;
  }
}

/** Adds the weighting of the dual prices, once there is something it might strike out. */
function price(state: State): boolean {
  const dual = spend(state.effort, state.effort.left / 3, (own) => dualWeighting(state.task, own));
  if (dual === null) return false;
  state.weightings = [dual, ...state.weightings];
  state.open = state.open.filter((p) => spare(dual, p) >= 0);
  return true;
}

/** Goes through the open purchases, cheapest first, with more effort each round, by full search and by trying. */
function insist(state: State): void {
  for (let share = 60_000; state.open.length > 0 && state.effort.left > 0; share *= 3) {
    for (const purchase of [...state.open]) {
      if (state.effort.left <= 0) break;
      if (!state.open.includes(purchase)) continue;
      settle(state, purchase, share);
      if (state.open.includes(purchase)) search(state, purchase, share);
    }
  }
}

/**
 * Packs the pieces at least cost, then with fewest bins bought. Purchases are tried from the cheapest that weightings
 * do not rule out; the lower bound is the cheapest purchase not ruled out in the end. Never worse than `bestFitShrunk`.
 * Null when a piece fits neither a kind nor an owned bin by that method.
 */
export function solvePacking(task: PackingTask, work = USUAL_EFFORT): PackingAnswer | null {
  if (task.kinds.some((k) => !(k.capacity > 0))) throw new RangeError('a kind of bin must hold something');
  const start = bestFitShrunk(task);
  if (start === null) return null;
  const cost = costOf(task, start.purchase);
  const count = countOf(start.purchase);
  const weightings = weightingsOf(task);
  const state: State = {
    task,
    weightings,
    random: seeded(SEED),
    effort: { left: work },
    best: { ...start, cost, count },
    open: [],
  };
  let listed = listUpwards(state);
  const open = state.open.length > 0 || listed < state.best.cost;
  if (open && price(state) && listed < state.best.cost) listed = listUpwards(state);
  insist(state);
  const cheaper = state.open.map((p) => costOf(task, p));
  const lowerBound = Math.min(state.best.cost, listed, ...cheaper);
  return {
    purchase: state.best.purchase,
    packing: state.best.packing,
    cost: state.best.cost,
    lowerBound,
    proven: lowerBound === state.best.cost,
  };
}

import { bestFit } from './bestFit.ts';
import type { Effort } from './types.ts';

/** Pieces that most nearly fill `room`, among the candidates (indexes, largest first), by a search cut at `tries`. */
function fullest(
  sizes: readonly number[],
  candidates: readonly number[],
  room: number,
  tries: number,
  effort: Effort,
): number[] {
  let best: number[] = [];
  let bestSum = 0;
  let left = tries;
  const suffix = new Array<number>(candidates.length + 1).fill(0);
  for (let i = candidates.length - 1; i >= 0; i--)
    suffix[i] = (suffix[i + 1] ?? 0) + (sizes[candidates[i] ?? 0] ?? 0);
  const chosen: number[] = [];
  const visit = (from: number, sum: number) => {
    left--;
    if (sum > bestSum) {
      bestSum = sum;
      best = [...chosen];
    }
    let lastSize = -1;
    for (let i = from; i < candidates.length && left > 0 && bestSum < room; i++) {
      if (sum + (suffix[i] ?? 0) <= bestSum) return;
      const piece = candidates[i] ?? 0;
      const size = sizes[piece] ?? 0;
      if (size === lastSize || sum + size > room) continue;
      lastSize = size;
      chosen.push(piece);
      visit(i + 1, sum + size);
      chosen.pop();
    }
  };
  visit(0, 0);
  effort.left -= tries - left;
  return best;
}

/** Fills the bins one after another, each as full as can be, its first piece the largest that fits. */
function fillInTurn(
  sizes: readonly number[],
  capacities: readonly number[],
  random: () => number,
  effort: Effort,
): number[] {
  const binOf = new Array<number>(sizes.length).fill(-1);
  const turn = capacities.map((c, b) => ({ b, key: c }));
  const style = Math.floor(random() * 3);
  turn.sort((x, y) => (style === 0 ? x.key - y.key : style === 1 ? y.key - x.key : 0));
  if (style === 2) shuffle(turn, random);
  // Now and then a piece sits out a bin, so that no two fillings are alike.
  const sitOut = random() < 0.3 ? 0 : 0.25 * random();
  let remaining = sizes.map((_, i) => i);
  for (const { b } of turn) {
    const room = capacities[b] ?? 0;
    const seed = remaining.find((i) => (sizes[i] ?? 0) <= room);
    if (seed === undefined) continue;
    const others = remaining.filter((i) => i !== seed && random() >= sitOut);
    const chosen = [seed, ...fullest(sizes, others, room - (sizes[seed] ?? 0), 400, effort)];
    for (const i of chosen) binOf[i] = b;
    remaining = remaining.filter((i) => binOf[i] === -1);
  }
  return binOf;
}

function shuffle<T>(list: T[], random: () => number): void {
  for (let i = list.length - 1; i > 0; i--) {
    const j = Math.floor(random() * (i + 1));
    [list[i], list[j]] = [list[j] as T, list[i] as T];
  }
}

/** A partial packing being mended: what lies in each bin, its room left, and the pieces still outside. */
interface Bench {
  readonly sizes: readonly number[];
  readonly capacities: readonly number[];
  readonly binOf: number[];
  readonly inBin: number[][];
  readonly free: number[];
  readonly out: number[];
}

function benchOf(sizes: readonly number[], capacities: readonly number[], binOf: readonly number[]): Bench {
  const bench: Bench = {
    sizes,
    capacities,
    binOf: [...binOf],
    inBin: capacities.map(() => []),
    free: [...capacities],
    out: [],
  };
  for (const [i, b] of binOf.entries()) {
    if (b < 0) bench.out.push(i);
    else {
      bench.inBin[b]?.push(i);
      bench.free[b] = (bench.free[b] ?? 0) - (sizes[i] ?? 0);
    }
  }
  return bench;
}

function take(bench: Bench, piece: number): void {
  const b = bench.binOf[piece] ?? -1;
  const list = bench.inBin[b];
  if (list === undefined) return;
  list.splice(list.indexOf(piece), 1);
  bench.free[b] = (bench.free[b] ?? 0) + (bench.sizes[piece] ?? 0);
  bench.binOf[piece] = -1;
  bench.out.push(piece);
}

function put(bench: Bench, piece: number, b: number): void {
  bench.out.splice(bench.out.indexOf(piece), 1);
  bench.binOf[piece] = b;
  bench.inBin[b]?.push(piece);
  bench.free[b] = (bench.free[b] ?? 0) - (bench.sizes[piece] ?? 0);
}

/** Empties a few bins and fills them again as full as can be from what is then outside. */
function refill(bench: Bench, random: () => number, effort: Effort): void {
  const { sizes } = bench;
  const bins = bench.capacities.map((_, b) => b);
  shuffle(bins, random);
  const some = bins.slice(0, 2 + Math.floor(random() * 2));
  for (const b of some) for (const piece of [...(bench.inBin[b] ?? [])]) take(bench, piece);
  for (const b of some) {
    const candidates = [...bench.out].sort((x, y) => (sizes[y] ?? 0) - (sizes[x] ?? 0));
    for (const piece of fullest(sizes, candidates, bench.free[b] ?? 0, 1500, effort)) put(bench, piece, b);
  }
}

/**
 * Brings in one outside piece by putting out the one or two pieces whose loss costs least, not touching pieces that
 * moved lately. Returns whether the length outside shrank.
 */
function exchange(
  bench: Bench,
  tabu: readonly number[],
  step: number,
  random: () => number,
  effort: Effort,
): boolean {
  const { sizes, inBin, free, out } = bench;
  let piece = out[Math.floor(random() * out.length)] ?? 0;
  if (random() < 0.6) for (const i of out) if ((sizes[i] ?? 0) > (sizes[piece] ?? 0)) piece = i;
  const size = sizes[piece] ?? 0;
  let bestBin = -1;
  let bestPair: readonly number[] = [];
  let bestLoss = Infinity;
  for (let b = 0; b < inBin.length; b++) {
    const list = inBin[b] as number[];
    const need = size - (free[b] as number);
    effort.left -= list.length + 1;
    if (size > (bench.capacities[b] as number)) continue;
    if (need <= 0) {
      // Into the tightest bin that takes it; a loss below nothing, so that fitting always beats exchanging.
      const loss = -1 - 1 / (1 - need);
      if (loss < bestLoss) [bestBin, bestPair, bestLoss] = [b, [], loss];
      continue;
    }
    for (let x = 0; x < list.length; x++) {
      const p = list[x] as number;
      if ((tabu[p] as number) > step) continue;
      const sp = sizes[p] as number;
      if (sp >= need) {
        if (sp < bestLoss || (sp === bestLoss && random() < 0.3))
          [bestBin, bestPair, bestLoss] = [b, [p], sp];
        continue;
      }
      for (let y = x + 1; y < list.length; y++) {
        const q = list[y] as number;
        const pair = sp + (sizes[q] as number);
        if (pair < need || pair > bestLoss || (tabu[q] as number) > step) continue;
        if (pair < bestLoss || random() < 0.3) [bestBin, bestPair, bestLoss] = [b, [p, q], pair];
      }
      effort.left -= list.length - x;
    }
  }
  if (bestBin < 0) return false;
  for (const p of bestPair) take(bench, p);
  put(bench, piece, bestBin);
  return bestLoss < size;
}

/** Outside pieces that have come to fit go in, largest first. */
function settle(bench: Bench): void {
  for (const piece of [...bench.out].sort((x, y) => (bench.sizes[y] ?? 0) - (bench.sizes[x] ?? 0))) {
    const size = bench.sizes[piece] ?? 0;
    let best = -1;
    for (const [b, room] of bench.free.entries()) {
      if (room >= size && (best < 0 || room < (bench.free[best] ?? 0))) best = b;
    }
    if (best >= 0) put(bench, piece, best);
  }
}

/** Mends a partial packing by exchanges that remember what moved lately, and by refilling bins when they stall. */
function mend(bench: Bench, random: () => number, effort: Effort): boolean {
  const tabu = new Array<number>(bench.sizes.length).fill(0);
  let step = 0;
  let stalled = 0;
  while (bench.out.length > 0 && effort.left > 0) {
    step++;
    const before = new Set(bench.out);
    const shrank = exchange(bench, tabu, step, random, effort);
    for (const i of before) {
      if (bench.binOf[i] !== -1) tabu[i] = step + 3 + Math.floor(random() * (4 + bench.sizes.length / 12));
    }
    settle(bench);
    stalled = shrank ? 0 : stalled + 1;
    if (stalled > 40 && bench.out.length > 0) {
      refill(bench, random, effort);
      stalled = 0;
    }
    effort.left -= 4 * bench.capacities.length + 20 * bench.out.length + 40;
  }
  return bench.out.length === 0;
}

/**
 * Looks for a packing of all pieces into these bins until the effort runs out: best-fit decreasing, then bins filled
 * in turn and mended, from new starts. Null proves nothing. Sizes largest first.
 */
export function searchFit(
  sizes: readonly number[],
  capacities: readonly number[],
  random: () => number,
  effort: Effort,
): number[] | null {
  const order = sizes.map((_, i) => i);
  const plain = bestFit(sizes, order, capacities);
  effort.left -= sizes.length * capacities.length;
  if (!plain.includes(-1)) return plain;
  let start = plain;
  while (effort.left > 0) {
    const share: Effort = { left: Math.min(effort.left, 40_000 + 600 * sizes.length) };
    const given = share.left;
    const bench = benchOf(sizes, capacities, start);
    const done = mend(bench, random, share);
    effort.left -= given - share.left;
    if (done) return bench.binOf;
    start = fillInTurn(sizes, capacities, random, effort);
    if (!start.includes(-1)) return start;
  }
  return null;
}

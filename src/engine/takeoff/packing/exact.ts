import type { Weighting } from './bounds.ts';
import type { Effort } from './types.ts';

export type Verdict =
  | { readonly fits: true; readonly binOf: readonly number[] }
  | { readonly fits: false }
  | { readonly fits: null };

/** Weightings followed inside the search: those with least room to spare. */
const FOLLOWED = 6;
/** States remembered as dead ends. */
const REMEMBERED = 150_000;

/** A weighting with the room it has to spare, and what each bin of this case may hold by it. */
interface Followed {
  readonly weight: readonly number[];
  readonly held: readonly number[];
  readonly spare: number;
}

/**
 * Whether all pieces (largest first) can lie in these bins: a full search that fills the bin for the largest piece in
 * every way that wastes no more than there is to waste, by length and by each weighting. `held[w][bin]` is what a bin
 * can hold by weighting w. Answers null when the effort runs out first.
 */
export function exactFit(
  sizes: readonly number[],
  capacities: readonly number[],
  weightings: readonly Weighting[],
  held: readonly (readonly number[])[],
  effort: Effort,
): Verdict {
  const followed: Followed[] = weightings
    .map((w, i) => {
      const holds = held[i] ?? [];
      return { weight: w.weight, held: holds, spare: holds.reduce((sum, h) => sum + h, 0) - w.total };
    })
    .sort((a, b) => a.spare / Math.max(1, Math.max(...a.held)) - b.spare / Math.max(1, Math.max(...b.held)))
    .slice(0, FOLLOWED);
  if (followed.some((f) => f.spare < 0)) return { fits: false };
  const waste = capacities.reduce((sum, c) => sum + c, 0) - sizes.reduce((sum, s) => sum + s, 0);
  if (waste < 0) return { fits: false };

  const binOf = new Array<number>(sizes.length).fill(-1);
  const open = capacities.map((_, b) => b);
  const dead = new Set<string>();
  const stateOf = (bins: readonly number[]) => {
    const pieces: number[] = [];
    for (let i = 0; i < sizes.length; i++) if (binOf[i] === -1) pieces.push(sizes[i] as number);
    return `${pieces.join(',')}|${bins.map((b) => capacities[b]).join(',')}`;
  };

  /** Fills the rest of the bins; true when done, false when impossible, null when out of effort. */
  const solve = (bins: readonly number[], toWaste: number, spares: readonly number[]): boolean | null => {
    const first = binOf.indexOf(-1);
    if (first < 0) return true;
    if (effort.left <= 0) return null;
    const state = stateOf(bins);
    effort.left -= 8 * sizes.length;
    if (dead.has(state)) return false;
    let sure = true;
    const tried = new Set<number>();
    for (const b of bins) {
      const capacity = capacities[b] as number;
      if (tried.has(capacity) || (sizes[first] as number) > capacity) continue;
      tried.add(capacity);
      const rest = bins.filter((other) => other !== b);
      binOf[first] = b;
      const answer = fill(b, first + 1, capacity - (sizes[first] as number), rest, toWaste, spares);
      if (answer === true) return true;
      if (answer === null) sure = false;
      binOf[first] = -1;
      if (effort.left <= 0) return null;
    }
    if (!sure) return null;
    if (dead.size < REMEMBERED) dead.add(state);
    return false;
  };

  /** Adds further pieces to bin b, from piece `from` on, then goes on with the other bins. */
  const fill = (
    b: number,
    from: number,
    room: number,
    rest: readonly number[],
    toWaste: number,
    spares: readonly number[],
  ): boolean | null => {
    effort.left -= 4 + sizes.length - from;
    if (effort.left <= 0) return null;
    let sure = true;
    let lastSize = -1;
    for (let i = from; i < sizes.length; i++) {
      const size = sizes[i] as number;
      if (binOf[i] !== -1 || size > room || size === lastSize) continue;
      lastSize = size;
      binOf[i] = b;
      const answer = fill(b, i + 1, room - size, rest, toWaste, spares);
      if (answer === true) return true;
      if (answer === null) sure = false;
      binOf[i] = -1;
      if (effort.left <= 0) return null;
    }
    if (room > toWaste) return sure ? false : null;
    // A filling that leaves room for a piece still outside is never better than the one with it.
    for (let i = sizes.length - 1; i >= 0; i--) {
      if (binOf[i] === -1) {
        if ((sizes[i] as number) <= room) return sure ? false : null;
        break;
      }
    }
    const left = followed.map((f, k) => {
      let inside = 0;
      for (let i = 0; i < sizes.length; i++) if (binOf[i] === b) inside += f.weight[i] as number;
      return (spares[k] as number) - ((f.held[b] as number) - inside);
    });
    effort.left -= 2 * followed.length * sizes.length;
    if (left.some((s) => s < 0)) return sure ? false : null;
    const answer = solve(rest, toWaste - room, left);
    if (answer === true) return true;
    return answer === null || !sure ? null : false;
  };

  const answer = solve(
    open,
    waste,
    followed.map((f) => f.spare),
  );
  if (answer === true) return { fits: true, binOf };
  return { fits: answer === null ? null : false };
}

import { searchFit } from './fit.ts';
import type { Packing } from './types.ts';
import { seeded } from './types.ts';

const SEED = 19;
/** Halvings of the search for the longest remnant, and the work of each try. */
const STEPS = 10;
const WORK = 60_000;

/**
 * The same bins, packed so that one of the bought ones (index `firstBought` on) keeps as long a single remnant as can
 * be found: tried for the largest bin of each capacity by leaving it less and less room. Never shorter than before.
 */
export function keepLongestRemnant(sizes: readonly number[], packing: Packing, firstBought: number): Packing {
  const { capacities } = packing;
  const free = [...capacities];
  for (const [i, b] of packing.binOf.entries()) free[b] = (free[b] ?? 0) - (sizes[i] ?? 0);
  let best = packing;
  let longest = Math.max(0, ...free.slice(firstBought));
  const spare = free.reduce((sum, f) => sum + f, 0);
  const random = seeded(SEED);
  const tried = new Set<number>();
  for (let b = firstBought; b < capacities.length; b++) {
    const capacity = capacities[b] ?? 0;
    if (tried.has(capacity)) continue;
    tried.add(capacity);
    let low = longest;
    let high = Math.min(capacity, spare);
    for (let step = 0; step < STEPS && high > low; step++) {
      const keep = step === 0 ? high : Math.ceil((low + high) / 2);
      const less = capacities.map((c, other) => (other === b ? c - keep : c));
      const binOf = searchFit(sizes, less, random, { left: WORK });
      if (binOf === null) high = keep - 1;
      else {
        best = { capacities, binOf };
        longest = keep;
        low = keep;
      }
    }
  }
  return best;
}

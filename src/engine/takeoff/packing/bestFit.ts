import type { Packing, PackingTask, Purchase } from './types.ts';

/**
 * Best-fit decreasing into the given capacities: each piece, in the order given, into the fullest bin that takes it.
 * Pieces that fit nowhere get bin -1.
 */
export function bestFit(
  sizes: readonly number[],
  order: readonly number[],
  capacities: readonly number[],
): number[] {
  const free = [...capacities];
  const binOf = new Array<number>(sizes.length).fill(-1);
  for (const piece of order) {
    const size = sizes[piece] ?? 0;
    let best = -1;
    for (const [b, room] of free.entries()) {
      if (room >= size && (best < 0 || room < (free[best] ?? 0))) best = b;
    }
    if (best < 0) continue;
    binOf[piece] = best;
    free[best] = (free[best] ?? 0) - size;
  }
  return binOf;
}

/**
 * The plain method to be never worse than: best-fit decreasing into owned bins and as many of the largest kind as it
 * takes, then each bought bin exchanged for the cheapest that holds its content. Null when a piece fits nowhere.
 */
export function bestFitShrunk(
  task: PackingTask,
): { readonly purchase: Purchase; readonly packing: Packing } | null {
  const { sizes, kinds, owned } = task;
  const largest = kinds[0];
  const capacities = [...owned];
  const free = [...owned];
  const binOf: number[] = [];
  for (const size of sizes) {
    let best = -1;
    for (const [b, room] of free.entries()) {
      if (room >= size && (best < 0 || room < (free[best] ?? 0))) best = b;
    }
    if (best < 0) {
      if (largest === undefined || largest.capacity < size) return null;
      best = capacities.push(largest.capacity) - 1;
      free.push(largest.capacity);
    }
    binOf.push(best);
    free[best] = (free[best] ?? 0) - size;
  }
  const bought = capacities.slice(owned.length).map((capacity, n) => {
    const b = owned.length + n;
    const content = capacity - (free[b] ?? 0);
    let choice = 0;
    for (const [k, kind] of kinds.entries()) {
      if (kind.capacity >= content && kind.cost <= (kinds[choice]?.cost ?? Infinity)) choice = k;
    }
    return { b, choice };
  });
  // Bins in the order of `capacitiesOf`: owned, then kind by kind.
  bought.sort((x, y) => x.choice - y.choice || x.b - y.b);
  const place = new Map(bought.map(({ b }, n) => [b, owned.length + n]));
  return {
    purchase: kinds.map((_, k) => bought.filter((x) => x.choice === k).length),
    packing: {
      capacities: [...owned, ...bought.map(({ choice }) => kinds[choice]?.capacity ?? 0)],
      binOf: binOf.map((b) => place.get(b) ?? b),
    },
  };
}

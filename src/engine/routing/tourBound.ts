import type { DistanceTable } from './types.ts';

/**
 * A length no closed tour can be shorter than: the best one-tree (a spanning tree of all but place 0, and the two
 * cheapest links of place 0) after moving prices between places so that each has two links (Held and Karp, 1970).
 * `upper` is the length of any tour. Every round gives a valid bound; the best is returned.
 */
export function oneTreeBound(table: DistanceTable, upper: number, rounds = 400): number {
  const { n, d } = table;
  if (n < 3) return upper;
  const price = new Float64Array(n);
  const degree = new Int32Array(n);
  const lastDegree = new Int32Array(n).fill(2);
  let best = -Infinity;
  let step = 1;
  let since = 0;
  for (let round = 0; round < rounds; round += 1) {
    const tree = oneTree(n, d, price, degree);
    let priced = 0;
    for (let i = 0; i < n; i += 1) priced += price[i] as number;
    const bound = tree - 2 * priced;
    if (bound > best + 1e-12) {
      best = bound;
      since = 0;
    } else {
      since += 1;
      if (since >= 10) {
        step /= 1.5;
        since = 0;
      }
    }
    let norm = 0;
    for (let i = 0; i < n; i += 1) norm += ((degree[i] as number) - 2) ** 2;
    if (norm === 0 || step < 1e-9) break;
    const size = (step * Math.max(upper - bound, Math.abs(upper) * 1e-9)) / norm;
    for (let i = 0; i < n; i += 1) {
      const off = 0.7 * ((degree[i] as number) - 2) + 0.3 * ((lastDegree[i] as number) - 2);
      price[i] = (price[i] as number) + size * off;
      lastDegree[i] = degree[i] as number;
    }
  }
  return best;
}

/** Priced length of the least one-tree; writes how many links each place has. Prim's method on a full table. */
function oneTree(n: number, d: Float64Array, price: Float64Array, degree: Int32Array): number {
  const near = new Float64Array(n).fill(Infinity);
  const parent = new Int32Array(n).fill(-1);
  const inside = new Uint8Array(n);
  degree.fill(0);
  const cost = (a: number, b: number): number =>
    (d[a * n + b] as number) + (price[a] as number) + (price[b] as number);
  let sum = 0;
  let at = 1;
  inside[1] = 1;
  for (let count = 2; count < n; count += 1) {
    let next = -1;
    for (let i = 1; i < n; i += 1) {
      if (inside[i] === 1) continue;
      const c = cost(at, i);
      if (c < (near[i] as number)) {
        near[i] = c;
        parent[i] = at;
      }
      if (next < 0 || (near[i] as number) < (near[next] as number)) next = i;
    }
    inside[next] = 1;
    sum += near[next] as number;
    degree[next] = (degree[next] as number) + 1;
    const p = parent[next] as number;
    degree[p] = (degree[p] as number) + 1;
    at = next;
  }
  let first = -1;
  let second = -1;
  for (let i = 1; i < n; i += 1) {
    if (first < 0 || cost(0, i) < cost(0, first)) {
      second = first;
      first = i;
    } else if (second < 0 || cost(0, i) < cost(0, second)) second = i;
  }
  for (const i of [first, second]) {
    sum += cost(0, i);
    degree[0] = (degree[0] as number) + 1;
    degree[i] = (degree[i] as number) + 1;
  }
  return sum;
}

import type { DistanceTable } from './types.ts';

const EPS = 1e-9;

/** Length of a closed tour. */
export function tourLength({ n, d }: DistanceTable, tour: readonly number[]): number {
  let sum = 0;
  for (let i = 0; i < tour.length; i += 1) {
    sum += d[(tour[i] as number) * n + (tour[(i + 1) % tour.length] as number)] as number;
  }
  return sum;
}

/** The tour that always goes to the nearest place not yet visited; ties go to the lower number. */
export function nearestTour({ n, d }: DistanceTable, from: number): number[] {
  const tour = [from];
  const left = new Set(Array.from({ length: n }, (_, i) => i));
  left.delete(from);
  for (let at = from; left.size > 0;) {
    let next = -1;
    let nearest = Infinity;
    for (const place of left) {
      const distance = d[at * n + place] as number;
      if (distance < nearest) {
        nearest = distance;
        next = place;
      }
    }
    if (next < 0) next = left.values().next().value as number;
    left.delete(next);
    tour.push(next);
    at = next;
  }
  return tour;
}

/**
 * Two-opt and or-opt (moving up to three neighbours together, either way round) until neither shortens the tour.
 * The given tour is not changed.
 */
export function improveTour({ n, d }: DistanceTable, given: readonly number[]): number[] {
  const t = Int32Array.from(given);
  const size = t.length;
  const at = (i: number): number => t[i < 0 ? i + size : i >= size ? i - size : i] as number;
  const link = (a: number, b: number): number => d[a * n + b] as number;

  const reverse = (i: number, j: number): void => {
    for (let a = i, b = j; a < b; a += 1, b -= 1) {
      const keep = t[a] as number;
      t[a] = t[b] as number;
      t[b] = keep;
    }
  };

  const twoOpt = (): boolean => {
    let better = false;
    for (let i = 0; i < size - 1; i += 1) {
      for (let j = i + 2; j < size; j += 1) {
        if (i === 0 && j === size - 1) continue;
        const a = at(i);
        const b = at(i + 1);
        const c = at(j);
        const e = at(j + 1);
        if (link(a, c) + link(b, e) < link(a, b) + link(c, e) - EPS) {
          reverse(i + 1, j);
          better = true;
        }
      }
    }
    return better;
  };

  const orOpt = (): boolean => {
    for (let length = 1; length <= 3 && length < size - 2; length += 1) {
      for (let i = 0; i < size; i += 1) {
        const head = at(i);
        const tail = at((i + length - 1) % size);
        const before = at(i - 1);
        const after = at((i + length) % size);
        const gain = link(before, head) + link(tail, after) - link(before, after);
        if (gain <= EPS) continue;
        for (let step = length; step < size - 1; step += 1) {
          const p = at((i + step) % size);
          const q = at((i + step + 1) % size);
          const opened = link(p, q);
          const straight = link(p, head) + link(tail, q) - opened;
          const turned = link(p, tail) + link(head, q) - opened;
          if (Math.min(straight, turned) >= gain - EPS) continue;
          const whole = Array.from({ length: size }, (_, k) => at((i + k) % size));
          const piece = whole.slice(0, length);
          const rest = whole.slice(length);
          const cut = step - length + 1;
          if (turned < straight) piece.reverse();
          t.set([...rest.slice(0, cut), ...piece, ...rest.slice(cut)]);
          return true;
        }
      }
    }
    return false;
  };

  while (twoOpt() || orOpt());
  return Array.from(t);
}

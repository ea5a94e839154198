import type { FacePoint, Mm } from '../model/units.ts';
import { nearestIn, type Convex } from './convex.ts';

/** The spot of a stretch that is furthest from all of some areas, and the way back. */
export interface WorstSpot {
  /** Fraction of the leg. */
  readonly t: number;
  readonly spot: FacePoint;
  readonly distance: Mm;
  readonly nearest: FacePoint;
}

const at = (a: FacePoint, b: FacePoint, t: number): FacePoint => ({
  u: a.u + (b.u - a.u) * t,
  z: a.z + (b.z - a.z) * t,
});

/** Nearest point over several areas; the first of equals. */
export function nearestOf(areas: readonly Convex[], x: FacePoint): { at: FacePoint; distance: Mm } | null {
  let best: { at: FacePoint; distance: Mm } | null = null;
  for (const area of areas) {
    const found = nearestIn(area, x);
    if (best === null || found.distance < best.distance) best = found;
  }
  return best;
}

/**
 * Where the nearest feature of an area changes as the spot moves along a-b. Outside a convex outline the feature is an
 * edge or a corner, and the two meet on the perpendiculars raised at the corners: those are crossed at these t.
 */
function featureChanges(a: FacePoint, b: FacePoint, area: Convex, t0: number, t1: number): number[] {
  const changes: number[] = [];
  const n = area.outline.length;
  for (let i = 0; i < n; i++) {
    const p = area.outline[i] as FacePoint;
    const q = area.outline[(i + 1) % n] as FacePoint;
    const [du, dz] = [q.u - p.u, q.z - p.z];
    const speed = (b.u - a.u) * du + (b.z - a.z) * dz;
    if (speed === 0) continue;
    for (const corner of [p, q]) {
      const t = ((corner.u - a.u) * du + (corner.z - a.z) * dz) / speed;
      if (t > t0 && t < t1) changes.push(t);
    }
  }
  return changes;
}

/** c0 + c1 t + c2 t²: the square of the distance to an area where its nearest feature does not change. */
type Quadratic = readonly [number, number, number];

function quadraticAt(a: FacePoint, b: FacePoint, area: Convex, lo: number, hi: number): Quadratic {
  // Three values fix a quadratic; taken at the ends and the middle of the stretch, in s = 0..1.
  const square = (t: number) => nearestIn(area, at(a, b, t)).distance ** 2;
  const [f0, fm, f1] = [square(lo), square((lo + hi) / 2), square(hi)];
  return [f0, -3 * f0 + 4 * fm - f1, 2 * f0 - 4 * fm + 2 * f1];
}

/** Roots in 0..1 of a quadratic difference. */
function roots([c0, c1, c2]: Quadratic): number[] {
  const size = Math.max(Math.abs(c0), Math.abs(c1), Math.abs(c2));
  if (size === 0) return [];
  if (Math.abs(c2) <= 1e-12 * size) return c1 === 0 ? [] : [-c0 / c1];
  const inner = c1 * c1 - 4 * c2 * c0;
  if (inner < 0) return [];
  const q = -0.5 * (c1 + (c1 < 0 ? -1 : 1) * Math.sqrt(inner));
  return q === 0 ? [0] : [q / c2, c0 / q];
}

/** Areas that can be the nearest somewhere on the stretch: the others are further off than some area ever is. */
function within(a: FacePoint, b: FacePoint, t0: number, t1: number, areas: readonly Convex[]): Convex[] {
  const [p, q] = [at(a, b, t0), at(a, b, t1)];
  // The distance to a convex area is convex along a line, so it is greatest at an end.
  const ends = areas.map((area) => Math.max(nearestIn(area, p).distance, nearestIn(area, q).distance));
  const reach = Math.min(...ends) + 1e-9;
  return areas.filter((area) => {
    const du = Math.max(0, area.u0 - Math.max(p.u, q.u), Math.min(p.u, q.u) - area.u1);
    const dz = Math.max(0, area.z0 - Math.max(p.z, q.z), Math.min(p.z, q.z) - area.z1);
    return Math.hypot(du, dz) <= reach;
  });
}

/** Equal within this, mm, two spots are equally bad and the one nearer the middle of the stretch is taken. */
const EQUAL: Mm = 1e-6;

/**
 * The spot of the stretch t0..t1 of the leg a-b that is furthest from the union of the areas, and its nearest legal
 * position. Exact: the least of several convex functions can only peak at an end or where two of them are equal, and
 * between changes of feature the squares of the distances are quadratic. The stretch must lie outside the areas.
 * Null when there is no area.
 */
export function worstSpot(
  a: FacePoint,
  b: FacePoint,
  t0: number,
  t1: number,
  areas: readonly Convex[],
): WorstSpot | null {
  if (areas.length === 0) return null;
  const near = within(a, b, t0, t1, areas);
  const changes = near.flatMap((area) => featureChanges(a, b, area, t0, t1));
  const cuts = [...new Set([t0, ...changes, t1])].sort((x, y) => x - y);
  const candidates = [(t0 + t1) / 2, ...cuts];
  for (let i = 1; i < cuts.length; i++) {
    const [lo, hi] = [cuts[i - 1] as number, cuts[i] as number];
    const squares = near.map((area) => quadraticAt(a, b, area, lo, hi));
    for (let j = 0; j < squares.length; j++) {
      for (let k = j + 1; k < squares.length; k++) {
        const [f, g] = [squares[j] as Quadratic, squares[k] as Quadratic];
        for (const s of roots([f[0] - g[0], f[1] - g[1], f[2] - g[2]])) {
          if (s > 0 && s < 1) candidates.push(lo + s * (hi - lo));
        }
      }
    }
  }
  const middle = (t0 + t1) / 2;
  let worst: WorstSpot | null = null;
  for (const t of candidates) {
    const spot = at(a, b, t);
    const best = nearestOf(near, spot);
    if (best === null) continue;
    const further = worst === null ? Infinity : best.distance - worst.distance;
    const closer = worst !== null && Math.abs(t - middle) < Math.abs(worst.t - middle);
    if (further > EQUAL || (further > -EQUAL && closer)) {
      worst = { t, spot, distance: best.distance, nearest: best.at };
    }
  }
  return worst;
}

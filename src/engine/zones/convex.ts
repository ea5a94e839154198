import type { FacePoint, Mm } from '../model/units.ts';

/** Rounding of positions: bounds are closed and no tolerance beyond this is given, mm. */
export const ROUNDING: Mm = 1e-6;

/** A convex outline in face coordinates, anticlockwise (u right, z up), with its box. */
export interface Convex {
  readonly outline: readonly FacePoint[];
  readonly u0: Mm;
  readonly u1: Mm;
  readonly z0: Mm;
  readonly z1: Mm;
}

/** The outline with its box. Outlines are taken as convex and anticlockwise; nothing is checked. */
export function convex(outline: readonly FacePoint[]): Convex {
  let [u0, u1, z0, z1] = [Infinity, -Infinity, Infinity, -Infinity];
  for (const { u, z } of outline) {
    u0 = Math.min(u0, u);
    u1 = Math.max(u1, u);
    z0 = Math.min(z0, z);
    z1 = Math.max(z1, z);
  }
  return { outline, u0, u1, z0, z1 };
}

/** An axis-parallel rectangle. */
export function rectangle(u0: Mm, u1: Mm, z0: Mm, z1: Mm): Convex {
  return {
    outline: [
      { u: u0, z: z0 },
      { u: u1, z: z0 },
      { u: u1, z: z1 },
      { u: u0, z: z1 },
    ],
    u0,
    u1,
    z0,
    z1,
  };
}

/** Left of the line from p to q is positive: mm. The two points must differ. */
function leftOf(p: FacePoint, q: FacePoint, x: FacePoint): Mm {
  const du = q.u - p.u;
  const dz = q.z - p.z;
  return (du * (x.z - p.z) - dz * (x.u - p.u)) / Math.hypot(du, dz);
}

const between = (p: FacePoint, q: FacePoint, t: number): FacePoint => ({
  u: p.u + (q.u - p.u) * t,
  z: p.z + (q.z - p.z) * t,
});

/** What of a convex outline lies left of the line from p to q; null when no area is left. Exact but for rounding. */
export function clipToLeft(shape: Convex, p: FacePoint, q: FacePoint): Convex | null {
  const { outline } = shape;
  const sides = outline.map((x) => leftOf(p, q, x));
  if (sides.every((s) => s >= 0)) return shape;
  const kept: FacePoint[] = [];
  outline.forEach((x, i) => {
    const j = (i + 1) % outline.length;
    const [s, n] = [sides[i] as Mm, sides[j] as Mm];
    if (s >= 0) kept.push(x);
    if (s > 0 !== n > 0 && s !== 0 && n !== 0) kept.push(between(x, outline[j] as FacePoint, s / (s - n)));
  });
  if (kept.length < 3) return null;
  const clipped = convex(kept);
  return clipped.u1 - clipped.u0 > ROUNDING && clipped.z1 - clipped.z0 > ROUNDING ? clipped : null;
}

const isRectangle = (c: Convex): boolean =>
  c.outline.length === 4 &&
  c.outline.every((x) => (x.u === c.u0 || x.u === c.u1) && (x.z === c.z0 || x.z === c.z1));

/**
 * What two convex outlines share; null when they do not meet. Of two rectangles a shared edge or corner counts, as
 * bounds are closed; under a sloped top only a shared area does.
 */
export function intersection(a: Convex, b: Convex): Convex | null {
  const u0 = Math.max(a.u0, b.u0);
  const u1 = Math.min(a.u1, b.u1);
  const z0 = Math.max(a.z0, b.z0);
  const z1 = Math.min(a.z1, b.z1);
  if (u0 > u1 || z0 > z1) return null;
  if (isRectangle(a) && isRectangle(b)) return rectangle(u0, u1, z0, z1);
  let shared: Convex | null = a;
  for (let i = 0; i < b.outline.length && shared !== null; i++) {
    const p = b.outline[i] as FacePoint;
    const q = b.outline[(i + 1) % b.outline.length] as FacePoint;
    if (Math.hypot(q.u - p.u, q.z - p.z) > ROUNDING) shared = clipToLeft(shared, p, q);
  }
  return shared;
}

/**
 * The stretch of the segment a-b inside a convex outline as fractions, or null. Bounds are closed with `slack` mm to
 * spare; a negative slack asks for a stretch that much inside.
 */
export function clipSegment(
  a: FacePoint,
  b: FacePoint,
  shape: Convex,
  slack: Mm,
): { readonly t0: number; readonly t1: number } | null {
  if (Math.max(a.u, b.u) < shape.u0 - slack || Math.min(a.u, b.u) > shape.u1 + slack) return null;
  if (Math.max(a.z, b.z) < shape.z0 - slack || Math.min(a.z, b.z) > shape.z1 + slack) return null;
  let t0 = 0;
  let t1 = 1;
  const n = shape.outline.length;
  for (let i = 0; i < n; i++) {
    const p = shape.outline[i] as FacePoint;
    const q = shape.outline[(i + 1) % n] as FacePoint;
    if (p.u === q.u && p.z === q.z) continue;
    const sa = leftOf(p, q, a) + slack;
    const sb = leftOf(p, q, b) + slack;
    if (sa < 0 && sb < 0) return null;
    if (sa < 0) t0 = Math.max(t0, sa / (sa - sb));
    else if (sb < 0) t1 = Math.min(t1, sa / (sa - sb));
  }
  return t0 <= t1 ? { t0, t1 } : null;
}

/** Is the spot inside the closed outline, with `slack` mm to spare? */
export function holds(shape: Convex, x: FacePoint, slack: Mm): boolean {
  return clipSegment(x, x, shape, slack) !== null;
}

/** The nearest point of a convex outline (or of its inside) to a spot, and how far it is. */
export function nearestIn(shape: Convex, x: FacePoint): { readonly at: FacePoint; readonly distance: Mm } {
  if (holds(shape, x, 0)) return { at: x, distance: 0 };
  let best = { at: x, distance: Infinity };
  const n = shape.outline.length;
  for (let i = 0; i < n; i++) {
    const p = shape.outline[i] as FacePoint;
    const q = shape.outline[(i + 1) % n] as FacePoint;
    const [du, dz] = [q.u - p.u, q.z - p.z];
    const square = du * du + dz * dz;
    const along = square === 0 ? 0 : ((x.u - p.u) * du + (x.z - p.z) * dz) / square;
    const at = along <= 0 ? p : along >= 1 ? q : between(p, q, along);
    const distance = Math.hypot(at.u - x.u, at.z - x.z);
    if (distance < best.distance) best = { at, distance };
  }
  return best;
}

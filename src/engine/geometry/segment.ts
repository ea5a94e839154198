import type { Mm, PlanPoint } from '../model/units.ts';
import { pointDistance, vectorCross, vectorDot, vectorSub } from './vector.ts';

/** Where a point stands by a segment: `along` from a on its line (not clamped), `off` square to it, mm. */
export interface Foot {
  readonly along: Mm;
  /** Positive to the right of a→b on screen (y down). */
  readonly off: Mm;
}

export function segmentLength(a: PlanPoint, b: PlanPoint): Mm {
  return pointDistance(a, b);
}

/** The foot of p on the line through a and b; null when a and b are one point. */
export function segmentFoot(p: PlanPoint, a: PlanPoint, b: PlanPoint): Foot | null {
  const d = vectorSub(b, a);
  const length = Math.hypot(d.x, d.y);
  if (!(length > 0)) return null;
  const v = vectorSub(p, a);
  return { along: vectorDot(v, d) / length, off: vectorCross(d, v) / length };
}

/** The point of the segment nearest to p, and its distance, mm. A segment of no length is its point. */
export function segmentNearest(
  p: PlanPoint,
  a: PlanPoint,
  b: PlanPoint,
): { readonly point: PlanPoint; readonly t: number; readonly distance: Mm } {
  const d = vectorSub(b, a);
  const square = vectorDot(d, d);
  const t = square > 0 ? Math.min(1, Math.max(0, vectorDot(vectorSub(p, a), d) / square)) : 0;
  const point = { x: a.x + d.x * t, y: a.y + d.y * t };
  return { point, t, distance: pointDistance(p, point) };
}

/**
 * Where two segments cross, as fractions of each, or null. Segments in line or parallel (the sine of their angle is at
 * most `parallel`) never cross here, whether they overlap or not.
 */
export function segmentCrossing(
  a: PlanPoint,
  b: PlanPoint,
  c: PlanPoint,
  d: PlanPoint,
  parallel: number,
): { readonly t: number; readonly s: number; readonly point: PlanPoint } | null {
  const r = vectorSub(b, a);
  const q = vectorSub(d, c);
  const cross = vectorCross(r, q);
  const scale = Math.hypot(r.x, r.y) * Math.hypot(q.x, q.y);
  if (!(Math.abs(cross) > parallel * scale)) return null;
  const w = vectorSub(c, a);
  const t = vectorCross(w, q) / cross;
  const s = vectorCross(w, r) / cross;
  if (t < 0 || t > 1 || s < 0 || s > 1) return null;
  return { t, s, point: { x: a.x + r.x * t, y: a.y + r.y * t } };
}

/** How far along each of two lines (point and unit direction) they meet, mm; null when parallel within `parallel`. */
export function lineMeeting(
  p: PlanPoint,
  e: PlanPoint,
  q: PlanPoint,
  f: PlanPoint,
  parallel: number,
): { readonly s: Mm; readonly t: Mm; readonly point: PlanPoint } | null {
  const cross = vectorCross(e, f);
  if (!(Math.abs(cross) > parallel)) return null;
  const w = vectorSub(q, p);
  const s = vectorCross(w, f) / cross;
  const t = vectorCross(w, e) / cross;
  return { s, t, point: { x: p.x + e.x * s, y: p.y + e.y * s } };
}

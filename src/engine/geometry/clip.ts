import type { PlanPoint } from '../model/units.ts';
import { polygonArea } from './polygon.ts';

/**
 * The stretch of the segment a→b inside a closed convex polygon (either direction round), as fractions t0 <= t1 of the
 * segment; null when they do not meet. A touch gives t0 = t1. `tolerance` widens the polygon by that many mm on every
 * edge; pass 0 for the plain closed polygon. A polygon of no area holds nothing. A segment of no length is in (0 to 1)
 * or out whole. Method: the segment's parameter range cut by each edge's half-plane in turn (Cyrus and Beck, 1978).
 */
export function clipSegmentToConvex(
  a: PlanPoint,
  b: PlanPoint,
  convex: readonly PlanPoint[],
  tolerance: number,
): { readonly t0: number; readonly t1: number } | null {
  const area = polygonArea(convex);
  if (area === 0) return null;
  const sense = area > 0 ? 1 : -1;
  let t0 = 0;
  let t1 = 1;
  for (let i = 0; i < convex.length; i++) {
    const p = convex[i] as PlanPoint;
    const q = convex[(i + 1) % convex.length] as PlanPoint;
    const length = Math.hypot(q.x - p.x, q.y - p.y);
    if (length === 0) continue;
    const nx = (sense * (p.y - q.y)) / length;
    const ny = (sense * (q.x - p.x)) / length;
    // Distance inside this edge, at the segment's two ends.
    const da = nx * (a.x - p.x) + ny * (a.y - p.y) + tolerance;
    const db = nx * (b.x - p.x) + ny * (b.y - p.y) + tolerance;
    if (da < 0 && db < 0) return null;
    if (da >= 0 && db >= 0) continue;
    const t = da / (da - db);
    if (da < 0) t0 = Math.max(t0, t);
    else t1 = Math.min(t1, t);
    if (t0 > t1) return null;
  }
  return { t0, t1 };
}

import type { Interval } from '../geometry/interval.ts';
import { intervalUnion } from '../geometry/interval.ts';
import { pointInPolygon } from '../geometry/polygon.ts';
import type { FacePoint, Mm, PlanPoint } from '../model/units.ts';
import type { Convex } from '../zones/convex.ts';
import { clipSegment, ROUNDING } from '../zones/convex.ts';

/** Is all of a..b within one of the intervals (closed, with rounding)? */
export function isCovered(list: readonly Interval[], a: number, b: number): boolean {
  const lo = Math.min(a, b);
  const hi = Math.max(a, b);
  return list.some((i) => i.lo <= lo + ROUNDING && i.hi >= hi - ROUNDING);
}

/** Does the open stretch a..b meet the inside of an interval? */
export function isCrossed(list: readonly Interval[], a: number, b: number): boolean {
  const lo = Math.min(a, b);
  const hi = Math.max(a, b);
  return list.some((i) => Math.min(i.hi, hi) - Math.max(i.lo, lo) > ROUNDING);
}

/** Intervals, in mm from `a`, in which the segment a..b lies within the union of convex areas of a face. */
export function legalIntervals(a: FacePoint, b: FacePoint, areas: readonly Convex[]): Interval[] {
  const length = Math.hypot(b.u - a.u, b.z - a.z);
  const found = areas.flatMap((area) => {
    const inside = clipSegment(a, b, area, ROUNDING);
    return inside === null ? [] : [{ lo: inside.t0 * length, hi: inside.t1 * length }];
  });
  return intervalUnion(found, ROUNDING);
}

/** Intervals, in mm from `a`, in which the segment a..b lies within any of the rings (even-odd within one ring). */
export function insideIntervals(
  a: PlanPoint,
  b: PlanPoint,
  rings: readonly (readonly PlanPoint[])[],
  tolerance: Mm,
): Interval[] {
  const length = Math.hypot(b.x - a.x, b.y - a.y);
  if (length === 0) return [];
  const dx = (b.x - a.x) / length;
  const dy = (b.y - a.y) / length;
  const found: Interval[] = [];
  for (const ring of rings) {
    const cuts = [0, length];
    for (let i = 0; i < ring.length; i += 1) {
      const p = ring[i] as PlanPoint;
      const q = ring[(i + 1) % ring.length] as PlanPoint;
      const p2 = dx * (p.y - a.y) - dy * (p.x - a.x);
      const q2 = dx * (q.y - a.y) - dy * (q.x - a.x);
      const p1 = dx * (p.x - a.x) + dy * (p.y - a.y);
      const q1 = dx * (q.x - a.x) + dy * (q.y - a.y);
      // Corners on the line cut it too: between neighbouring cuts it is wholly inside or wholly outside.
      if (Math.abs(p2) <= tolerance) cuts.push(p1);
      if (p2 * q2 < 0) cuts.push(p1 + ((q1 - p1) * p2) / (p2 - q2));
    }
    const sorted = cuts.filter((c) => c >= 0 && c <= length).sort((x, y) => x - y);
    for (let i = 1; i < sorted.length; i += 1) {
      const from = sorted[i - 1] as number;
      const to = sorted[i] as number;
      if (to - from <= ROUNDING) continue;
      const middle = (from + to) / 2;
      const spot = { x: a.x + dx * middle, y: a.y + dy * middle };
      if (pointInPolygon(spot, ring, tolerance) !== 'outside') found.push({ lo: from, hi: to });
    }
  }
  return intervalUnion(found, tolerance);
}

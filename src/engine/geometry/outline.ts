import type { Mm, PlanPoint } from '../model/units.ts';
import type { Interval } from './interval.ts';
import { pointInPolygon } from './polygon.ts';
import { segmentCrossing } from './segment.ts';

/**
 * The stretches of a plan segment inside an outline, as fractions of it. A segment of no length
 * is in whole or out. What lies along an edge, within `tolerance` mm, is out.
 */
export function insideOutline(
  a: PlanPoint,
  b: PlanPoint,
  outline: readonly PlanPoint[],
  tolerance: Mm,
): Interval[] {
  if (outline.length < 3) return [];
  const cuts = [0, 1];
  if (Math.hypot(b.x - a.x, b.y - a.y) > tolerance) {
    outline.forEach((p, i) => {
      const hit = segmentCrossing(a, b, p, outline[(i + 1) % outline.length] as PlanPoint, 1e-12);
      if (hit !== null) cuts.push(hit.t);
    });
  }
  cuts.sort((x, y) => x - y);
  const parts: Interval[] = [];
  for (let i = 1; i < cuts.length; i++) {
    const [lo, hi] = [cuts[i - 1] as number, cuts[i] as number];
    const t = (lo + hi) / 2;
    const middle = { x: a.x + (b.x - a.x) * t, y: a.y + (b.y - a.y) * t };
    if (hi > lo && pointInPolygon(middle, outline, tolerance) === 'inside') parts.push({ lo, hi });
  }
  return parts;
}

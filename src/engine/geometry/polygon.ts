import type { Mm, PlanPoint } from '../model/units.ts';
import { segmentNearest } from './segment.ts';

/**
 * Signed area of a ring (closed, first point not repeated), mm²: positive when it runs clockwise on screen, as y runs
 * down. Measured from its first point, so that far-away rings lose no figures.
 */
export function polygonArea(ring: readonly PlanPoint[]): number {
  const o = ring[0];
  if (!o) return 0;
  let twice = 0;
  for (let i = 1; i + 1 < ring.length; i++) {
    const p = ring[i] as PlanPoint;
    const q = ring[i + 1] as PlanPoint;
    twice += (p.x - o.x) * (q.y - o.y) - (q.x - o.x) * (p.y - o.y);
  }
  return twice / 2;
}

/** Centroid of the area inside a ring; the mean of its corners when it has no area; null when empty. */
export function polygonCentroid(ring: readonly PlanPoint[]): PlanPoint | null {
  const o = ring[0];
  if (!o) return null;
  let twice = 0;
  let cx = 0;
  let cy = 0;
  for (let i = 1; i + 1 < ring.length; i++) {
    const px = (ring[i] as PlanPoint).x - o.x;
    const py = (ring[i] as PlanPoint).y - o.y;
    const qx = (ring[i + 1] as PlanPoint).x - o.x;
    const qy = (ring[i + 1] as PlanPoint).y - o.y;
    const w = px * qy - qx * py;
    twice += w;
    cx += w * (px + qx);
    cy += w * (py + qy);
  }
  if (twice !== 0) return { x: o.x + cx / (3 * twice), y: o.y + cy / (3 * twice) };
  const n = ring.length;
  return { x: ring.reduce((s, p) => s + p.x, 0) / n, y: ring.reduce((s, p) => s + p.y, 0) / n };
}

/** Length round a ring, mm. */
export function polygonPerimeter(ring: readonly PlanPoint[]): Mm {
  let sum = 0;
  for (let i = 0; i < ring.length; i++) {
    const p = ring[i] as PlanPoint;
    const q = ring[(i + 1) % ring.length] as PlanPoint;
    sum += Math.hypot(q.x - p.x, q.y - p.y);
  }
  return sum;
}

/**
 * How many times a ring winds round p, + clockwise on screen. Exact for points off the ring but for rounding; what it
 * answers for points on the ring itself is undefined: ask `pointInPolygon` where that matters.
 */
export function polygonWinding(p: PlanPoint, ring: readonly PlanPoint[]): number {
  let winding = 0;
  for (let i = 0; i < ring.length; i++) {
    const a = ring[i] as PlanPoint;
    const b = ring[(i + 1) % ring.length] as PlanPoint;
    const side = (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x);
    if (a.y <= p.y && b.y > p.y && side > 0) winding++;
    else if (a.y > p.y && b.y <= p.y && side < 0) winding--;
  }
  return winding;
}

/** Inside (winds round it), on the edge (within `tolerance` mm of it) or outside a ring. */
export function pointInPolygon(
  p: PlanPoint,
  ring: readonly PlanPoint[],
  tolerance: Mm,
): 'inside' | 'edge' | 'outside' {
  for (let i = 0; i < ring.length; i++) {
    const near = segmentNearest(p, ring[i] as PlanPoint, ring[(i + 1) % ring.length] as PlanPoint);
    if (near.distance <= tolerance) return 'edge';
  }
  return polygonWinding(p, ring) !== 0 ? 'inside' : 'outside';
}

import type { Mm, PlanPoint } from '../model/units.ts';
import { pointInPolygon } from './polygon.ts';

const EDGE: Mm = 1e-6;

const apart = (a: PlanPoint, b: PlanPoint): Mm => Math.hypot(a.x - b.x, a.y - b.y);

/** Where the line of points as far from `a` as from `b` crosses the segment p q; null where it does not. */
function evenOn(a: PlanPoint, b: PlanPoint, p: PlanPoint, q: PlanPoint): PlanPoint | null {
  const side = (at: PlanPoint): number =>
    (at.x - (a.x + b.x) / 2) * (b.x - a.x) + (at.y - (a.y + b.y) / 2) * (b.y - a.y);
  const [s, t] = [side(p), side(q)];
  if (s === t || s * t > 0) return null;
  const k = s / (s - t);
  return { x: p.x + k * (q.x - p.x), y: p.y + k * (q.y - p.y) };
}

/** The point as far from each of three; null when they are in line. */
function evenOfThree(a: PlanPoint, b: PlanPoint, c: PlanPoint): PlanPoint | null {
  const [bx, by, cx, cy] = [b.x - a.x, b.y - a.y, c.x - a.x, c.y - a.y];
  const d = 2 * (bx * cy - by * cx);
  if (d === 0) return null;
  const [bb, cc] = [bx * bx + by * by, cx * cx + cy * cy];
  return { x: a.x + (cy * bb - by * cc) / d, y: a.y + (bx * cc - cx * bb) / d };
}

/**
 * The spot of an area (outline less its holes) that is farthest from the nearest of some points, and how far that is,
 * mm, in a straight line. Exact: within the part of the area that is nearest to one of the points the distance is
 * convex, so that it is greatest at a corner of that part: a corner of the area, a spot of its edge as far from two of
 * the points, or a spot within as far from three. Null without points or area. O(points³ x edges).
 */
export function farthestSpot(
  outline: readonly PlanPoint[],
  holes: readonly (readonly PlanPoint[])[],
  points: readonly PlanPoint[],
): { readonly at: PlanPoint; readonly distance: Mm } | null {
  if (points.length === 0 || outline.length < 3) return null;
  let best: { at: PlanPoint; distance: Mm } | null = null;
  const look = (at: PlanPoint): void => {
    const distance = Math.min(...points.map((p) => apart(p, at)));
    if (best === null || distance > best.distance) best = { at, distance };
  };
  const within = (at: PlanPoint): boolean =>
    pointInPolygon(at, outline, EDGE) !== 'outside' &&
    holes.every((hole) => pointInPolygon(at, hole, EDGE) !== 'inside');
  const rings = [outline, ...holes];
  for (const ring of rings) for (const corner of ring) look(corner);
  points.forEach((a, i) => {
    points.slice(i + 1).forEach((b, j) => {
      for (const ring of rings) {
        ring.forEach((p, k) => {
          const at = evenOn(a, b, p, ring[(k + 1) % ring.length] as PlanPoint);
          if (at !== null) look(at);
        });
      }
      for (const c of points.slice(i + j + 2)) {
        const at = evenOfThree(a, b, c);
        if (at !== null && within(at)) look(at);
      }
    });
  });
  return best;
}

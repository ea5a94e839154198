import type { Mm, PlanPoint, SpacePoint } from '../model/units.ts';

/** a + b, component by component; mm, plan. */
export function vectorAdd(a: PlanPoint, b: PlanPoint): PlanPoint {
  return { x: a.x + b.x, y: a.y + b.y };
}

/** The vector from b to a; mm, plan. */
export function vectorSub(a: PlanPoint, b: PlanPoint): PlanPoint {
  return { x: a.x - b.x, y: a.y - b.y };
}

/** a times a number. */
export function vectorScale(a: PlanPoint, by: number): PlanPoint {
  return { x: a.x * by, y: a.y * by };
}

/** `base` moved by `by` mm along `dir` (a unit vector). */
export function vectorAlong(base: PlanPoint, dir: PlanPoint, by: Mm): PlanPoint {
  return { x: base.x + dir.x * by, y: base.y + dir.y * by };
}

export function vectorDot(a: PlanPoint, b: PlanPoint): number {
  return a.x * b.x + a.y * b.y;
}

/** Positive when b is clockwise of a on screen (y runs down). */
export function vectorCross(a: PlanPoint, b: PlanPoint): number {
  return a.x * b.y - a.y * b.x;
}

/** Length, mm. */
export function vectorLength(a: PlanPoint): Mm {
  return Math.hypot(a.x, a.y);
}

/** Distance between two points of the plan, mm. */
export function pointDistance(a: PlanPoint, b: PlanPoint): Mm {
  return Math.hypot(b.x - a.x, b.y - a.y);
}

/** Straight distance between two points in space, mm. */
export function spaceDistance(a: SpacePoint, b: SpacePoint): Mm {
  return Math.hypot(b.x - a.x, b.y - a.y, b.z - a.z);
}

/** b - a in space, mm. */
export function spaceSub(b: SpacePoint, a: SpacePoint): SpacePoint {
  return { x: b.x - a.x, y: b.y - a.y, z: b.z - a.z };
}

/** `base` with `by` times `dir` added, in space. */
export function spaceAlong(base: SpacePoint, dir: SpacePoint, by: number): SpacePoint {
  return { x: base.x + dir.x * by, y: base.y + dir.y * by, z: base.z + dir.z * by };
}

export function spaceDot(a: SpacePoint, b: SpacePoint): number {
  return a.x * b.x + a.y * b.y + a.z * b.z;
}

export function spaceLength(a: SpacePoint): Mm {
  return Math.hypot(a.x, a.y, a.z);
}

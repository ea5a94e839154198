import type { PlanPoint, Radians } from '../model/units.ts';

/** A rotation (clockwise on screen, about the origin) and then a shift; `mirror` first turns x into -x. */
export interface Rigid {
  readonly cos: number;
  readonly sin: number;
  readonly dx: number;
  readonly dy: number;
  readonly mirror: boolean;
}

export function rigidOf(rotation: Radians, dx: number, dy: number, mirror = false): Rigid {
  return { cos: Math.cos(rotation), sin: Math.sin(rotation), dx, dy, mirror };
}

/** Quarter turns without rounding: n times 90° clockwise on screen, then a shift. */
export function rigidQuarter(n: number, dx: number, dy: number, mirror = false): Rigid {
  const q = ((Math.round(n) % 4) + 4) % 4;
  return { cos: [1, 0, -1, 0][q] as number, sin: [0, 1, 0, -1][q] as number, dx, dy, mirror };
}

export function rigidApply(t: Rigid, p: PlanPoint): PlanPoint {
  const x = t.mirror ? -p.x : p.x;
  return { x: t.cos * x - t.sin * p.y + t.dx, y: t.sin * x + t.cos * p.y + t.dy };
}

/** Undoes `rigidApply` up to rounding. */
export function rigidInvert(t: Rigid, p: PlanPoint): PlanPoint {
  const x = t.cos * (p.x - t.dx) + t.sin * (p.y - t.dy);
  const y = -t.sin * (p.x - t.dx) + t.cos * (p.y - t.dy);
  return { x: t.mirror ? -x : x, y };
}

import type { PlanPoint, Radians } from '../model/units.ts';

export const TURN: Radians = 2 * Math.PI;

/** Degrees as radians. */
export function degrees(value: number): Radians {
  return (value * Math.PI) / 180;
}

/** The same angle in [0, 2π). */
export function angleWrapped(angle: Radians): Radians {
  const wrapped = angle % TURN;
  const positive = wrapped < 0 ? wrapped + TURN : wrapped;
  return positive >= TURN ? 0 : positive;
}

/** The same angle in (-π, π]. */
export function angleSigned(angle: Radians): Radians {
  const wrapped = angleWrapped(angle);
  return wrapped > Math.PI ? wrapped - TURN : wrapped;
}

/** Direction of a plan vector, in (-π, π]; rises clockwise on screen because y runs down. */
export function vectorAngle(v: PlanPoint): Radians {
  return Math.atan2(v.y, v.x);
}

/** Smallest angle between two lines (their sense ignored), in [0, π/2]. */
export function lineAngleBetween(a: Radians, b: Radians): Radians {
  const d = angleWrapped(a - b) % Math.PI;
  return Math.min(d, Math.PI - d);
}

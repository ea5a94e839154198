import { vectorAlong, vectorScale } from '../geometry/vector.ts';
import type { Side } from '../model/document.ts';
import type { Mm, PlanPoint, Radians } from '../model/units.ts';
import type { WallFrame } from './wallFrame.ts';

/**
 * A straight stretch of finished surface as the fabric is walked with the room on the right: a wall's side between two
 * vertices, or the end cap of a free end (`from` or `to`). Its points are origin + s * dir.
 */
export interface Strip {
  readonly frame: WallFrame;
  readonly part: Side | 'from' | 'to';
  readonly origin: PlanPoint;
  readonly dir: PlanPoint;
  readonly s0: Mm;
  readonly s1: Mm;
}

/** How one strip turns into the next. `angle`: in the room, 0 to 2π. `free`: one of the two is an end cap. */
export interface Joint {
  readonly angle: Radians;
  readonly free: boolean;
}

/** A wall's side between two places of its centre line. Going with the room on the right, its left side runs back. */
export function sideStrip(frame: WallFrame, side: Side, along0: Mm, along1: Mm): Strip {
  if (side === 'right')
    return {
      frame,
      part: side,
      origin: vectorAlong(frame.from, frame.normal, -frame.half),
      dir: frame.dir,
      s0: along0,
      s1: along1,
    };
  return {
    frame,
    part: side,
    origin: vectorAlong(frame.from, frame.normal, frame.half),
    dir: vectorScale(frame.dir, -1),
    s0: -along1,
    s1: -along0,
  };
}

/** The cap over a free end, square to the wall. */
export function capStrip(frame: WallFrame, end: 'from' | 'to'): Strip {
  const dir = end === 'to' ? frame.normal : vectorScale(frame.normal, -1);
  const node = end === 'to' ? frame.to : frame.from;
  return {
    frame,
    part: end,
    origin: vectorAlong(node, dir, -frame.half),
    dir,
    s0: 0,
    s1: frame.thickness,
  };
}

export function isCap(strip: Strip): boolean {
  return strip.part === 'from' || strip.part === 'to';
}

export function stripPoint(strip: Strip, s: Mm): PlanPoint {
  return vectorAlong(strip.origin, strip.dir, s);
}

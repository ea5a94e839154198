import type { Tracing } from '../../engine/model/document.ts';
import type { PlanPoint } from '../../engine/model/units.ts';
import { shapesOf } from '../kit.ts';
import type { PreviewMark, ToolContext } from '../types.ts';

/** A place of a picture in its own pixels, x right and y down, from its top left corner. */
export interface PicturePoint {
  readonly x: number;
  readonly y: number;
}

/** The picture the tools work on: the selected one, else the last visible one of the storey. */
export function pictureInHand(ctx: ToolContext): Tracing | null {
  const own = shapesOf(ctx).tracings;
  const chosen = ctx.session.selection.find((ref) => ref.table === 'tracings');
  const found = own.find((u) => u.id === chosen?.id);
  return found ?? own.filter((u) => u.visible).at(-1) ?? own.at(-1) ?? null;
}

/** Plan place of a picture's pixel, mm. */
export function pictureToPlan(u: Tracing, p: PicturePoint): PlanPoint {
  const [cos, sin] = [Math.cos(u.rotation), Math.sin(u.rotation)];
  const [dx, dy] = [p.x * u.mmPerPixel, p.y * u.mmPerPixel];
  return { x: u.x + dx * cos - dy * sin, y: u.y + dx * sin + dy * cos };
}

/** Pixel of a picture under a plan place. */
export function planToPicture(u: Tracing, p: PlanPoint): PicturePoint {
  const [cos, sin] = [Math.cos(u.rotation), Math.sin(u.rotation)];
  const [dx, dy] = [p.x - u.x, p.y - u.y];
  return { x: (dx * cos + dy * sin) / u.mmPerPixel, y: (-dx * sin + dy * cos) / u.mmPerPixel };
}

/** The picture's edge as a closed preview line. */
export function pictureOutline(u: Tracing): PreviewMark {
  const corners = [
    { x: 0, y: 0 },
    { x: u.width, y: 0 },
    { x: u.width, y: u.height },
    { x: 0, y: u.height },
  ];
  return { kind: 'line', points: corners.map((c) => pictureToPlan(u, c)), look: 'draft', closed: true };
}

export const NO_PICTURE = 'There is no tracing on this storey yet: open a picture first.';
export const LOCKED = 'The tracing is locked: unlock it first.';

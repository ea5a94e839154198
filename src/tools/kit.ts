import type { Preview, PreviewMark, Spot, ToolContext, ToolEvent } from './types.ts';
import type { Mm, PlanPoint, ScreenPoint } from '../engine/model/units.ts';
import { parseLength } from './lengthText.ts';
import type { ParsedLength } from './lengthText.ts';
import { drawnNear } from './drawn.ts';
import { planShapes } from './planShapes.ts';
import type { PlanShapes } from './planShapes.ts';
import type { SnapOptions } from './snap.ts';

/** A press that moves less than this many pixels is a click. */
export const CLICK_PX = 5;

export type PointerEventOf = Extract<ToolEvent, { spot: Spot }>;

/** The shapes of the storey the person works on. */
export function shapesOf(ctx: ToolContext): PlanShapes {
  return planShapes(ctx.doc, ctx.derived, ctx.session.storey);
}

/** Marks on the plan only; null for none. */
export function planPreview(marks: readonly PreviewMark[]): Preview | null {
  return marks.length === 0 ? null : { plan: marks, faces: new Map() };
}

export function isPointer(event: ToolEvent): event is PointerEventOf {
  return event.type === 'down' || event.type === 'move' || event.type === 'up' || event.type === 'double';
}

/** The plan place of a pointer event; null on a face and for other events. */
export function planSpot(event: ToolEvent): PlanPoint | null {
  return isPointer(event) && event.spot.surface === 'plan' ? event.spot.at : null;
}

/** Tolerance in pixels: a fingertip hides what it points at. */
export function toleranceOf(ctx: ToolContext, event: ToolEvent): number {
  return isPointer(event) && event.touch ? Math.max(20, ctx.tolerance) : ctx.tolerance;
}

export function snapOptions(ctx: ToolContext, event: ToolEvent): SnapOptions {
  const tolerance = toleranceOf(ctx, event) * 1.25;
  const at = planSpot(event);
  return {
    scale: ctx.scale,
    tolerance,
    drawn:
      at === null ? [] : drawnNear(ctx.drawings, shapesOf(ctx).tracings, at, (2 * tolerance) / ctx.scale),
    off: !ctx.session.snapping || (isPointer(event) && event.alt),
  };
}

/** The length standing in the entry box, unentered; null where nothing is typed. */
export function typedLength(ctx: ToolContext): ParsedLength | null {
  const text = ctx.typed ?? '';
  return text.trim() === '' ? null : parseLength(text);
}

/** That length for showing where a click would take it, or null: half a number is not yet worth a word. */
export function shownLength(ctx: ToolContext): Mm | null {
  const length = typedLength(ctx);
  return length?.ok === true && length.mm > 0 ? length.mm : null;
}

export function movedFar(a: ScreenPoint, b: ScreenPoint): boolean {
  return Math.hypot(a.px - b.px, a.py - b.py) >= CLICK_PX;
}

export function planDistance(a: PlanPoint, b: PlanPoint): number {
  return Math.hypot(b.x - a.x, b.y - a.y);
}

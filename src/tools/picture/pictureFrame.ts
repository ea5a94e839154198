import { tracingCorners } from '../../engine/geometry/tracing.ts';
import type { StoreyTracing } from '../../engine/model/tracing.ts';
import { shapesOf } from '../kit.ts';
import type { PreviewMark, ToolContext } from '../types.ts';

/** The picture the tools work on: the selected one, else the last visible one of the storey. */
export function pictureInHand(ctx: ToolContext): StoreyTracing | null {
  const own = shapesOf(ctx).tracings;
  const chosen = ctx.session.selection.find((ref) => ref.table === 'tracings');
  const found = own.find((u) => u.id === chosen?.id);
  return found ?? own.filter((u) => u.visible).at(-1) ?? own.at(-1) ?? null;
}

/** The tracing's edge as a closed preview line. */
export function pictureOutline(tracing: StoreyTracing): PreviewMark {
  return { kind: 'line', points: tracingCorners(tracing), look: 'draft', closed: true };
}

export const NO_PICTURE = 'There is no tracing on this storey yet: open a picture first.';
export const LOCKED = 'The tracing is locked: unlock it first.';

import { isPointer, toleranceOf } from '../kit.ts';
import type { PointerEventOf } from '../kit.ts';
import { PICKS } from '../types.ts';
import type { Ref, SessionState, Tool, ToolContext, ToolStep } from '../types.ts';
import { pickSpot } from './pickSpot.ts';

export type RestState = { readonly kind: 'idle' };

/**
 * The select tool until its hands have been fetched: it says what may be done and shows what is under the pointer. The
 * first press, key or double click waits for the whole tool.
 */
export const restTool: Tool<RestState> = {
  id: 'select',
  manner: PICKS,
  takes: (event) => event.type === 'move' || event.type === 'cancel',
  start: (ctx) => resting(ctx),
  step: (_state, event, ctx) => ({ ...resting(ctx), ...(isPointer(event) ? hovering(event, ctx) : {}) }),
  busy: () => false,
};

function resting(ctx: ToolContext): ToolStep<RestState> {
  return { state: { kind: 'idle' }, preview: null, hint: hintFor(ctx), ask: null };
}

/** What the select tool waits for, by how much is selected. */
export function hintFor(ctx: ToolContext): string {
  const { selection } = ctx.session;
  if (selection.length === 0)
    return 'Click to select; drag to move; drag over empty ground to take several; Shift adds.';
  if (selection.length > 1)
    return `${selection.length} selected. Arrow keys move them 10 mm, Shift 100 mm; Delete removes.`;
  return 'Drag or use the arrow keys (10 mm, Shift 100 mm) to move; Delete removes; Esc lets go.';
}

/** The record under the pointer lit; nothing to change where it is lit already. */
export function hovering(
  event: PointerEventOf,
  ctx: ToolContext,
): { readonly session?: Partial<SessionState> } {
  const found = event.touch ? undefined : pickSpot(ctx, event.spot, toleranceOf(ctx, event))[0];
  const hover = found ? whole(found) : null;
  const now = ctx.session.hover;
  const same = hover === null ? now === null : now !== null && sameRef(hover, now);
  return same ? {} : { session: { hover } };
}

/** Do both name the same record, whatever part of it? */
export function sameRef(a: Ref, b: Ref): boolean {
  return a.table === b.table && a.id === b.id;
}

/** The record itself, of a part of it. */
export function whole(ref: Ref): Ref {
  return ref.part === null ? ref : { ...ref, part: null };
}

import { roomAt } from '../../engine/fabric/lookup.ts';
import type { PlanPoint, ScreenPoint } from '../../engine/model/units.ts';
import { isPointer, movedFar, shapesOf, toleranceOf } from '../kit.ts';
import type { PointerEventOf } from '../kit.ts';
import { boxOf } from '../boxIndex.ts';
import { faceNear } from '../onFaces.ts';
import { pickArea, pickScene } from '../pick.ts';
import { runEditDelete, runEditDouble, runEditHandles, runEditStart, runEditStep } from '../run/editRun.ts';
import type { RunEditState } from '../run/editRun.ts';
import { PICKS } from '../types.ts';
import type { Preview, PreviewMark, Ref, SessionState, Spot, Tool, ToolContext, ToolStep } from '../types.ts';
import { canDrag, dragRecord } from './drags.ts';
import { nudge } from './nudge.ts';
import { pickSpot } from './pickSpot.ts';
import { removeCommand } from './removeCommand.ts';
import { hintFor, hovering, sameRef, whole } from './restTool.ts';

export type SelectState =
  | { readonly kind: 'idle' }
  /** Pressed, not yet dragging: over a record, or over nothing. */
  | {
      readonly kind: 'pressed';
      readonly refs: readonly Ref[];
      readonly spot: Spot;
      readonly screen: ScreenPoint;
    }
  | { readonly kind: 'dragging'; readonly ref: Ref; readonly from: PlanPoint }
  | { readonly kind: 'marquee'; readonly from: PlanPoint }
  | RunEditState;

const IDLE: SelectState = { kind: 'idle' };
type Step = ToolStep<SelectState>;

/** Picking, moving and removing what is drawn, on the plan and on the elevations. */
export const selectTool: Tool<SelectState> = {
  id: 'select',
  manner: PICKS,
  busy: (state) => state.kind !== 'idle',
  start: (ctx) => idle(ctx),
  step(state, event, ctx) {
    if (state.kind === 'edit-pressed' || state.kind === 'edit-dragging') {
      const step = runEditStep(state, event, ctx);
      return step.state === null
        ? { ...idle(ctx), ...step, hint: hintFor(ctx), state: IDLE }
        : { ...step, state: step.state };
    }
    if (event.type === 'cancel') return idle(ctx);
    if (event.type === 'key') return onKey(state, event.key, event.shift, event.surface ?? 'plan', ctx);
    if (!isPointer(event)) return idle(ctx);
    if (event.type === 'double') return onDouble(event, ctx);
    if (event.type === 'down') return onDown(event, ctx);
    if (state.kind === 'pressed') return onPressed(state, event, ctx);
    if (state.kind === 'dragging') return onDrag(state, event, ctx);
    if (state.kind === 'marquee') return onMarquee(state, event, ctx);
    return { ...idle(ctx), ...hovering(event, ctx) };
  },
};

function idle(ctx: ToolContext): Step {
  return { state: IDLE, preview: handles(ctx), hint: hintFor(ctx), ask: null };
}

/** Handles on the corners of selected runs. */
function handles(ctx: ToolContext): Preview | null {
  if (!ctx.session.selection.some((ref) => ref.table === 'runs')) return null;
  return runEditHandles(ctx);
}

function onDown(event: PointerEventOf, ctx: ToolContext): Step {
  const refs = pickSpot(ctx, event.spot, toleranceOf(ctx, event));
  const first = refs[0];
  // A selected run's handles and legs go before all but points, which would else be out of reach at its ends.
  const small =
    first && (first.table === 'points' || first.table === 'roomTags') && event.spot.surface === 'plan';
  const edit = small ? null : runEditStart(event, ctx);
  if (edit) {
    return { state: edit, preview: handles(ctx), hint: hintFor(ctx), ask: null };
  }
  const pressed: SelectState = { kind: 'pressed', refs, spot: event.spot, screen: event.screen };
  return { state: pressed, preview: handles(ctx), hint: hintFor(ctx), ask: null };
}

function onPressed(
  state: Extract<SelectState, { kind: 'pressed' }>,
  event: PointerEventOf,
  ctx: ToolContext,
): Step {
  if (event.type === 'up' && !movedFar(event.screen, state.screen)) return onClick(state, event, ctx);
  if (!movedFar(event.screen, state.screen)) {
    return { state, preview: handles(ctx), hint: hintFor(ctx), ask: null };
  }
  const { spot } = state;
  if (spot.surface !== 'plan' || event.spot.surface !== 'plan') return idle(ctx);
  // What is selected is dragged even where something else lies on top of it.
  const held = state.refs.find((ref) => ctx.session.selection.some((s) => sameRef(s, ref)) && canDrag(ref));
  const ref = held ?? state.refs[0];
  if (ref && canDrag(ref) && !event.shift) {
    const step = onDrag({ kind: 'dragging', ref: whole(ref), from: spot.at }, event, ctx);
    return held ? step : { ...step, select: [whole(ref)] };
  }
  return onMarquee({ kind: 'marquee', from: spot.at }, event, ctx);
}

/** A click selects what is under it; with shift it adds or takes away; with Alt it goes on to what lies beneath. */
function onClick(
  state: Extract<SelectState, { kind: 'pressed' }>,
  event: PointerEventOf,
  ctx: ToolContext,
): Step {
  const { selection } = ctx.session;
  const beneath = event.alt ? state.refs.findIndex((ref) => selection.some((s) => sameRef(s, ref))) + 1 : 0;
  const found = state.refs[beneath % Math.max(1, state.refs.length)];
  const context = contextOf(state.spot, ctx);
  if (!found) return { ...idle(ctx), ...(event.shift ? {} : { select: [] }), session: context };
  const ref = whole(found);
  if (!event.shift)
    return {
      ...idle({ ...ctx, session: { ...ctx.session, selection: [ref] } }),
      select: [ref],
      session: context,
    };
  const without = selection.filter((s) => !sameRef(s, ref));
  const select = without.length < selection.length ? without : [...selection, ref];
  return { ...idle({ ...ctx, session: { ...ctx.session, selection: select } }), select };
}

/** The room whose walls are unrolled below follows the click: the room clicked in, or the one the clicked side looks at. */
function contextOf(spot: Spot, ctx: ToolContext): Partial<SessionState> {
  if (spot.surface === 'face') return {};
  const { fabric } = shapesOf(ctx);
  if (!fabric) return {};
  const room = roomAt(fabric, spot.at);
  const near = faceNear(fabric, spot.at, 14 / ctx.scale);
  if (near?.face.room && (!room || near.face.room === room.id))
    return { room: near.face.room, face: near.face.id };
  return room ? { room: room.id, face: null } : {};
}

function onDrag(
  state: Extract<SelectState, { kind: 'dragging' }>,
  event: PointerEventOf,
  ctx: ToolContext,
): Step {
  if (event.spot.surface !== 'plan') return idle(ctx);
  const drag = dragRecord(ctx, state.ref, state.from, event.spot.at, event);
  if (event.type !== 'up') {
    return {
      state,
      preview: drag.preview,
      hint: 'Let go to put it there; Esc leaves it where it was. Alt: no snapping.',
      ask: null,
    };
  }
  const step = idle(ctx);
  return drag.command ? { ...step, command: drag.command } : step;
}

function onMarquee(
  state: Extract<SelectState, { kind: 'marquee' }>,
  event: PointerEventOf,
  ctx: ToolContext,
): Step {
  if (event.spot.surface !== 'plan') return idle(ctx);
  const { from } = state;
  const to = event.spot.at;
  const touching = event.alt;
  const box = boxOf([from, to]);
  const taken = box
    ? pickArea(pickScene(shapesOf(ctx)), box, touching).filter((ref) => ref.table !== 'nodes')
    : [];
  if (event.type === 'up') {
    const added = taken.filter((ref) => !ctx.session.selection.some((s) => sameRef(s, ref)));
    const select = event.shift ? [...ctx.session.selection, ...added] : taken;
    return { ...idle({ ...ctx, session: { ...ctx.session, selection: select } }), select };
  }
  const points = [from, { x: to.x, y: from.y }, to, { x: from.x, y: to.y }];
  const marks: PreviewMark[] = [
    { kind: 'line', points, look: touching ? 'snap' : 'draft', closed: true },
    { kind: 'label', at: to, text: `${taken.length} ${touching ? 'touched' : 'inside'}` },
  ];
  return {
    state,
    preview: { plan: marks, faces: new Map() },
    hint: 'Takes what lies wholly inside; with Alt, all it touches.',
    ask: null,
  };
}

function onDouble(event: PointerEventOf, ctx: ToolContext): Step {
  const command = runEditDouble(event.spot, ctx);
  return command ? { ...idle(ctx), command } : idle(ctx);
}

function onKey(
  state: SelectState,
  key: string,
  shift: boolean,
  surface: 'plan' | 'face',
  ctx: ToolContext,
): Step {
  const step = idle(ctx);
  if (key === 'Escape') {
    if (state.kind !== 'idle') return step;
    return ctx.session.selection.length === 0 ? step : { ...step, preview: null, select: [] };
  }
  if (state.kind !== 'idle') return { ...step, state };
  if (key === 'Delete' || key === 'Backspace') {
    const corners = runEditDelete(ctx);
    const command = corners ?? removeCommand(ctx.session.selection, shift);
    if (!command)
      return ctx.session.selection.length === 0 ? step : { ...step, notice: 'A corner goes with its walls.' };
    const outcome = command.apply(ctx.doc);
    if (!outcome.ok) return { ...step, notice: refusalWords(outcome.reason, ctx, shift) };
    return { ...step, command, select: [] };
  }
  const command = nudge(ctx, key, shift, surface);
  if (!command) return step;
  const outcome = command.apply(ctx.doc);
  return outcome.ok ? { ...step, command } : { ...step, notice: outcome.reason };
}

/** A wall that still carries things can go with them: the person is told how. */
function refusalWords(reason: string, ctx: ToolContext, shift: boolean): string {
  const walls = ctx.session.selection.some((ref) => ref.table === 'walls');
  return walls && !shift ? `${reason} Shift+Delete removes them too.` : reason;
}

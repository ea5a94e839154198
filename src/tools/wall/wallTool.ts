import { addWallChain, removeWalls } from '../../document/commands/walls.ts';
import type { Command } from '../../document/types.ts';
import type { Id } from '../../engine/model/document.ts';
import type { Mm, PlanPoint } from '../../engine/model/units.ts';
import { parseLength, mmText } from '../lengthText.ts';
import {
  planDistance,
  planPreview,
  planSpot,
  shapesOf,
  shownLength,
  snapOptions,
  typedLength,
} from '../kit.ts';
import { snapPlan } from '../snap.ts';
import type { Snap } from '../snap.ts';
import { PLACES } from '../types.ts';
import type { PreviewMark, Tool, ToolContext, ToolEvent, ToolStep } from '../types.ts';

export type WallState =
  | { readonly kind: 'waiting' }
  /** Corners drawn so far, as the plan holds them, and where the pointer is. */
  | {
      readonly kind: 'chain';
      readonly corners: readonly PlanPoint[];
      readonly aim: PlanPoint | null;
      /** Walls this chain has put into the plan. */
      readonly walls: readonly Id[];
    };
type Chain = Extract<WallState, { kind: 'chain' }>;

const WAIT_HINT =
  'Click the first corner, on the middle of the wall. Snaps to ends, faces and crossings; hold Alt for none.';
const CHAIN_HINT =
  'Click the next corner or type its length. Enter or a double click ends; Backspace goes back one.';
const NO_LENGTH = 'A wall must be longer than nothing.';
const WAITING: WallState = { kind: 'waiting' };

/**
 * Walls as a chain of clicks along their centre lines. Every segment is put into the plan as soon as its end is clicked,
 * so nothing drawn is lost and each can be undone by itself; clicking the first corner closes the chain.
 */
export const wallTool: Tool<WallState> = {
  id: 'wall',
  manner: PLACES,
  busy: (state) => state.kind === 'chain',
  start: () => rest(),
  step(state, event, ctx) {
    if (event.type === 'cancel') return state.kind === 'chain' ? hold(state, ctx) : rest();
    if (event.type === 'key') return onKey(state, event.key, ctx);
    if (event.type === 'typed') return onTyped(state, event.text, ctx);
    const at = planSpot(event);
    if (at === null) return state.kind === 'chain' ? hold(state, ctx) : rest();
    if (event.type === 'double')
      return state.kind === 'chain' && state.corners.length > 1 ? rest() : keep(state, ctx);
    const snap = aimAt(state, event, at, ctx);
    if (state.kind === 'waiting') {
      if (event.type !== 'up') return { state, preview: aimPreview(snap), hint: WAIT_HINT, ask: null };
      return chain({ kind: 'chain', corners: [snap.at], aim: null, walls: [] }, snap, ctx);
    }
    const to = asLong(state, snap.at, ctx);
    if (event.type !== 'up') return chain({ ...state, aim: to }, snap, ctx);
    const typed = typedLength(ctx);
    if (typed && !typed.ok) return { ...hold(state, ctx), notice: typed.reason };
    if (typed && typed.mm <= 0) return { ...hold(state, ctx), notice: NO_LENGTH };
    return place(state, to, ctx);
  },
};

function rest(): ToolStep<WallState> {
  return { state: WAITING, preview: null, hint: WAIT_HINT, ask: null };
}

function keep(state: WallState, ctx: ToolContext): ToolStep<WallState> {
  return state.kind === 'chain' ? hold(state, ctx) : rest();
}

function hold(state: Chain, ctx: ToolContext): ToolStep<WallState> {
  return chain(state, null, ctx);
}

function aimAt(state: WallState, event: ToolEvent, at: PlanPoint, ctx: ToolContext): Snap {
  const corners = state.kind === 'chain' ? state.corners : [];
  const from = corners[corners.length - 1] ?? null;
  const before = corners[corners.length - 2];
  const first = corners[0];
  return snapPlan(shapesOf(ctx), at, {
    ...snapOptions(ctx, event),
    from,
    upright: true,
    square: from && before ? unit(before, from) : null,
    extra: first && corners.length > 2 ? [{ at: first, label: 'First corner: closes' }] : [],
  });
}

/** The place aimed at, or as far that way as the length being typed says. */
function asLong(state: Chain, at: PlanPoint, ctx: ToolContext): PlanPoint {
  const length = shownLength(ctx);
  const from = state.corners[state.corners.length - 1] as PlanPoint;
  const dir = length === null ? null : unit(from, at);
  return length === null || dir === null ? at : { x: from.x + dir.x * length, y: from.y + dir.y * length };
}

function unit(a: PlanPoint, b: PlanPoint): PlanPoint | null {
  const length = planDistance(a, b);
  return length > 0 ? { x: (b.x - a.x) / length, y: (b.y - a.y) / length } : null;
}

function halfThickness(ctx: ToolContext): Mm {
  const build = ctx.doc.buildUps.byId[buildUpOf(ctx) ?? ''];
  return (build?.layers ?? []).reduce((sum, layer) => sum + layer.thickness, 0) / 2;
}

function buildUpOf(ctx: ToolContext): Id | null {
  const { buildUp } = ctx.session.choices;
  return buildUp !== null && ctx.doc.buildUps.byId[buildUp] ? buildUp : (ctx.doc.buildUps.order[0] ?? null);
}

function aimPreview(snap: Snap): ReturnType<typeof planPreview> {
  const marks: PreviewMark[] = [...snap.marks, { kind: 'spot', at: snap.at, look: 'draft' }];
  if (snap.label) marks.push({ kind: 'label', at: snap.at, text: snap.label });
  return planPreview(marks);
}

/** The chain going on from its last corner towards where the pointer is. */
function chain(state: Chain, snap: Snap | null, ctx: ToolContext): ToolStep<WallState> {
  const { corners, aim } = state;
  const from = corners[corners.length - 1] as PlanPoint;
  const length = aim ? planDistance(from, aim) : 0;
  const marks: PreviewMark[] = [...(snap?.marks ?? []), { kind: 'spot', at: from, look: 'handle' }];
  if (aim && length > 0.5) {
    marks.push({ kind: 'line', points: [from, aim], look: 'draft', half: halfThickness(ctx) });
    marks.push({ kind: 'label', at: aim, text: [mmText(length), snap?.label].filter(Boolean).join('\n') });
  } else if (snap?.label) marks.push({ kind: 'label', at: from, text: snap.label });
  return {
    state,
    preview: planPreview(marks),
    hint: CHAIN_HINT,
    ask: { label: 'Length', value: aim ? String(Math.round(length)) : '' },
  };
}

/** Puts the wall from the last corner to `at` into the plan. A refusal leaves the chain as it was. */
function place(state: Chain, at: PlanPoint, ctx: ToolContext): ToolStep<WallState> {
  const { corners } = state;
  const from = corners[corners.length - 1] as PlanPoint;
  if (planDistance(from, at) < 1) return chain({ ...state, aim: null }, null, ctx);
  const stay = () => chain({ ...state, aim: at }, null, ctx);
  const buildUp = buildUpOf(ctx);
  if (buildUp === null) return { ...stay(), notice: 'The list of build-ups is empty.' };
  const command = addWallChain(ctx.session.storey, [from, at], buildUp);
  const end = endAfter(command, ctx);
  if ('reason' in end) return { ...stay(), notice: end.reason };
  const first = corners[0] as PlanPoint;
  if (corners.length > 2 && planDistance(first, end.to) < 1.5) {
    return { ...rest(), command, select: [], notice: 'Walls closed.' };
  }
  const next: Chain = {
    kind: 'chain',
    corners: [...corners.slice(0, -1), end.from, end.to],
    aim: null,
    walls: [...state.walls, end.wall],
  };
  return { ...chain(next, null, ctx), command, select: [] };
}

/** Where the command will put the ends of the wall: an end within another wall goes to its centre line. */
function endAfter(
  command: Command,
  ctx: ToolContext,
): { readonly wall: Id; readonly from: PlanPoint; readonly to: PlanPoint } | { readonly reason: string } {
  const outcome = command.apply(ctx.doc);
  if (!outcome.ok) return { reason: outcome.reason };
  const wall = outcome.doc.walls.byId[outcome.made[0] ?? ''];
  const a = outcome.doc.nodes.byId[wall?.from ?? ''];
  const b = outcome.doc.nodes.byId[wall?.to ?? ''];
  if (!wall || !a || !b) return { reason: 'No wall was made.' };
  return { wall: wall.id, from: { x: a.x, y: a.y }, to: { x: b.x, y: b.y } };
}

function onKey(state: WallState, key: string, ctx: ToolContext): ToolStep<WallState> {
  if (state.kind === 'waiting') {
    return key === 'Escape' ? { ...rest(), session: { tool: 'select' } } : rest();
  }
  if (key === 'Escape' || key === 'Enter') return rest();
  if (key === 'Backspace' || key === 'Delete') {
    const last = state.walls[state.walls.length - 1];
    if (last === undefined) return rest();
    const back: Chain = { ...state, corners: state.corners.slice(0, -1), walls: state.walls.slice(0, -1) };
    const step = chain(back, null, ctx);
    return ctx.doc.walls.byId[last] ? { ...step, command: removeWalls([last]) } : step;
  }
  return hold(state, ctx);
}

function onTyped(state: WallState, text: string, ctx: ToolContext): ToolStep<WallState> {
  if (state.kind === 'waiting') return rest();
  if (text.trim() === '') return rest();
  const parsed = parseLength(text);
  if (!parsed.ok) return { ...hold(state, ctx), notice: parsed.reason };
  if (parsed.mm <= 0) return { ...hold(state, ctx), notice: NO_LENGTH };
  const from = state.corners[state.corners.length - 1] as PlanPoint;
  const dir = state.aim ? unit(from, state.aim) : null;
  if (dir === null) return { ...hold(state, ctx), notice: 'Point in the direction of the wall first.' };
  return place(state, { x: from.x + dir.x * parsed.mm, y: from.y + dir.y * parsed.mm }, ctx);
}

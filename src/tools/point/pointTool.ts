import { addPoint } from '../../document/commands/points.ts';
import { POINT_KINDS } from '../../engine/model/pointKinds.ts';
import { isPointer, toleranceOf } from '../kit.ts';
import { parseLength } from '../lengthText.ts';
import type { Spot, Tool, ToolContext, ToolEvent, ToolStep } from '../types.ts';
import { aimPoint } from './aimPoint.ts';
import type { Aim } from './aimPoint.ts';

export type PointState =
  /** Following the pointer; `spot` is where it was last. */
  { readonly kind: 'following'; readonly spot: Spot | null };

/** New points: a ghost follows the pointer along the walls (or over the ceiling), and a click puts it there. */
export const pointTool: Tool<PointState> = {
  id: 'point',
  start: (ctx) => step({ kind: 'following', spot: null }, null, ctx),
  step(state, event, ctx) {
    if (event.type === 'cancel') return step({ kind: 'following', spot: null }, null, ctx);
    if (event.type === 'key') {
      const now = step(state, state.spot ? aim(ctx, state.spot, event) : null, ctx);
      return event.key === 'Escape' ? { ...now, preview: null, session: { tool: 'select' } } : now;
    }
    if (event.type === 'typed') return onTyped(state, event.text, ctx);
    if (!isPointer(event)) return step(state, null, ctx);
    const aimed = aim(ctx, event.spot, event);
    const now = step({ kind: 'following', spot: event.spot }, aimed, ctx);
    if (event.type !== 'up') return now;
    if (!aimed.ok) return { ...now, notice: aimed.reason };
    const { pointKind, gangs, circuit } = ctx.session.choices;
    const mains = POINT_KINDS[pointKind].mains;
    const command = addPoint({
      kind: pointKind,
      place: aimed.place,
      gangs,
      // A board feeds circuits and is on none; data is on no mains circuit.
      circuit: ctx.session.stage === 'circuits' && mains && pointKind !== 'consumer-unit' ? circuit : null,
    });
    const outcome = command.apply(ctx.doc);
    if (!outcome.ok) return { ...now, notice: outcome.reason };
    return {
      ...now,
      preview: null,
      command,
      select: outcome.made.map((id) => ({ table: 'points' as const, id, part: null })),
    };
  },
};

function aim(ctx: ToolContext, spot: Spot, event: ToolEvent): Aim {
  const { pointKind, pointHeight, gangs } = ctx.session.choices;
  return aimPoint(ctx, spot, {
    kind: pointKind,
    gangs,
    height: pointHeight,
    snapping: ctx.session.snapping && !(isPointer(event) && event.alt),
    tolerance: toleranceOf(ctx, event),
  });
}

function step(state: PointState, aimed: Aim | null, ctx: ToolContext): ToolStep<PointState> {
  const { pointKind, pointHeight } = ctx.session.choices;
  const facts = POINT_KINDS[pointKind];
  const hint = !aimed
    ? `Click where the ${facts.name.toLowerCase()} goes${facts.hosts.includes('face') ? '; type a height in mm' : ''}.`
    : aimed.ok
      ? aimed.says
      : aimed.reason;
  return {
    state,
    preview: aimed?.preview ?? null,
    hint,
    ask: facts.hosts.includes('face')
      ? { label: 'Height', value: String(Math.round(pointHeight ?? facts.height)) }
      : null,
  };
}

/** A typed height holds for this point and the next ones, until another kind is chosen. */
function onTyped(state: PointState, text: string, ctx: ToolContext): ToolStep<PointState> {
  const again = step(state, null, ctx);
  if (text.trim() === '')
    return { ...again, session: { choices: { ...ctx.session.choices, pointHeight: null } } };
  const parsed = parseLength(text);
  if (!parsed.ok) return { ...again, notice: parsed.reason };
  if (parsed.mm < 0) return { ...again, notice: 'A height is above the finished floor.' };
  return {
    ...again,
    ask: { label: 'Height', value: String(parsed.mm) },
    session: { choices: { ...ctx.session.choices, pointHeight: parsed.mm } },
  };
}

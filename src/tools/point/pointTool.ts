import { addPoint } from '../../document/commands/points.ts';
import { POINT_KINDS } from '../../engine/model/pointKinds.ts';
import type { Mm } from '../../engine/model/units.ts';
import { isPointer, toleranceOf, typedLength } from '../kit.ts';
import { parseLength } from '../lengthText.ts';
import { PLACES } from '../types.ts';
import type { Spot, Tool, ToolContext, ToolEvent, ToolStep } from '../types.ts';
import { aimPoint } from './aimPoint.ts';
import type { Aim } from './aimPoint.ts';

export type PointState =
  /** Following the pointer; `spot` is where it was last. */
  { readonly kind: 'following'; readonly spot: Spot | null };

const BELOW_FLOOR = 'A height is above the finished floor.';

/** New points: a ghost follows the pointer along the walls (or over the ceiling), and a click puts it there. */
export const pointTool: Tool<PointState> = {
  id: 'point',
  manner: PLACES,
  busy: () => false,
  start: (ctx) => step({ kind: 'following', spot: null }, null, ctx),
  step(state, event, ctx) {
    if (event.type === 'cancel') return step({ kind: 'following', spot: null }, null, ctx);
    if (event.type === 'key') {
      const now = step(state, state.spot ? aim(ctx, state.spot, event) : null, ctx);
      return event.key === 'Escape' ? { ...now, preview: null, session: { tool: 'select' } } : now;
    }
    if (event.type === 'typed') return onTyped(state, event, ctx);
    if (!isPointer(event)) return step(state, null, ctx);
    const aimed = aim(ctx, event.spot, event);
    const now = step({ kind: 'following', spot: event.spot }, aimed, ctx);
    if (event.type !== 'up') return now;
    const typed = typedLength(ctx);
    if (typed && !typed.ok) return { ...now, notice: typed.reason };
    if (typed && typed.mm < 0) return { ...now, notice: BELOW_FLOOR };
    if (!aimed.ok) return { ...now, notice: aimed.reason };
    const { pointKind, gangs, circuit } = ctx.session.choices;
    const facts = POINT_KINDS[pointKind];
    const { mains } = facts;
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
      // A height typed for this one holds for the next ones too.
      ...(typed && facts.hosts.includes('face')
        ? {
            ask: heightAsked(typed.mm),
            session: { choices: { ...ctx.session.choices, pointHeight: typed.mm } },
          }
        : {}),
    };
  },
};

function aim(ctx: ToolContext, spot: Spot, event: ToolEvent): Aim {
  const { pointKind, pointHeight, gangs } = ctx.session.choices;
  const typed = typedLength(ctx);
  return aimPoint(ctx, spot, {
    kind: pointKind,
    gangs,
    height: typed?.ok && typed.mm >= 0 ? typed.mm : pointHeight,
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
    ask: facts.hosts.includes('face') ? heightAsked(pointHeight ?? facts.height) : null,
  };
}

function heightAsked(height: Mm): { readonly label: string; readonly value: string } {
  return { label: 'Height', value: String(Math.round(height)) };
}

/** A typed height holds for this point and the next ones, until another kind is chosen. */
function onTyped(
  state: PointState,
  event: Extract<ToolEvent, { type: 'typed' }>,
  ctx: ToolContext,
): ToolStep<PointState> {
  const { text } = event;
  const at = (pointHeight: Mm | null): ToolContext => ({
    ...ctx,
    session: { ...ctx.session, choices: { ...ctx.session.choices, pointHeight } },
  });
  const shown = (now: ToolContext) => step(state, state.spot ? aim(now, state.spot, event) : null, now);
  const again = shown(ctx);
  if (text.trim() === '') {
    const usual = at(null);
    return { ...shown(usual), session: { choices: usual.session.choices } };
  }
  const parsed = parseLength(text);
  if (!parsed.ok) return { ...again, notice: parsed.reason };
  if (parsed.mm < 0) return { ...again, notice: BELOW_FLOOR };
  const asked = at(parsed.mm);
  return { ...shown(asked), session: { choices: asked.session.choices } };
}

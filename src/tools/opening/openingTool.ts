import { addOpening, openingRefusal } from '../../document/commands/openings.ts';
import type { Opening } from '../../engine/model/document.ts';
import { faceSurfacePoint, wallFrame } from '../../engine/fabric/wallFrame.ts';
import { alongOfU } from '../../engine/fabric/lookup.ts';
import type { WallFrame } from '../../engine/fabric/wallFrame.ts';
import type { Mm } from '../../engine/model/units.ts';
import { isPointer, shapesOf, toleranceOf, typedLength } from '../kit.ts';
import { mmText, parseLength } from '../lengthText.ts';
import { faceById } from '../onFaces.ts';
import { onTape } from './onTape.ts';
import { placeAlong, wallUnder } from './alongWall.ts';
import { PLACES } from '../types.ts';
import type { PreviewMark, Spot, Tool, ToolContext, ToolEvent, ToolStep } from '../types.ts';

export type OpeningState = {
  readonly kind: 'following';
  readonly spot: Spot | null;
  /** Typed width, kept for the next openings of this kind; null for the usual one. */
  readonly width: Mm | null;
};

/** Sizes a new opening starts with, mm: common practice, no source, edited afterwards. */
export const OPENING_SIZES: Readonly<Record<Opening['kind'], { width: Mm; sill: Mm; head: Mm }>> = {
  door: { width: 826, sill: 0, head: 2040 },
  window: { width: 1200, sill: 900, head: 2100 },
  opening: { width: 1000, sill: 0, head: 2100 },
};

const NO_WIDTH = 'An opening must have a width.';

/** Doors, windows and plain openings: a click on a wall puts one with its middle there. */
export const openingTool: Tool<OpeningState> = {
  id: 'opening',
  manner: PLACES,
  busy: () => false,
  start: (ctx) => follow({ kind: 'following', spot: null, width: null }, null, ctx),
  step(state, event, ctx) {
    if (event.type === 'cancel') return follow({ ...state, spot: null }, null, ctx);
    if (event.type === 'key') {
      const now = follow(state, null, ctx);
      return event.key === 'Escape' ? { ...now, session: { tool: 'select' } } : now;
    }
    if (event.type === 'typed') {
      const parsed = parseLength(event.text);
      const again = (width: Mm | null) =>
        follow({ ...state, width }, state.spot && aim(ctx, state.spot, event, width), ctx);
      if (event.text.trim() === '') return again(null);
      if (!parsed.ok) return { ...again(state.width), notice: parsed.reason };
      if (parsed.mm <= 0) return { ...again(state.width), notice: NO_WIDTH };
      return again(parsed.mm);
    }
    if (!isPointer(event)) return follow(state, null, ctx);
    const typed = typedLength(ctx);
    const width = typed?.ok && typed.mm > 0 ? typed.mm : state.width;
    const aimed = aim(ctx, event.spot, event, width);
    // What is typed shows at once, and stands for the openings after this one once it has been used.
    const next = { ...state, spot: event.spot, width: event.type === 'up' ? width : state.width };
    const now = follow(next, aimed, ctx);
    if (event.type !== 'up') return now;
    if (typed && !typed.ok) return { ...now, notice: typed.reason };
    if (typed && typed.mm <= 0) return { ...now, notice: NO_WIDTH };
    if (!aimed) return { ...now, notice: 'An opening goes in a wall: click one.' };
    const wrong = openingRefusal(ctx.doc, aimed.fields, null);
    if (wrong) return { ...now, notice: wrong.reason };
    const command = addOpening(aimed.fields);
    const outcome = command.apply(ctx.doc);
    const made = outcome.ok ? outcome.made : [];
    return {
      ...now,
      preview: null,
      command,
      select: made.map((id) => ({ table: 'openings', id, part: null })),
    };
  },
};

interface Aimed {
  readonly fields: Omit<Opening, 'id'>;
  readonly frame: WallFrame;
  readonly why: string | null;
}

function aim(ctx: ToolContext, spot: Spot, event: ToolEvent, width: Mm | null): Aimed | null {
  const found =
    spot.surface === 'plan' ? wallUnder(ctx, spot.at, toleranceOf(ctx, event)) : wallOfFace(ctx, spot);
  if (!found) return null;
  const { frame, along } = found;
  const kind = ctx.session.choices.opening;
  const usual = OPENING_SIZES[kind];
  const wide = width ?? Math.min(usual.width, frame.length);
  const top = frame.wall.top;
  const highest =
    top.kind === 'ceiling'
      ? frame.ceilingHeight
      : top.kind === 'level'
        ? top.z
        : Math.max(top.zFrom, top.zTo);
  const reach =
    ctx.session.snapping && !(isPointer(event) && event.alt) ? toleranceOf(ctx, event) / ctx.scale : 0;
  const placed = placeAlong(ctx, frame, along - wide / 2, wide, reach);
  return {
    frame,
    why: placed.why,
    fields: {
      wall: frame.id,
      kind,
      along: placed.along,
      width: wide,
      sill: Math.min(usual.sill, highest / 2),
      head: Math.min(usual.head, highest),
    },
  };
}

function wallOfFace(
  ctx: ToolContext,
  spot: Extract<Spot, { surface: 'face' }>,
): { readonly frame: WallFrame; readonly along: Mm } | null {
  const found = faceById(ctx.derived, spot.face);
  const on = found && alongOfU(found.face, spot.at.u);
  const wall = on ? ctx.doc.walls.byId[on.wall] : undefined;
  const frame = wall ? wallFrame(ctx.doc, wall) : null;
  return frame && on ? { frame, along: on.along } : null;
}

function follow(state: OpeningState, aimed: Aimed | null, ctx: ToolContext): ToolStep<OpeningState> {
  const kind = ctx.session.choices.opening;
  const width = state.width ?? OPENING_SIZES[kind].width;
  return {
    state,
    preview: aimed ? { plan: marksFor(ctx, aimed), faces: new Map() } : null,
    hint: `Click a wall where the middle of the ${kind} stands; type another width first if needed.`,
    ask: { label: 'Width', value: String(Math.round(width)) },
  };
}

function marksFor(ctx: ToolContext, aimed: Aimed): PreviewMark[] {
  const { frame, fields, why } = aimed;
  const end = fields.along + fields.width;
  const quad = [
    faceSurfacePoint(frame, 'left', fields.along),
    faceSurfacePoint(frame, 'left', end),
    faceSurfacePoint(frame, 'right', end),
    faceSurfacePoint(frame, 'right', fields.along),
  ];
  const wrong = openingRefusal(ctx.doc, fields, null);
  const middle = faceSurfacePoint(frame, 'left', (fields.along + end) / 2);
  // What is left beside it on the face of the room, from its corners; on the centre line where there is no face yet.
  const { fabric } = shapesOf(ctx);
  const on = fabric && onTape(fabric, fields, ctx.session.face);
  const [first, second] = !on
    ? [fields.along, frame.length - end]
    : on.side === 'right'
      ? [on.left, on.right]
      : [on.right, on.left];
  const text = wrong
    ? wrong.reason
    : [[first, fields.width, second].map(mmText).join(' | '), ...(why === null ? [] : [why])].join('\n');
  return [
    { kind: 'line', points: quad, look: wrong ? 'bad' : 'draft', closed: true },
    { kind: 'label', at: middle, text },
  ];
}

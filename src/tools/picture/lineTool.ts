import { setKnownLengths, straightenTracing } from '../../document/commands/tracings.ts';
import type { KnownLength, StoreyTracing } from '../../engine/model/tracing.ts';
import type { PlanPoint, ScreenPoint } from '../../engine/model/units.ts';
import { drawnSpot } from '../drawnSpot.ts';
import { isPointer, movedFar, planDistance, planPreview } from '../kit.ts';
import { mmText, parseLength } from '../lengthText.ts';
import { PLACES } from '../types.ts';
import type { PreviewMark, Tool, ToolContext, ToolEvent, ToolStep } from '../types.ts';
import { planToTracing, tracingToPlan } from '../../engine/geometry/tracing.ts';
import { LOCKED, NO_PICTURE, pictureInHand } from './pictureFrame.ts';

export type PictureLineState =
  | { readonly kind: 'waiting' }
  | { readonly kind: 'end'; readonly a: PlanPoint; readonly b: PlanPoint; readonly screen: ScreenPoint }
  /** Known length only: both ends stand, the length is awaited. */
  | { readonly kind: 'length'; readonly a: PlanPoint; readonly b: PlanPoint };

/** A line on the picture: from a press to its release, or from click to click. Shorter is a slip. */
const LEAST_PX = 8;
const WAITING: PictureLineState = { kind: 'waiting' };

type Line = { readonly a: PlanPoint; readonly b: PlanPoint };
type Step = ToolStep<PictureLineState>;

interface LineUse {
  readonly hint: (ctx: ToolContext) => string;
  /** Marks that stand while the tool waits. */
  readonly standing: (ctx: ToolContext) => readonly PreviewMark[];
  readonly label: (line: Line, ctx: ToolContext) => string;
  readonly done: (line: Line, picture: StoreyTracing, ctx: ToolContext) => Step;
}

function rest(use: LineUse, ctx: ToolContext): Step {
  const hint = pictureInHand(ctx) ? use.hint(ctx) : NO_PICTURE;
  return { state: WAITING, preview: planPreview(use.standing(ctx)), hint, ask: null };
}

function drawn(use: LineUse, state: Extract<PictureLineState, { kind: 'end' }>, ctx: ToolContext): Step {
  const marks: PreviewMark[] = [
    ...use.standing(ctx),
    { kind: 'line', points: [state.a, state.b], look: 'draft' },
    { kind: 'spot', at: state.a, look: 'handle' },
    { kind: 'spot', at: state.b, look: 'handle' },
  ];
  if (planDistance(state.a, state.b) * ctx.scale > LEAST_PX) {
    marks.push({ kind: 'label', at: state.b, text: use.label(state, ctx) });
  }
  return { state, preview: planPreview(marks), hint: 'Now the other end.', ask: null };
}

/** The pointer's part of both tools: one line, by dragging or by two clicks. */
function lineStep(use: LineUse, state: PictureLineState, event: ToolEvent, ctx: ToolContext): Step {
  if (event.type === 'cancel') return rest(use, ctx);
  if (event.type === 'key') {
    if (event.key !== 'Escape') return state.kind === 'end' ? drawn(use, state, ctx) : rest(use, ctx);
    return state.kind === 'waiting' ? { ...rest(use, ctx), session: { tool: 'select' } } : rest(use, ctx);
  }
  const at = drawnSpot(ctx, event);
  if (!isPointer(event) || at === null || event.type === 'double') {
    return state.kind === 'end' ? drawn(use, state, ctx) : rest(use, ctx);
  }
  const picture = pictureInHand(ctx);
  if (state.kind !== 'end') {
    if (event.type !== 'down') return rest(use, ctx);
    if (!picture) return { ...rest(use, ctx), notice: NO_PICTURE };
    return drawn(use, { kind: 'end', a: at, b: at, screen: event.screen }, ctx);
  }
  const b = event.shift ? straightFrom(state.a, at) : at;
  const far = planDistance(state.a, b) * ctx.scale > LEAST_PX;
  if (event.type === 'up' && far && picture && movedFar(event.screen, state.screen)) {
    return use.done({ a: state.a, b }, picture, ctx);
  }
  return drawn(use, { ...state, b }, ctx);
}

/** With shift held the line goes straight across or straight down. */
function straightFrom(a: PlanPoint, at: PlanPoint): PlanPoint {
  return Math.abs(at.x - a.x) >= Math.abs(at.y - a.y) ? { x: at.x, y: a.y } : { x: a.x, y: at.y };
}

const STRAIGHTEN: LineUse = {
  hint: () => 'Draw along a line of the tracing that should be straight across or straight down.',
  standing: () => [],
  label: ({ a, b }) => {
    const angle = (Math.atan2(b.y - a.y, b.x - a.x) * 180) / Math.PI;
    const off = angle - Math.round(angle / 90) * 90;
    return `${Math.abs(off).toFixed(1)}° askew`;
  },
  done(line, picture, ctx) {
    if (picture.locked) return { ...rest(STRAIGHTEN, ctx), notice: LOCKED };
    return { ...rest(STRAIGHTEN, ctx), command: straightenTracing(picture.id, line.a, line.b) };
  },
};

/** Turns the picture so that a drawn line lies straight. */
export const pictureStraightenTool: Tool<PictureLineState> = {
  id: 'picture-straighten',
  manner: PLACES,
  busy: (state) => state.kind !== 'waiting',
  start: (ctx) => rest(STRAIGHTEN, ctx),
  step: (state, event, ctx) =>
    event.type === 'typed' ? rest(STRAIGHTEN, ctx) : lineStep(STRAIGHTEN, state, event, ctx),
};

const SCALE: LineUse = {
  hint(ctx) {
    const known = pictureInHand(ctx)?.scale.known ?? [];
    if (known.length === 0) return 'Draw along something whose length you know, the longer the better.';
    if (known.length === 1)
      return `Now a second length, ${crossways(known[0] as KnownLength)}, to check the scale.`;
    return 'Two lengths are known. Draw along another to make the scale surer.';
  },
  standing(ctx) {
    const picture = pictureInHand(ctx);
    return (picture?.scale.known ?? []).flatMap((k): PreviewMark[] => {
      const a = tracingToPlan(picture as StoreyTracing, { x: k.ax, y: k.ay });
      const b = tracingToPlan(picture as StoreyTracing, { x: k.bx, y: k.by });
      return [
        { kind: 'line', points: [a, b], look: 'snap' },
        { kind: 'label', at: { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 }, text: mmText(k.length) },
      ];
    });
  },
  label: (line, ctx) =>
    (pictureInHand(ctx)?.scale.known.length ?? 0) > 0
      ? `now ${mmText(planDistance(line.a, line.b))}`
      : 'scale not known',
  done: (line, _picture, ctx) => awaited({ kind: 'length', ...line }, ctx),
};

/** In which direction the second length is asked: at right angles to the first, as it lies in the picture. */
function crossways(known: KnownLength): string {
  return Math.abs(known.bx - known.ax) >= Math.abs(known.by - known.ay) ? 'up and down' : 'across';
}

function awaited(state: Extract<PictureLineState, { kind: 'length' }>, ctx: ToolContext): Step {
  const known = (pictureInHand(ctx)?.scale.known.length ?? 0) > 0;
  return {
    state,
    preview: planPreview([
      ...SCALE.standing(ctx),
      { kind: 'line', points: [state.a, state.b], look: 'draft' },
      { kind: 'spot', at: state.a, look: 'handle' },
      { kind: 'spot', at: state.b, look: 'handle' },
    ]),
    hint: 'Type the real length of this line and press Enter: 3200, 3.2 m or 10\'6".',
    ask: {
      label: 'Real length',
      value: known ? String(Math.round(planDistance(state.a, state.b))) : '',
      focus: true,
    },
  };
}

/** Marks known lengths on the picture: each line's length is typed, and the scale is fitted to them all. */
export const pictureScaleTool: Tool<PictureLineState> = {
  id: 'picture-scale',
  manner: PLACES,
  busy: (state) => state.kind !== 'waiting',
  start: (ctx) => rest(SCALE, ctx),
  step(state, event, ctx) {
    if (state.kind !== 'length')
      return event.type === 'typed' ? rest(SCALE, ctx) : lineStep(SCALE, state, event, ctx);
    if (event.type === 'cancel' || (event.type === 'key' && event.key === 'Escape')) return rest(SCALE, ctx);
    // A new press means the line was not the one: it is drawn anew.
    if (event.type === 'down') return lineStep(SCALE, WAITING, event, ctx);
    if (event.type !== 'typed') return awaited(state, ctx);
    const parsed = parseLength(event.text);
    if (!parsed.ok) return { ...awaited(state, ctx), notice: parsed.reason };
    if (parsed.mm <= 0) return { ...awaited(state, ctx), notice: 'A known length is longer than nothing.' };
    const picture = pictureInHand(ctx);
    if (!picture) return { ...rest(SCALE, ctx), notice: NO_PICTURE };
    const a = planToTracing(picture, state.a);
    const b = planToTracing(picture, state.b);
    const one: KnownLength = { ax: a.x, ay: a.y, bx: b.x, by: b.y, length: parsed.mm };
    const command = setKnownLengths(picture.id, [...picture.scale.known, one]);
    const outcome = command.apply(ctx.doc);
    if (!outcome.ok) return { ...awaited(state, ctx), notice: outcome.reason };
    // The hint already speaks of the next length: it is that of the document the command makes.
    return { ...rest(SCALE, { ...ctx, doc: outcome.doc }), command };
  },
};

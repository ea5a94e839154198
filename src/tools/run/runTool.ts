import { aimAt } from './aim.ts';
import type { Aim } from './aimParts.ts';
import { cornersOf, draftFrom, takeBack, withPlaces, type Draft } from './draft.ts';
import { finishRun } from './finish.ts';
import { pointAt } from './pickPoint.ts';
import { movedFar, shownLength, typedLength } from '../kit.ts';
import { faceById } from '../onFaces.ts';
import { onFace } from './places.ts';
import { previewOf } from './preview.ts';
import { headOf, reachThrough } from './reach.ts';
import { typedAim } from './typed.ts';
import type { Point } from '../../engine/model/document.ts';
import type { ScreenPoint } from '../../engine/model/units.ts';
import type { Preview, SessionState, Spot, Tool, ToolContext, ToolEvent, ToolStep } from '../types.ts';

/**
 * Drawing a run. `idle` waits for a point; `pressed` is on one, not yet released (a drag from it draws too);
 * `drawing` grows the run by clicks on either surface.
 */
export type RunState =
  | { readonly kind: 'idle' }
  | { readonly kind: 'pressed'; readonly draft: Draft; readonly screen: ScreenPoint }
  | {
      readonly kind: 'drawing';
      readonly draft: Draft;
      readonly spot: Spot | null;
      readonly free: boolean;
      /** The button is down; a cancel then takes back the press only (a second finger, say). */
      readonly down: boolean;
    };
type Drawing = Extract<RunState, { kind: 'drawing' }>;

const START_HINT = 'Click the point the run starts from, on the plan or on a wall.';
const NOTHING: Preview = { plan: [], faces: new Map() };

/** The run tool: one state machine over the plan and the band of faces. */
export const runTool: Tool<RunState> = {
  id: 'run',
  manner: {
    pointer: 'place',
    keys: [
      { key: 'Backspace', words: 'One back' },
      { key: 'f', words: 'Turn the other way' },
      { key: 't', words: 'Through the wall' },
      { key: 'Enter', words: 'End here, on no point' },
    ],
    // Where one run has ended the next may start.
    clicksAgain: true,
  },
  busy: (state) => state.kind !== 'idle',
  start: () => idle(),
  step(state, event, ctx) {
    if (state.kind === 'idle') return fromIdle(event, ctx);
    if (state.kind === 'pressed') return fromPressed(state, event, ctx);
    return fromDrawing(state, event, ctx);
  },
};

function idle(more: Partial<ToolStep<RunState>> = {}): ToolStep<RunState> {
  return { state: { kind: 'idle' }, preview: null, hint: START_HINT, ask: null, ...more };
}

function fromIdle(event: ToolEvent, ctx: ToolContext): ToolStep<RunState> {
  if (event.type === 'move') {
    const point = pointAt(ctx, event.spot);
    return idle({ session: { hover: point ? { table: 'points', id: point.id, part: null } : null } });
  }
  if (isKey(event, 'escape')) return idle({ session: { tool: 'select' } });
  if (event.type !== 'down') return idle();
  const point = pointAt(ctx, event.spot);
  if (point === null) return idle({ notice: 'A run starts on a point: click one.' });
  return {
    state: { kind: 'pressed', draft: draftFrom(point), screen: event.screen },
    preview: NOTHING,
    hint: drawHint(ctx),
    session: showFace(ctx, point),
  };
}

/** The band shows the wall a run starts on, unless it shows that room already. */
function showFace(ctx: ToolContext, point: Point): Partial<SessionState> {
  for (const fabric of ctx.derived.fabrics.values()) {
    const on = onFace(fabric, point.place);
    if (on) return faceShown(ctx, on.face.id);
  }
  return {};
}

function faceShown(ctx: ToolContext, id: string): Partial<SessionState> {
  const face = faceById(ctx.derived, id)?.face;
  if (!face || (ctx.session.face === id && ctx.session.room === face.room)) return {};
  return { face: id, room: face.room };
}

function fromPressed(
  state: Extract<RunState, { kind: 'pressed' }>,
  event: ToolEvent,
  ctx: ToolContext,
): ToolStep<RunState> {
  if (event.type === 'up')
    return drawing(ctx, { kind: 'drawing', draft: state.draft, spot: null, free: false, down: false });
  if (event.type === 'cancel' || isKey(event, 'escape')) return idle();
  if (event.type === 'move') {
    if (movedFar(event.screen, state.screen)) {
      return drawing(ctx, {
        kind: 'drawing',
        draft: state.draft,
        spot: event.spot,
        free: event.alt,
        down: true,
      });
    }
  }
  return { state, preview: NOTHING, hint: drawHint(ctx) };
}

function drawHint(ctx: ToolContext): string {
  const way = ctx.session.choices.void === 'ceiling' ? 'over the ceiling' : 'under the floor';
  return `Click corners: on the plan the run goes ${way}, on a wall level or plumb. Click a point to end. Alt: diagonal. F: turn the other way. T: through the wall. Backspace: one back. Enter: end here, on no point.`;
}

function aimOf(ctx: ToolContext, state: Drawing): Aim | null {
  return (
    state.spot &&
    aimAt(ctx, state.draft.path, state.draft.from, state.spot, { free: state.free, flip: state.draft.flip })
  );
}

/** The aim as a click would take it now: as long as the length being typed, where there is one. */
function shownAim(ctx: ToolContext, state: Drawing): Aim | null {
  const aim = aimOf(ctx, state);
  if (shownLength(ctx) === null) return aim;
  const typed = typedAim(ctx, state.draft, aim, ctx.typed ?? '');
  return 'aim' in typed ? typed.aim : aim;
}

function drawing(
  ctx: ToolContext,
  state: Drawing,
  more: Partial<ToolStep<RunState>> = {},
): ToolStep<RunState> {
  const aim = shownAim(ctx, state);
  const end = aim?.end ?? null;
  return {
    state,
    preview: previewOf(ctx, state.draft, aim, state.spot),
    hint: drawHint(ctx),
    ask: { label: 'Length', value: '' },
    ...more,
    session: { hover: end === null ? null : { table: 'points', id: end, part: null }, ...more.session },
  };
}

const isKey = (event: ToolEvent, key: string): boolean =>
  event.type === 'key' && event.key.toLowerCase() === key;

function fromDrawing(state: Drawing, event: ToolEvent, ctx: ToolContext): ToolStep<RunState> {
  switch (event.type) {
    case 'cancel':
      return state.down ? drawing(ctx, { ...state, down: false, spot: null }) : idle();
    case 'move':
      return drawing(ctx, { ...state, spot: event.spot, free: event.alt });
    case 'down':
      return drawing(ctx, { ...state, spot: event.spot, free: event.alt, down: true });
    case 'up': {
      if (!state.down) return drawing(ctx, { ...state, spot: event.spot });
      const now: Drawing = { ...state, spot: event.spot, free: event.alt, down: false };
      return typedLength(ctx) === null
        ? take(ctx, now, aimOf(ctx, now))
        : takeTyped(ctx, now, ctx.typed ?? '');
    }
    case 'double':
      // Its first click has added the corner, its second nothing: what is left is to end there. With no corner yet,
      // its first click ended the run before on this very point, and its second began this one.
      return state.draft.clicks.length === 0 ? drawing(ctx, state) : finish(ctx, state, null);
    case 'typed':
      return takeTyped(ctx, state, event.text);
    case 'key':
      return onKey(ctx, state, event.key);
  }
}

/** A corner so far on as the text says, the way the pointer shows. */
function takeTyped(ctx: ToolContext, state: Drawing, text: string): ToolStep<RunState> {
  const aim = typedAim(ctx, state.draft, aimOf(ctx, state), text);
  return 'problem' in aim ? drawing(ctx, state, { notice: aim.problem }) : take(ctx, state, aim.aim);
}

function onKey(ctx: ToolContext, state: Drawing, key: string): ToolStep<RunState> {
  switch (key.toLowerCase()) {
    case 'escape':
      return idle();
    case 'enter':
      return finish(ctx, state, null);
    case 'backspace': {
      const back = takeBack(state.draft);
      return back ? drawing(ctx, { ...state, draft: back }) : idle();
    }
    case 'f':
      return drawing(ctx, { ...state, draft: { ...state.draft, flip: !state.draft.flip } });
    case 't':
      return passThrough(ctx, state);
    default:
      return drawing(ctx, state);
  }
}

/** One click: adds what the aim says, or ends on its point. */
function take(ctx: ToolContext, state: Drawing, aim: Aim | null): ToolStep<RunState> {
  if (aim === null) return drawing(ctx, state);
  if (aim.reach.refused !== null) return drawing(ctx, state, { notice: aim.reach.refused });
  const draft = withPlaces(state.draft, fresh(state.draft, aim));
  if (aim.end !== null) return finish(ctx, { ...state, draft }, aim.end);
  const face = aim.face === null ? {} : faceShown(ctx, aim.face);
  return drawing(ctx, { ...state, draft: { ...draft, flip: false } }, { session: face });
}

/** What a click adds, without a corner on the spot the run has already come to. */
function fresh(draft: Draft, aim: Aim): Aim['reach']['places'] {
  const last = draft.path[draft.path.length - 1];
  return aim.reach.places.filter((place, i) => {
    const before = i === 0 ? last : aim.reach.places[i - 1];
    return before === undefined || JSON.stringify(before) !== JSON.stringify(place);
  });
}

/** To the cursor first (when it is on a wall), then straight through that wall; the band follows to the other room. */
function passThrough(ctx: ToolContext, state: Drawing): ToolStep<RunState> {
  const aim = state.spot?.surface === 'face' ? aimOf(ctx, state) : null;
  const first = aim && aim.reach.refused === null && aim.end === null ? fresh(state.draft, aim) : [];
  const path = [...state.draft.path, ...first];
  const last = path[path.length - 1];
  for (const fabric of ctx.derived.fabrics.values()) {
    const head = last ? headOf(fabric, last) : null;
    if (!head?.face) continue;
    const through = reachThrough(fabric, head.face);
    if (through === null) break;
    const draft = withPlaces(state.draft, [...first, ...through.reach.places]);
    const session = faceShown(ctx, through.to.face.id);
    return drawing(
      ctx,
      { ...state, draft, spot: null },
      { session, notice: 'Through the wall: go on in the other room.' },
    );
  }
  return drawing(ctx, state, {
    notice:
      'No wall face lies right behind the run here: bring it onto a wall, or further along, and press T again.',
  });
}

function finish(ctx: ToolContext, state: Drawing, to: string | null): ToolStep<RunState> {
  if (to === null && cornersOf(state.draft).length === 0) {
    return drawing(ctx, state, { notice: 'Nothing drawn yet: click a corner, or the point it goes to.' });
  }
  const run = finishRun(ctx, state.draft, to);
  return idle({
    command: run.command,
    select: run.select,
    ...(run.notice === null ? {} : { notice: run.notice }),
  });
}

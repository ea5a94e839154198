import type { PlanPoint } from '../../engine/model/units.ts';
import { isPointer, movedFar, planDistance, planPreview, planSpot, shapesOf, snapOptions } from '../kit.ts';
import { grouped, mmText } from '../lengthText.ts';
import { snapPlan } from '../snap.ts';
import type { FacePoint, ScreenPoint } from '../../engine/model/units.ts';
import type { FaceId } from '../../engine/fabric/types.ts';
import { PLACES } from '../types.ts';
import type { Preview, PreviewMark, Tool, ToolEvent, ToolStep } from '../types.ts';

type End =
  | { readonly surface: 'plan'; readonly at: PlanPoint }
  | { readonly surface: 'face'; readonly face: FaceId; readonly at: FacePoint };

export type MeasureState =
  | { readonly kind: 'waiting'; readonly last: readonly [End, End] | null }
  | { readonly kind: 'from'; readonly a: End; readonly screen: ScreenPoint };

const HINT = 'Click or drag from one place to another to read the distance. Nothing is drawn.';

/** Reads distances off the plan or a face: straight, across and down. Changes nothing. */
export const measureTool: Tool<MeasureState> = {
  id: 'measure',
  manner: PLACES,
  busy: (state) => state.kind === 'from',
  start: () => show({ kind: 'waiting', last: null }, null),
  step(state, event, ctx) {
    if (event.type === 'cancel') return show({ kind: 'waiting', last: null }, null);
    if (event.type === 'key') {
      if (event.key !== 'Escape') return show(state, null);
      const step = show({ kind: 'waiting', last: null }, null);
      return state.kind === 'waiting' && state.last === null
        ? { ...step, session: { tool: 'select' } }
        : step;
    }
    if (!isPointer(event) || event.type === 'double') return show(state, null);
    const from = state.kind === 'from' && state.a.surface === 'plan' ? state.a.at : null;
    const plan = planSpot(event);
    const snap = plan ? snapPlan(shapesOf(ctx), plan, { ...snapOptions(ctx, event), from }) : null;
    const end: End =
      event.spot.surface === 'face'
        ? { surface: 'face', face: event.spot.face, at: roundFace(event.spot.at) }
        : { surface: 'plan', at: snap?.at ?? event.spot.at };
    const marks = snap?.marks ?? [];
    if (state.kind === 'waiting') {
      if (event.type === 'down') return show({ kind: 'from', a: end, screen: event.screen }, end, marks);
      return show(state, end, marks);
    }
    // A press that moved is a drag from end to end; a click leaves the far end to the next click.
    const clicked = !movedFar(event.screen, state.screen);
    if (event.type === 'up' && !clicked && same(state.a, end)) {
      return show({ kind: 'waiting', last: [state.a, end] }, null);
    }
    return show(state, end, marks);
  },
};

function roundFace(at: FacePoint): FacePoint {
  return { u: Math.round(at.u), z: Math.round(at.z) };
}

/** True when both ends lie on one surface, so that a distance between them can be read. */
function same(a: End, b: End): boolean {
  return a.surface === b.surface && (a.surface === 'plan' || (b.surface === 'face' && a.face === b.face));
}

function show(
  state: MeasureState,
  end: End | null,
  extra: readonly PreviewMark[] = [],
): ToolStep<MeasureState> {
  const pair: readonly [End, End] | null =
    state.kind === 'from' ? (end && same(state.a, end) ? [state.a, end] : null) : state.last;
  const marks = pair ? marksOf(pair) : null;
  return {
    state,
    preview: marks ?? (extra.length > 0 ? planPreview(extra) : null),
    hint: pair ? wordsOf(pair).replaceAll('\n', ', ') : HINT,
    ask: null,
  };
}

function wordsOf([a, b]: readonly [End, End]): string {
  if (a.surface === 'plan' && b.surface === 'plan') {
    const [dx, dy] = [Math.abs(b.at.x - a.at.x), Math.abs(b.at.y - a.at.y)];
    const parts = dx > 0.5 && dy > 0.5 ? `\n${grouped(dx)} across, ${grouped(dy)} down` : '';
    return `${mmText(planDistance(a.at, b.at))}${parts}`;
  }
  if (a.surface === 'face' && b.surface === 'face') {
    const [du, dz] = [Math.abs(b.at.u - a.at.u), Math.abs(b.at.z - a.at.z)];
    const parts = du > 0.5 && dz > 0.5 ? `\n${grouped(du)} across, ${grouped(dz)} up` : '';
    return `${mmText(Math.hypot(du, dz))}${parts}`;
  }
  return '';
}

function marksOf(pair: readonly [End, End]): Preview {
  const [a, b] = pair;
  const marks: PreviewMark[] = [
    { kind: 'line', points: [a.at, b.at], look: 'snap' },
    { kind: 'spot', at: a.at, look: 'handle' },
    { kind: 'spot', at: b.at, look: 'handle' },
    { kind: 'label', at: b.at, text: wordsOf(pair) },
  ];
  return b.surface === 'plan'
    ? { plan: marks, faces: new Map() }
    : { plan: [], faces: new Map([[b.face, marks]]) };
}

/** For tests: whether an event is one this tool listens to. */
export type MeasureEvent = Extract<ToolEvent, { spot: unknown }>;

import { assignPoints } from '../document/commands/circuits.ts';
import { POINT_KINDS } from '../engine/model/pointKinds.ts';
import type { Id, Point } from '../engine/model/document.ts';
import { onFace, planOf } from './run/places.ts';
import { pointAt } from './run/pickPoint.ts';
import { PLACES } from './types.ts';
import type { Preview, PreviewMark, Tool, ToolContext, ToolStep } from './types.ts';

/** Painting points onto the chosen circuit: a stroke gathers points under the pointer and puts them on at its end. */
export type AssignState =
  { readonly kind: 'idle' } | { readonly kind: 'painting'; readonly points: readonly Id[] };

export const assignTool: Tool<AssignState> = {
  id: 'assign',
  manner: PLACES,
  busy: (state) => state.kind === 'painting',
  start: (ctx) => idle(ctx),
  step(state, event, ctx) {
    if (event.type === 'cancel') return idle(ctx);
    if (event.type === 'key' && event.key === 'Escape')
      return state.kind === 'idle' ? idle(ctx, { session: { tool: 'select' } }) : idle(ctx);
    if (event.type === 'key' || event.type === 'typed' || event.type === 'double') return hold(state, ctx);
    const point = pointAt(ctx, event.spot);
    if (state.kind === 'idle') {
      if (event.type !== 'down') return idle(ctx, hoverOf(point));
      return paint(ctx, { kind: 'painting', points: [] }, point);
    }
    const now = paint(ctx, state, point);
    return event.type === 'up' ? put(ctx, now.state) : now;
  },
};

function circuitName(ctx: ToolContext): string | null {
  const circuit = ctx.doc.circuits.byId[ctx.session.choices.circuit ?? ''];
  return circuit ? `${circuit.label} ${circuit.name}`.trim() : null;
}

function hintOf(ctx: ToolContext): string {
  const name = circuitName(ctx);
  return name === null
    ? 'Choose a circuit first; then click points or paint over them.'
    : `Click points, or paint over several, to put them on ${name}.`;
}

const hoverOf = (point: Point | null): Partial<ToolStep<AssignState>> => ({
  session: { hover: point ? { table: 'points', id: point.id, part: null } : null },
});

function idle(ctx: ToolContext, more: Partial<ToolStep<AssignState>> = {}): ToolStep<AssignState> {
  return { state: { kind: 'idle' }, preview: null, hint: hintOf(ctx), ...more };
}

function hold(state: AssignState, ctx: ToolContext): ToolStep<AssignState> {
  return state.kind === 'idle'
    ? idle(ctx)
    : { state, preview: previewOf(ctx, state.points), hint: hintOf(ctx) };
}

/** Boards and data outlets are not fed by a circuit; a stroke passes them over. */
function takes(point: Point): boolean {
  return point.kind !== 'consumer-unit' && POINT_KINDS[point.kind].mains;
}

function paint(
  ctx: ToolContext,
  state: Extract<AssignState, { kind: 'painting' }>,
  point: Point | null,
): ToolStep<Extract<AssignState, { kind: 'painting' }>> {
  const adds = point !== null && takes(point) && !state.points.includes(point.id);
  const points = adds ? [...state.points, point.id] : state.points;
  return {
    state: { kind: 'painting', points },
    preview: previewOf(ctx, points),
    hint: hintOf(ctx),
    session: hoverOf(point).session ?? {},
  };
}

function put(ctx: ToolContext, state: Extract<AssignState, { kind: 'painting' }>): ToolStep<AssignState> {
  const circuit = ctx.session.choices.circuit;
  if (state.points.length === 0) return idle(ctx);
  if (circuit === null || circuitName(ctx) === null) return idle(ctx, { notice: 'Choose a circuit first.' });
  return idle(ctx, { command: assignPoints(state.points, circuit) });
}

/** A ring round each point gathered so far, on both surfaces. */
function previewOf(ctx: ToolContext, points: readonly Id[]): Preview {
  const plan: PreviewMark[] = [];
  const faces = new Map<string, PreviewMark[]>();
  for (const id of points) {
    const place = ctx.doc.points.byId[id]?.place;
    for (const fabric of place ? ctx.derived.fabrics.values() : []) {
      const at = place ? planOf(fabric, place) : null;
      const on = place ? onFace(fabric, place) : null;
      if (at && fabric.storey === ctx.session.storey) plan.push({ kind: 'spot', at, look: 'snap' });
      if (on)
        faces.set(on.face.id, [...(faces.get(on.face.id) ?? []), { kind: 'spot', at: on.at, look: 'snap' }]);
    }
  }
  return { plan, faces };
}

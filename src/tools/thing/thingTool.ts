import { addThing } from '../../document/commands/rooms.ts';
import { alongOfU } from '../../engine/fabric/lookup.ts';
import type { FaceId } from '../../engine/fabric/types.ts';
import type { Thing, ThingKind, ThingPlace } from '../../engine/model/document.ts';
import type { FacePoint, Mm, PlanPoint } from '../../engine/model/units.ts';
import { isPointer, planDistance, planPreview, planSpot, shapesOf, snapOptions } from '../kit.ts';
import { mmText } from '../lengthText.ts';
import { faceById } from '../onFaces.ts';
import { snapPlan } from '../snap.ts';
import { PLACES } from '../types.ts';
import type { Preview, PreviewMark, Tool, ToolContext, ToolEvent, ToolStep } from '../types.ts';

type Corner =
  | { readonly surface: 'plan'; readonly at: PlanPoint }
  | { readonly surface: 'face'; readonly face: FaceId; readonly at: FacePoint };

export type ThingState =
  { readonly kind: 'waiting' } | { readonly kind: 'corner'; readonly a: Corner; readonly far: boolean };

/** Heights a new thing starts with and where it lies, mm: common practice, no source, edited afterwards. */
const HEIGHTS: Readonly<Partial<Record<ThingKind, readonly [Mm, Mm]>>> = {
  unit: [0, 870],
  worktop: [870, 910],
  radiator: [150, 750],
  bath: [0, 550],
  shower: [0, 2100],
  sink: [700, 900],
  hob: [870, 910],
};
const LIES: Readonly<Partial<Record<ThingKind, 'ceiling' | 'floor'>>> = {
  insulation: 'ceiling',
  polystyrene: 'floor',
};
const HINT = 'Drag a rectangle, or click two opposite corners, on the plan or on a wall.';
const LEAST: Mm = 20;

/** Things in the way: a rectangle on the plan or on a face. */
export const thingTool: Tool<ThingState> = {
  id: 'thing',
  manner: PLACES,
  busy: (state) => state.kind === 'corner',
  start: () => rest(),
  step(state, event, ctx) {
    if (event.type === 'cancel') return rest();
    if (event.type === 'key') {
      if (event.key !== 'Escape') return state.kind === 'corner' ? show(state, null, []) : rest();
      return state.kind === 'corner' ? rest() : { ...rest(), session: { tool: 'select' } };
    }
    if (!isPointer(event) || event.type === 'double')
      return state.kind === 'corner' ? show(state, null, []) : rest();
    const { corner, marks } = cornerAt(event, ctx);
    if (state.kind === 'waiting') {
      if (event.type !== 'down') return { ...rest(), preview: planPreview(marks) };
      return show({ kind: 'corner', a: corner, far: false }, corner, marks);
    }
    if (!sameSurface(state.a, corner)) return show(state, null, []);
    const big = large(state.a, corner);
    if (event.type === 'up' && big) return put(state.a, corner, ctx);
    return show({ ...state, far: state.far || big }, corner, marks);
  },
};

function rest(): ToolStep<ThingState> {
  return { state: { kind: 'waiting' }, preview: null, hint: HINT, ask: null };
}

function cornerAt(
  event: Extract<ToolEvent, { spot: unknown }>,
  ctx: ToolContext,
): { corner: Corner; marks: readonly PreviewMark[] } {
  if (event.spot.surface === 'face') {
    const { u, z } = event.spot.at;
    const at = { u: Math.round(u / 5) * 5, z: Math.max(0, Math.round(z / 5) * 5) };
    return { corner: { surface: 'face', face: event.spot.face, at }, marks: [] };
  }
  const snap = snapPlan(shapesOf(ctx), planSpot(event) as PlanPoint, snapOptions(ctx, event));
  return { corner: { surface: 'plan', at: snap.at }, marks: snap.marks };
}

function sameSurface(a: Corner, b: Corner): boolean {
  return a.surface === b.surface && (a.surface === 'plan' || (b.surface === 'face' && a.face === b.face));
}

function large(a: Corner, b: Corner): boolean {
  if (a.surface === 'plan' && b.surface === 'plan')
    return Math.abs(a.at.x - b.at.x) >= LEAST && Math.abs(a.at.y - b.at.y) >= LEAST;
  if (a.surface === 'face' && b.surface === 'face')
    return Math.abs(a.at.u - b.at.u) >= LEAST && Math.abs(a.at.z - b.at.z) >= LEAST;
  return false;
}

function planRing(a: PlanPoint, b: PlanPoint): PlanPoint[] {
  return [a, { x: b.x, y: a.y }, b, { x: a.x, y: b.y }];
}

function show(
  state: Extract<ThingState, { kind: 'corner' }>,
  b: Corner | null,
  extra: readonly PreviewMark[],
): ToolStep<ThingState> {
  return { state, preview: b ? preview(state.a, b, extra) : null, hint: HINT, ask: null };
}

function preview(a: Corner, b: Corner, extra: readonly PreviewMark[]): Preview | null {
  if (a.surface === 'plan' && b.surface === 'plan') {
    const wide = planDistance(a.at, { x: b.at.x, y: a.at.y });
    const deep = planDistance(a.at, { x: a.at.x, y: b.at.y });
    return planPreview([
      ...extra,
      { kind: 'line', points: planRing(a.at, b.at), look: 'draft', closed: true },
      { kind: 'label', at: b.at, text: `${mmText(wide)} by ${mmText(deep)}` },
    ]);
  }
  if (a.surface === 'face' && b.surface === 'face') {
    const points = [a.at, { u: b.at.u, z: a.at.z }, b.at, { u: a.at.u, z: b.at.z }];
    const text = `${mmText(Math.abs(a.at.u - b.at.u))} by ${mmText(Math.abs(a.at.z - b.at.z))}`;
    const marks: PreviewMark[] = [
      { kind: 'line', points, look: 'draft', closed: true },
      { kind: 'label', at: b.at, text },
    ];
    return { plan: [], faces: new Map([[b.face, marks]]) };
  }
  return null;
}

function put(a: Corner, b: Corner, ctx: ToolContext): ToolStep<ThingState> {
  const kind = ctx.session.choices.thing as ThingKind;
  const place = placeOf(a, b, kind, ctx);
  if (typeof place === 'string') return { ...rest(), notice: place };
  const fields: Omit<Thing, 'id'> = { kind, name: '', place };
  const command = addThing(fields);
  const outcome = command.apply(ctx.doc);
  if (!outcome.ok) return { ...rest(), notice: outcome.reason };
  return { ...rest(), command, select: outcome.made.map((id) => ({ table: 'things', id, part: null })) };
}

/** The rectangle as a place of the plan, or why it is none. */
function placeOf(a: Corner, b: Corner, kind: ThingKind, ctx: ToolContext): ThingPlace | string {
  if (a.surface === 'face' && b.surface === 'face') {
    const found = faceById(ctx.derived, a.face);
    const from = found && alongOfU(found.face, Math.max(0, a.at.u));
    const to = found && alongOfU(found.face, Math.min(found.face.length, Math.max(0, b.at.u)));
    if (!from || !to) return 'That wall is no longer in the plan.';
    if (from.wall !== to.wall) return 'Draw it on one wall at a time.';
    return {
      on: 'face',
      wall: from.wall,
      side: from.side,
      along0: Math.min(from.along, to.along),
      along1: Math.max(from.along, to.along),
      z0: Math.min(a.at.z, b.at.z),
      z1: Math.max(a.at.z, b.at.z),
    };
  }
  if (a.surface !== 'plan' || b.surface !== 'plan')
    return 'Both corners must lie on the same wall or on the plan.';
  const { storey } = ctx.session;
  const build = ctx.doc.storeys.byId[storey];
  const ceiling = build?.ceilingHeight ?? 0;
  const where = LIES[kind] ?? (kind === 'no-cable' ? ctx.session.choices.void : 'room');
  // What lies in a void fills it, so that it meets the cables there.
  const fills: Readonly<Record<typeof where, readonly [Mm, Mm]>> = {
    room: HEIGHTS[kind] ?? [0, ceiling],
    ceiling: [ceiling, ceiling + (build?.ceiling.voidDepth ?? 0)],
    floor: [-(build?.floor.voidDepth ?? 0), 0],
  };
  const [z0, z1] = fills[where];
  return { on: 'plan', storey, outline: planRing(a.at, b.at), z0, z1, where };
}

import { guideMarks, guidesOf, nearestGuide, snapOnFace, type Guide } from './guides.ts';
import { pointAtFace, pointAtPlan } from './pickPoint.ts';
import { behind, footOn, onFace, planOf, wayRound } from './places.ts';
import {
  fromAxes,
  headOf,
  inAxes,
  reachOf,
  reachOnFace,
  reachOverToFace,
  reachRoundAngles,
  reachThrough,
  reachVoid,
  refuse,
  voidAxis,
  type Head,
  type Reach,
  type VoidKind,
  type VoidWay,
} from './reach.ts';
import { roundStep } from '../snap.ts';
import { faceById, faceNear } from '../onFaces.ts';
import { acrossPartitions } from '../../engine/fabric/across.ts';
import { facePlan, topAt } from '../../engine/fabric/lookup.ts';
import type { Fabric, Face, FaceId } from '../../engine/fabric/types.ts';
import type { Id, Place, Point } from '../../engine/model/document.ts';
import type { FacePoint, Mm, PlanPoint } from '../../engine/model/units.ts';
import type { PreviewMark, Spot, ToolContext } from '../types.ts';

/** What the pointer is at: what a click adds, the point it would end on, and what to show. */
export interface Aim {
  readonly reach: Reach;
  readonly end: Id | null;
  /** The face the run would then be on or above, to show in the band. */
  readonly face: FaceId | null;
  readonly plan: readonly PreviewMark[];
  readonly faces: ReadonlyMap<FaceId, readonly PreviewMark[]>;
}

/** How the person holds the keys. */
export interface Grip {
  /** Alt: diagonals allowed. */
  readonly free: boolean;
  /** F: the elbow the other way. */
  readonly flip: boolean;
}

const aimed = (
  reach: Reach,
  end: Id | null,
  face: Face | null,
  more: Partial<Pick<Aim, 'plan' | 'faces'>> = {},
): Aim => ({
  reach,
  end,
  face: face?.id ?? null,
  plan: [],
  faces: new Map(),
  ...more,
});

/** Past the top or the floor line by this much means: out of the wall, into the void. */
export const OUT_MM: Mm = 40;
const OUT_PX = 6;

/** Why a void cannot be used on this storey, or null when it can. */
export function voidRefusal(ctx: ToolContext, fabric: Fabric, kind: VoidKind): string | null {
  const storey = ctx.doc.storeys.byId[fabric.storey];
  if (storey?.[kind].kind !== 'solid') return null;
  return kind === 'ceiling'
    ? 'The ceiling is solid: no void above it.'
    : 'The floor is solid: no void under it.';
}

/** The run's last leg on a face was plumb: an elbow then carries on plumb first. */
function lastWasPlumb(fabric: Fabric, path: readonly Place[]): boolean {
  const b = path[path.length - 1];
  const a = path[path.length - 2];
  const to = b ? planOf(fabric, b) : null;
  const from = a ? planOf(fabric, a) : null;
  return to !== null && from !== null && Math.hypot(to.x - from.x, to.y - from.y) <= 2;
}

/** What a click here would add to a run that has come along `path` (its first place that of its start). */
export function aimAt(
  ctx: ToolContext,
  path: readonly Place[],
  start: Id | null,
  spot: Spot,
  grip: Grip,
): Aim | null {
  const last = path[path.length - 1];
  if (!last) return null;
  const fabric =
    spot.surface === 'face'
      ? (faceById(ctx.derived, spot.face)?.fabric ?? null)
      : ctx.derived.fabrics.get(ctx.session.storey);
  if (!fabric) return null;
  const head = headOf(fabric, last);
  if (!head)
    return aimed(refuse('The run began on another storey: end it there, or start again here.'), null, null);
  const target = spot.surface === 'face' ? pointAtFace(ctx, spot) : pointAtPlan(ctx, spot.at, start);
  const goal = target !== null && target.id !== start ? target : null;
  return spot.surface === 'face'
    ? aimOnFace(ctx, fabric, path, head, spot, goal, grip)
    : aimOnPlan(ctx, fabric, path, head, spot.at, goal, grip);
}

function wayOf(fabric: Fabric, path: readonly Place[], head: Head, kind: VoidKind, grip: Grip): VoidWay {
  return { kind, axis: voidAxis(fabric, path, head), ...grip };
}

/** A path that ends on a point: the point itself stands for the last place. */
function endOn(reach: Reach, point: Point, face: Face | null): Aim {
  const places = reach.places.slice(0, -1);
  return aimed({ ...reach, places, reasons: [point.label, ...reach.reasons] }, point.id, face);
}

function aimOnPlan(
  ctx: ToolContext,
  fabric: Fabric,
  path: readonly Place[],
  head: Head,
  at: PlanPoint,
  goal: Point | null,
  grip: Grip,
): Aim {
  const kind = head.void ?? ctx.session.choices.void;
  const way = wayOf(fabric, path, head, kind, grip);
  const solid = voidRefusal(ctx, fabric, kind);
  if (goal) {
    const on = onFace(fabric, goal.place);
    if (on && head.face?.face.id === on.face.id && Math.abs(head.face.at.u - on.at.u) <= 1) {
      return endOn(reachOnFace(on.face, head.face.at, on.at, false, true), goal, on.face);
    }
    if (solid) return aimed(refuse(solid), null, null);
    if (on) return endOn(reachOverToFace(fabric, head, on.face, on.at, way), goal, on.face);
    const plan = planOf(fabric, goal.place);
    if (plan === null) return aimed(refuse('The wall of this point is gone.'), null, null);
    if ((goal.place.on === 'ceiling' || goal.place.on === 'floor') && goal.place.on !== kind) {
      const where = goal.place.on === 'floor' ? 'in the floor' : 'on the ceiling';
      return aimed(refuse(`${goal.label} is ${where}: take the run down or up a wall first.`), null, null);
    }
    const reach = reachVoid(fabric, head, plan, way);
    const at0 = reach.places[reach.places.length - 1];
    const ends = at0 !== undefined && at0.on === goal.place.on && near(planOf(fabric, at0), plan);
    return ends ? endOn(reach, goal, null) : aimed({ ...reach, reasons: [goal.label] }, goal.id, null);
  }
  if (solid) return aimed(refuse(solid), null, null);
  const tolerance = ctx.tolerance / ctx.scale;
  const wall = ctx.session.snapping ? faceNear(fabric, at, Math.max(50, tolerance)) : null;
  if (wall) {
    const { u, why } = alongWall(ctx, fabric, wall.face, wall.u, head, way, tolerance);
    const reach = reachVoid(fabric, head, facePlan(wall.face, u), way);
    const over = kind === 'ceiling' ? 'above the wall' : 'under the wall';
    return aimed({ ...reach, reasons: [over, ...why] }, null, wall.face);
  }
  const { to, why, mark } = squareTo(ctx, fabric, head.plan, at, way, tolerance);
  return aimed({ ...reachVoid(fabric, head, to, way), reasons: why }, null, null, { plan: mark });
}

const near = (a: PlanPoint | null, b: PlanPoint): boolean =>
  a !== null && Math.hypot(a.x - b.x, a.y - b.y) <= 2;

/** Where along a wall to stop: square from the last corner, or plumb over a point, when the cursor is near that. */
function alongWall(
  ctx: ToolContext,
  fabric: Fabric,
  face: Face,
  u: Mm,
  head: Head,
  way: VoidWay,
  tolerance: Mm,
): { u: Mm; why: string[] } {
  const guide = nearestGuide(
    guidesOf(ctx.doc, fabric, ctx.derived.zones.get(face.id) ?? [], face),
    'u',
    u,
    tolerance,
  );
  if (guide) return { u: guide.value, why: [guide.why] };
  if (!way.free) {
    const foot = footOn(face, head.plan);
    if (foot.u >= 0 && foot.u <= face.length && Math.abs(foot.u - u) <= tolerance)
      return { u: foot.u, why: ['square across'] };
  }
  return { u: Math.round(u), why: [] };
}

/** Held to the axis the cursor is nearer to, and in line with points passed on the way. */
function squareTo(
  ctx: ToolContext,
  fabric: Fabric,
  from: PlanPoint,
  cursor: PlanPoint,
  way: VoidWay,
  tolerance: Mm,
): { to: PlanPoint; why: string[]; mark: PreviewMark[] } {
  const step = roundStep(ctx.scale);
  const whole = (v: Mm): Mm => Math.round(v / step) * step;
  if (way.free) return { to: { x: whole(cursor.x), y: whole(cursor.y) }, why: [], mark: [] };
  const { along, across } = inAxes(from, cursor, way.axis);
  const isAlong = Math.abs(along) >= Math.abs(across);
  let length = whole(isAlong ? along : across);
  let held: { label: string; at: PlanPoint; gap: Mm } | null = null;
  for (const id of ctx.session.snapping ? ctx.doc.points.order : []) {
    const point = ctx.doc.points.byId[id];
    const at = point ? planOf(fabric, point.place) : null;
    if (!point || at === null) continue;
    const axes = inAxes(from, at, way.axis);
    const here = isAlong ? axes.along : axes.across;
    const gap = Math.abs(here - (isAlong ? along : across));
    if (gap <= tolerance && (held === null || gap < held.gap)) {
      held = { label: point.label, at, gap };
      length = here;
    }
  }
  const to = isAlong ? fromAxes(from, way.axis, length, 0) : fromAxes(from, way.axis, 0, length);
  if (held === null) return { to, why: [], mark: [] };
  return {
    to,
    why: [`in line with ${held.label}`],
    mark: [
      { kind: 'line', look: 'guide', points: [held.at, to] },
      { kind: 'spot', at: to, look: 'snap' },
    ],
  };
}

function aimOnFace(
  ctx: ToolContext,
  fabric: Fabric,
  path: readonly Place[],
  head: Head,
  spot: Extract<Spot, { surface: 'face' }>,
  goal: Point | null,
  grip: Grip,
): Aim | null {
  const face = fabric.faces.get(spot.face);
  if (!face) return null;
  const reachMm = ctx.session.snapping ? ctx.tolerance / ctx.scale : 0;
  const step = roundStep(ctx.scale);
  const guides = guidesOf(ctx.doc, fabric, ctx.derived.zones.get(face.id) ?? [], face);
  const target = goal ? onFace(fabric, goal.place) : null;
  const out = Math.max(OUT_MM, OUT_PX / ctx.scale);
  const top = topAt(face, Math.min(face.length, Math.max(0, spot.at.u)));
  const leaves: VoidKind | null = spot.at.z > top + out ? 'ceiling' : spot.at.z < -out ? 'floor' : null;
  if (!target && leaves) return aimOut(ctx, fabric, path, head, face, spot.at, leaves, guides, reachMm, grip);

  const entry = entryOn(ctx, fabric, head, face);
  const plumbFirst = lastWasPlumb(fabric, path) !== grip.flip;
  const overhead = head.face === null ? footOn(face, head.plan) : null;
  const above =
    overhead !== null && overhead.distance <= 60 && overhead.u >= -1 && overhead.u <= face.length + 1;
  let snap = snapOnFace(entry, spot.at, guides, reachMm, grip.free || entry === null, step);
  if (above && Math.abs(spot.at.u - overhead.u) <= Math.abs(top - spot.at.z)) {
    const drop = snapOnFace(
      { u: overhead.u, z: top },
      { u: overhead.u, z: spot.at.z },
      guides,
      reachMm,
      false,
      step,
    );
    snap = { ...drop, held: drop.held };
  }
  const at: FacePoint = target
    ? target.at
    : { u: Math.min(face.length, Math.max(0, snap.at.u)), z: snap.at.z };
  const reach = reachFace(ctx, fabric, path, head, face, at, grip, plumbFirst);
  const held = target ? [] : snap.held;
  const faces = new Map([[face.id, guideMarks(face, at, held)]]);
  if (goal && target) return { ...endOn(reach, goal, face), faces };
  return aimed({ ...reach, reasons: [...reach.reasons, ...held.map((g) => g.why)] }, null, face, { faces });
}

/** Where the run comes onto a face: its own place there, or the angle or wall behind it comes in by. */
function entryOn(ctx: ToolContext, fabric: Fabric, head: Head, face: Face): FacePoint | null {
  const on = head.face;
  if (on === null) return null;
  if (on.face.id === face.id) return on.at;
  const other = behind(fabric, on.face, on.at);
  if (other?.face.id === face.id) return other.at;
  if (acrossPartitions(ctx.doc, fabric, { face: on.face, u: on.at.u }, { face, u: 0 })) {
    const foot = footOn(face, head.plan);
    return { u: Math.min(face.length, Math.max(0, foot.u)), z: on.at.z };
  }
  const way = wayRound(fabric, on.face, face.id, on.at.u, 0);
  return way ? { u: way.right ? 0 : face.length, z: on.at.z } : null;
}

/** The ways to a place on a face, most direct first: along it, through the wall, round angles, over the void. */
function reachFace(
  ctx: ToolContext,
  fabric: Fabric,
  path: readonly Place[],
  head: Head,
  face: Face,
  at: FacePoint,
  grip: Grip,
  plumbFirst: boolean,
): Reach {
  const on = head.face;
  if (on) {
    if (on.face.id === face.id) return reachOnFace(face, on.at, at, grip.free, plumbFirst);
    const through = reachThrough(fabric, on);
    if (through && through.to.face.id === face.id) {
      const rest = reachOnFace(face, through.to.at, at, grip.free, plumbFirst);
      return reachOf([...through.reach.places, ...rest.places], 'through the wall', ...rest.reasons);
    }
    if (acrossPartitions(ctx.doc, fabric, { face: on.face, u: on.at.u }, { face, u: at.u })) {
      const rest = reachOnFace(face, { u: footOn(face, head.plan).u, z: on.at.z }, at, false, false);
      return reachOf(rest.places, 'through the partition');
    }
    const round = reachRoundAngles(fabric, on, face, at, plumbFirst);
    if (round) return round;
  }
  const kind = head.void ?? ctx.session.choices.void;
  const solid = voidRefusal(ctx, fabric, kind);
  if (solid) return refuse(solid);
  return reachOverToFace(fabric, head, face, at, wayOf(fabric, path, head, kind, grip));
}

/** Up into the ceiling void or down under the floor: plumb from where the run is, or along above this wall. */
function aimOut(
  ctx: ToolContext,
  fabric: Fabric,
  path: readonly Place[],
  head: Head,
  face: Face,
  cursor: FacePoint,
  kind: VoidKind,
  guides: readonly Guide[],
  reachMm: Mm,
  grip: Grip,
): Aim {
  const solid = voidRefusal(ctx, fabric, kind);
  if (solid) return aimed(refuse(solid), null, face);
  if (head.void !== null && head.void !== kind) {
    return aimed(
      refuse('From one void to the other a run goes by a wall: click on the wall first.'),
      null,
      face,
    );
  }
  const way = wayOf(fabric, path, head, kind, grip);
  const words = kind === 'ceiling' ? 'up to the ceiling' : 'down under the floor';
  if (head.face?.face.id === face.id)
    return aimed({ ...reachVoid(fabric, head, head.plan, way), reasons: [words] }, null, face);
  const u = Math.min(face.length, Math.max(0, cursor.u));
  const guide = nearestGuide(guides, 'u', u, reachMm);
  const reach = reachVoid(fabric, head, facePlan(face, guide?.value ?? u), way);
  return aimed(
    {
      ...reach,
      reasons: [kind === 'ceiling' ? 'above the wall' : 'under the wall', ...(guide ? [guide.why] : [])],
    },
    null,
    face,
    {
      faces: new Map([
        [face.id, guideMarks(face, { u: guide?.value ?? u, z: cursor.z }, guide ? [guide] : [])],
      ]),
    },
  );
}

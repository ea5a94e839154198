import { aimed, endOn, voidRefusal, wayOf, type Aim, type Aiming } from './aimParts.ts';
import { guidesOf, nearestGuide } from './guides.ts';
import { footOn, onFace, planOf } from './places.ts';
import {
  fromAxes,
  inAxes,
  reachOnFace,
  reachOverToFace,
  reachVoid,
  refuse,
  type Head,
  type VoidWay,
} from './reach.ts';
import { faceNear } from '../onFaces.ts';
import { roundStep } from '../snap.ts';
import { facePlan } from '../../engine/fabric/lookup.ts';
import type { Fabric, Face } from '../../engine/fabric/types.ts';
import type { Mm, PlanPoint } from '../../engine/model/units.ts';
import type { PreviewMark, ToolContext } from '../types.ts';

/** What a click on the plan means: a point, a stop above (or under) a wall, or a corner in the void. */
export function aimOnPlan(aiming: Aiming, at: PlanPoint): Aim {
  const { ctx, fabric, head, goal } = aiming;
  const kind = head.void ?? ctx.session.choices.void;
  const way = wayOf(aiming, kind);
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

/** A cursor this far off an axis, as a share of the way along it (about 10°), is still meant straight. */
const STRAIGHT_SHARE = 0.18;

/**
 * Straight along or across where the cursor is near that, else to the cursor itself, with an elbow on the way; in line
 * with points passed.
 */
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
  const aim = inAxes(from, cursor, way.axis);
  const [small, large] = [Math.abs(aim.along), Math.abs(aim.across)].sort((a, b) => a - b) as [Mm, Mm];
  const straight = small <= Math.max(tolerance, large * STRAIGHT_SHARE);
  const isAlong = Math.abs(aim.along) >= Math.abs(aim.across);
  const holds = (axis: 'along' | 'across'): InLine | null =>
    straight && isAlong !== (axis === 'along')
      ? null
      : inLineWith(ctx, fabric, from, aim[axis], axis, way, tolerance);
  const held = { along: holds('along'), across: holds('across') };
  const length = (axis: 'along' | 'across'): Mm =>
    straight && isAlong !== (axis === 'along') ? 0 : (held[axis]?.value ?? whole(aim[axis]));
  const to = fromAxes(from, way.axis, length('along'), length('across'));
  const guides = [held.along, held.across].filter((h) => h !== null);
  return {
    to,
    why: guides.map((h) => `in line with ${h.label}`),
    mark: guides.flatMap((h): PreviewMark[] => [
      { kind: 'line', look: 'guide', points: [h.at, to] },
      { kind: 'spot', at: to, look: 'snap' },
    ]),
  };
}

interface InLine {
  readonly label: string;
  readonly at: PlanPoint;
  readonly value: Mm;
}

/** The point nearest in line with a length along or across, within reach. */
function inLineWith(
  ctx: ToolContext,
  fabric: Fabric,
  from: PlanPoint,
  length: Mm,
  axis: 'along' | 'across',
  way: VoidWay,
  tolerance: Mm,
): InLine | null {
  let held: (InLine & { readonly gap: Mm }) | null = null;
  for (const id of ctx.session.snapping ? ctx.doc.points.order : []) {
    const point = ctx.doc.points.byId[id];
    const at = point ? planOf(fabric, point.place) : null;
    if (!point || at === null) continue;
    const value = inAxes(from, at, way.axis)[axis];
    const gap = Math.abs(value - length);
    if (gap <= tolerance && (held === null || gap < held.gap)) held = { label: point.label, at, value, gap };
  }
  return held;
}

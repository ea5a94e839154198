import { onFace, planOf } from './places.ts';
import type { Fabric } from '../../engine/fabric/types.ts';
import type { Id, Point } from '../../engine/model/document.ts';
import { plateOf } from '../../engine/model/pointKinds.ts';
import type { PlanPoint } from '../../engine/model/units.ts';
import type { Spot, ToolContext } from '../types.ts';

/** The point under a spot of a face: within its plate, or within the pointer's tolerance of it. */
export function pointAtFace(ctx: ToolContext, spot: Extract<Spot, { surface: 'face' }>): Point | null {
  const slack = ctx.tolerance / ctx.scale;
  let best: { point: Point; d: number } | null = null;
  for (const fabric of ctx.derived.fabrics.values()) {
    if (!fabric.faces.has(spot.face)) continue;
    for (const id of ctx.doc.points.order) {
      const point = ctx.doc.points.byId[id];
      const on = point ? onFace(fabric, point.place) : null;
      if (!point || on?.face.id !== spot.face) continue;
      const plate = plateOf(point.kind, point.gangs) ?? { width: 60, height: 60 };
      const du = Math.max(0, Math.abs(on.at.u - spot.at.u) - plate.width / 2);
      const dz = Math.max(0, Math.abs(on.at.z - spot.at.z) - plate.height / 2);
      if (Math.hypot(du, dz) > slack) continue;
      const d = Math.hypot(on.at.u - spot.at.u, on.at.z - spot.at.z);
      if (best === null || d < best.d) best = { point, d };
    }
  }
  return best?.point ?? null;
}

/**
 * The point under a spot of the plan. Where several stand over each other (a switch above a socket) the one under the
 * pointer's hover wins, then the nearest, then the first drawn. `not` is left out.
 */
export function pointAtPlan(
  ctx: ToolContext,
  fabric: Fabric,
  at: PlanPoint,
  not: Id | null = null,
): Point | null {
  const slack = Math.max(40, (ctx.tolerance * 1.5) / ctx.scale);
  let best: { point: Point; d: number } | null = null;
  for (const id of ctx.doc.points.order) {
    const point = ctx.doc.points.byId[id];
    if (!point || id === not) continue;
    const plan =
      point.place.on === 'face' || point.place.storey === fabric.storey ? planOf(fabric, point.place) : null;
    if (plan === null) continue;
    const d = Math.hypot(plan.x - at.x, plan.y - at.y);
    if (d > slack) continue;
    const hovered = ctx.session.hover?.table === 'points' && ctx.session.hover.id === id;
    if (hovered) return point;
    if (best === null || d < best.d - 1e-6) best = { point, d };
  }
  return best?.point ?? null;
}

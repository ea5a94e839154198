import { onFace } from './places.ts';
import { shapesOf } from '../kit.ts';
import { pickAll, pickScene } from '../pick.ts';
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
      const plate = plateOf(point) ?? { width: 60, height: 60 };
      const du = Math.max(0, Math.abs(on.at.u - spot.at.u) - plate.width / 2);
      const dz = Math.max(0, Math.abs(on.at.z - spot.at.z) - plate.height / 2);
      if (Math.hypot(du, dz) > slack) continue;
      const d = Math.hypot(on.at.u - spot.at.u, on.at.z - spot.at.z);
      if (best === null || d < best.d) best = { point, d };
    }
  }
  return best?.point ?? null;
}

/** The point under a spot of the plan, as it is drawn there; the best one that is not `not`. */
export function pointAtPlan(ctx: ToolContext, at: PlanPoint, not: Id | null = null): Point | null {
  const options = { scale: ctx.scale, tolerance: ctx.tolerance * 1.5, tables: ['points'] as const };
  const found = pickAll(pickScene(shapesOf(ctx)), at, options).find((ref) => ref.id !== not);
  return (found && ctx.doc.points.byId[found.id]) ?? null;
}

/** The point under a spot of either surface. */
export function pointAt(ctx: ToolContext, spot: Spot): Point | null {
  return spot.surface === 'face' ? pointAtFace(ctx, spot) : pointAtPlan(ctx, spot.at);
}

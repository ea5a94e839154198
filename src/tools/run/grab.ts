import { pointAtFace } from './pickPoint.ts';
import { onFace, planOf, type OnFace } from './places.ts';
import type { Id, Run } from '../../engine/model/document.ts';
import type { FacePoint, Mm, PlanPoint } from '../../engine/model/units.ts';
import type { Leg } from '../../engine/fabric/types.ts';
import type { Spot, ToolContext } from '../types.ts';

/** What of a drawing can be taken hold of: a corner or a leg of a selected run, or a point on a wall. */
export type Grab =
  | { readonly kind: 'corner'; readonly run: Id; readonly corner: number }
  | { readonly kind: 'stretch'; readonly run: Id; readonly stretch: number; readonly leg: Leg }
  | { readonly kind: 'point'; readonly point: Id; readonly on: OnFace };

/** Runs whose legs and corners may be dragged: the selected ones, but for locked ones. */
export function selectedRuns(ctx: ToolContext): readonly Run[] {
  const ids = new Set(ctx.session.selection.filter((r) => r.table === 'runs').map((r) => r.id));
  return [...ids].map((id) => ctx.doc.runs.byId[id]).filter((r): r is Run => r !== undefined && !r.locked);
}

function distanceTo(
  p: readonly [number, number],
  a: readonly [number, number],
  b: readonly [number, number],
): Mm {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const l2 = dx * dx + dy * dy;
  const t = l2 === 0 ? 0 : Math.min(1, Math.max(0, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / l2));
  return Math.hypot(p[0] - a[0] - t * dx, p[1] - a[1] - t * dy);
}

const xy = (p: PlanPoint): readonly [number, number] => [p.x, p.y];
const uz = (p: FacePoint): readonly [number, number] => [p.u, p.z];

/** Where a corner of a run is drawn on a surface; null when it is not there. */
export function cornerOnSurface(
  ctx: ToolContext,
  run: Run,
  corner: number,
  spot: Spot,
): readonly [number, number] | null {
  const place = run.corners[corner];
  if (!place) return null;
  for (const fabric of ctx.derived.fabrics.values()) {
    if (spot.surface === 'face') {
      const on = onFace(fabric, place);
      if (on?.face.id === spot.face) return uz(on.at);
    } else if (
      fabric.storey === ctx.session.storey &&
      (place.on === 'face' || place.storey === fabric.storey)
    ) {
      const at = planOf(fabric, place);
      if (at) return xy(at);
    }
  }
  return null;
}

/**
 * What is under a spot within the pointer's tolerance: corners of selected runs, then (on a wall) a point whose plate is
 * hit, then legs of selected runs, then points nearby. On the plan only legs in a void can be moved sideways, and points
 * are the select tool's own.
 */
export function grabAt(ctx: ToolContext, spot: Spot): Grab | null {
  const slack = ctx.tolerance / ctx.scale;
  const at = spot.surface === 'face' ? uz(spot.at) : xy(spot.at);
  let best: { grab: Grab; d: Mm } | null = null;
  const offer = (grab: Grab, d: Mm): void => {
    if (d <= slack && (best === null || d < best.d)) best = { grab, d };
  };
  const runs = selectedRuns(ctx);
  for (const run of runs) {
    run.corners.forEach((place, i) => {
      const here = cornerOnSurface(ctx, run, i, spot);
      if (here && (spot.surface === 'face' || place.on !== 'face')) {
        offer({ kind: 'corner', run: run.id, corner: i }, Math.hypot(at[0] - here[0], at[1] - here[1]));
      }
    });
  }
  if (best !== null) return (best as { grab: Grab }).grab;
  // At its ends a run lies on its points: those would else be out of reach while it is selected.
  const onPlate = spot.surface === 'face' ? grabPoint({ ...ctx, tolerance: PLATE_SLACK_PX }, spot) : null;
  if (onPlate) return onPlate;
  for (const run of runs) {
    for (const { leg } of ctx.derived.runs.get(run.id)?.legs ?? []) {
      const grab: Grab = { kind: 'stretch', run: run.id, stretch: leg.stretch, leg };
      if (spot.surface === 'face') {
        if (leg.face === spot.face && leg.fa && leg.fb) offer(grab, distanceTo(at, uz(leg.fa), uz(leg.fb)));
      } else if (leg.storey === ctx.session.storey && (leg.kind === 'ceiling' || leg.kind === 'floor')) {
        offer(grab, distanceTo(at, xy(leg.a), xy(leg.b)));
      }
    }
  }
  if (best !== null) return (best as { grab: Grab }).grab;
  return spot.surface === 'face' ? grabPoint(ctx, spot) : null;
}

const PLATE_SLACK_PX = 3;

function grabPoint(ctx: ToolContext, spot: Extract<Spot, { surface: 'face' }>): Grab | null {
  const point = pointAtFace(ctx, spot);
  for (const fabric of point ? ctx.derived.fabrics.values() : []) {
    const on = point && onFace(fabric, point.place);
    if (point && on) return { kind: 'point', point: point.id, on };
  }
  return null;
}

import { segmentNearest } from '../../engine/geometry/segment.ts';
import type { FacePoint } from '../../engine/model/units.ts';
import { shapesOf } from '../kit.ts';
import { faceById } from '../onFaces.ts';
import { pickAll, pickScene } from '../pick.ts';
import { pointAtFace } from '../run/pickPoint.ts';
import type { Ref, Spot, ToolContext } from '../types.ts';

/** The records under a spot of either surface, best first. `tolerance` in screen pixels. */
export function pickSpot(ctx: ToolContext, spot: Spot, tolerance: number): Ref[] {
  if (spot.surface === 'plan') {
    return pickAll(pickScene(shapesOf(ctx)), spot.at, { scale: ctx.scale, tolerance });
  }
  return pickFace(ctx, spot, tolerance);
}

/** On a face: a point's plate, then the nearest leg of a run, then an opening, then a thing. */
function pickFace(ctx: ToolContext, spot: Extract<Spot, { surface: 'face' }>, tolerance: number): Ref[] {
  const out: Ref[] = [];
  const point = pointAtFace({ ...ctx, tolerance: Math.min(ctx.tolerance, tolerance) }, spot);
  if (point) out.push({ table: 'points', id: point.id, part: null });
  const reach = tolerance / ctx.scale;
  const xy = (p: FacePoint) => ({ x: p.u, y: p.z });
  const legs = [...ctx.derived.runs.values()].flatMap((check) =>
    check.legs.flatMap(({ leg }) => {
      if (leg.face !== spot.face || !leg.fa || !leg.fb) return [];
      const off = segmentNearest(xy(spot.at), xy(leg.fa), xy(leg.fb)).distance;
      return off <= reach
        ? [{ ref: { table: 'runs' as const, id: check.run, part: `leg:${leg.stretch}` }, off }]
        : [];
    }),
  );
  out.push(...legs.sort((a, b) => a.off - b.off).map((hit) => hit.ref));
  const { u, z } = spot.at;
  const found = faceById(ctx.derived, spot.face);
  for (const o of found?.face.openings ?? []) {
    if (u >= o.u0 && u <= o.u1 && z >= o.z0 && z <= o.z1)
      out.push({ table: 'openings', id: o.id, part: null });
  }
  for (const id of ctx.doc.things.order) {
    const place = ctx.doc.things.byId[id]?.place;
    if (place?.on !== 'face') continue;
    const piece = found?.face.pieces.find((p) => p.wall === place.wall && p.side === place.side);
    if (!piece) continue;
    const rate = piece.alongAtU1 >= piece.alongAtU0 ? 1 : -1;
    const along = piece.alongAtU0 + rate * (u - piece.u0);
    if (along >= place.along0 && along <= place.along1 && z >= place.z0 && z <= place.z1)
      out.push({ table: 'things', id, part: null });
  }
  return out;
}

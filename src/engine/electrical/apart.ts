import { insideOutline } from '../geometry/outline.ts';
import { segmentNearest } from '../geometry/segment.ts';
import { uOfAlong } from '../fabric/lookup.ts';
import type { Fabric, Leg } from '../fabric/types.ts';
import type { Id, Thing } from '../model/document.ts';
import type { FacePoint, Mm, PlanPoint } from '../model/units.ts';
import { clipSegment, nearestIn, rectangle, ROUNDING, type Convex } from '../zones/convex.ts';

/** Distance of a segment of a face from a rectangle on it, mm; 0 when they meet. */
function fromRectangle(a: FacePoint, b: FacePoint, box: Convex): Mm {
  if (clipSegment(a, b, box, 0) !== null) return 0;
  const plan = (p: FacePoint): PlanPoint => ({ x: p.u, y: p.z });
  return Math.min(
    nearestIn(box, a).distance,
    nearestIn(box, b).distance,
    ...box.outline.map((c) => segmentNearest(plan(c), plan(a), plan(b)).distance),
  );
}

/** Distance of a plan segment from an outline, mm; 0 when it enters it. */
export function fromOutline(a: PlanPoint, b: PlanPoint, outline: readonly PlanPoint[]): Mm {
  if (insideOutline(a, b, outline, ROUNDING).length > 0) return 0;
  let least = Infinity;
  outline.forEach((p, i) => {
    const q = outline[(i + 1) % outline.length] as PlanPoint;
    least = Math.min(
      least,
      segmentNearest(p, a, b).distance,
      segmentNearest(a, p, q).distance,
      segmentNearest(b, p, q).distance,
    );
  });
  return least;
}

/** Distance of a leg's centre line from a thing in the same wall face or void, mm; null when they share neither. */
export function legFromThing(fabrics: ReadonlyMap<Id, Fabric>, leg: Leg, thing: Thing, level: Mm): Mm | null {
  const { place } = thing;
  if (place.on === 'face') {
    const face = leg.face === null ? undefined : fabrics.get(leg.storey)?.faces.get(leg.face);
    if (face === undefined || leg.fa === null || leg.fb === null) return null;
    const u0 = uOfAlong(face, place.wall, place.side, place.along0);
    const u1 = uOfAlong(face, place.wall, place.side, place.along1);
    if (u0 === null || u1 === null) return null;
    const [z0, z1] = [Math.min(place.z0, place.z1), Math.max(place.z0, place.z1)];
    return fromRectangle(leg.fa, leg.fb, rectangle(Math.min(u0, u1), Math.max(u0, u1), z0, z1));
  }
  if (place.where === 'room' || place.storey !== leg.storey || place.outline.length < 3) return null;
  if (leg.kind !== place.where && leg.kind !== 'riser') return null;
  const flat = fromOutline(leg.a, leg.b, place.outline);
  const [z0, z1] = [Math.min(place.z0, place.z1) + level, Math.max(place.z0, place.z1) + level];
  const [low, high] = [Math.min(leg.a.z, leg.b.z), Math.max(leg.a.z, leg.b.z)];
  return Math.hypot(flat, Math.max(0, z0 - high, low - z1));
}

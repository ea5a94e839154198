import type { Interval } from '../geometry/interval.ts';
import { insideOutline } from '../geometry/outline.ts';
import { uOfAlong } from '../fabric/lookup.ts';
import type { Fabric, Leg } from '../fabric/types.ts';
import type { Id, Thing } from '../model/document.ts';
import type { SpacePoint } from '../model/units.ts';
import { clipSegment, rectangle, ROUNDING } from '../zones/convex.ts';

/** The stretch of a segment whose height lies from z0 to z1, as fractions; null when none does. */
export function withinHeights(a: SpacePoint, b: SpacePoint, z0: number, z1: number): Interval | null {
  if (Math.abs(b.z - a.z) <= ROUNDING) return a.z >= z0 && a.z <= z1 ? { lo: 0, hi: 1 } : null;
  const [s, t] = [(z0 - a.z) / (b.z - a.z), (z1 - a.z) / (b.z - a.z)];
  const lo = Math.max(0, Math.min(s, t));
  const hi = Math.min(1, Math.max(s, t));
  return lo < hi ? { lo, hi } : null;
}

/**
 * The stretches of a leg inside a thing, as fractions of the leg: on a wall, behind its rectangle; in a void, within
 * its outline and heights widened by `slack` mm up and down. `level` is the storey's own, mm above the job's datum.
 */
export function legInThing(
  fabrics: ReadonlyMap<Id, Fabric>,
  leg: Leg,
  thing: Thing,
  level: number,
  slack: number,
): Interval[] {
  const { place } = thing;
  if (place.on === 'face') {
    const face = leg.face === null ? undefined : fabrics.get(leg.storey)?.faces.get(leg.face);
    if (face === undefined || leg.fa === null || leg.fb === null) return [];
    const u0 = uOfAlong(face, place.wall, place.side, place.along0);
    const u1 = uOfAlong(face, place.wall, place.side, place.along1);
    if (u0 === null || u1 === null) return [];
    const [z0, z1] = [Math.min(place.z0, place.z1), Math.max(place.z0, place.z1)];
    const part = clipSegment(
      leg.fa,
      leg.fb,
      rectangle(Math.min(u0, u1), Math.max(u0, u1), z0, z1),
      -ROUNDING,
    );
    return part === null || part.t1 <= part.t0 ? [] : [{ lo: part.t0, hi: part.t1 }];
  }
  const inVoid = leg.kind === 'ceiling' || leg.kind === 'floor' || leg.kind === 'riser';
  if (place.storey !== leg.storey || !inVoid || place.where === 'room') return [];
  if (leg.kind !== 'riser' && leg.kind !== place.where) return [];
  const [z0, z1] = [Math.min(place.z0, place.z1) + level, Math.max(place.z0, place.z1) + level];
  const heights = withinHeights(leg.a, leg.b, z0 - slack, z1 + slack);
  if (heights === null) return [];
  return insideOutline(leg.a, leg.b, place.outline, ROUNDING).flatMap(({ lo, hi }) => {
    const part = { lo: Math.max(lo, heights.lo), hi: Math.min(hi, heights.hi) };
    return part.hi > part.lo ? [part] : [];
  });
}

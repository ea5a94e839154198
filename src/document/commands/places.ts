import type { Id, Place, PlanDocument, PointKind } from '../../engine/model/document.ts';
import { placeInSpace as engineSpace } from '../../engine/fabric/wallFrame.ts';
import { POINT_KINDS } from '../../engine/model/pointKinds.ts';
import type { Mm, SpacePoint } from '../../engine/model/units.ts';
import { refuse } from '../transact.ts';
import type { Refusal } from '../types.ts';
import { sound, topAt, wallLength } from './plane.ts';

/** A face may reach this far past the end of its wall's centre line: half of the thickest wall it can meet. */
const PAST_END: Mm = 500;

const HOST_WORD = { face: 'a wall', ceiling: 'a ceiling', floor: 'a floor', free: 'free space' } as const;

/** Why a place cannot hold a point of this kind (or, with null, a corner of a run); null when it can. */
export function placeRefusal(doc: PlanDocument, place: Place, kind: PointKind | null): Refusal | null {
  if (kind !== null && !POINT_KINDS[kind].hosts.includes(place.on)) {
    const hosts = POINT_KINDS[kind].hosts.map((h) => HOST_WORD[h]).join(' or ');
    return refuse(`A ${POINT_KINDS[kind].name.toLowerCase()} goes on ${hosts}.`);
  }
  if (place.on !== 'face') {
    if (!doc.storeys.byId[place.storey]) return refuse('That storey is no longer in the plan.');
    return sound(place.x, place.y, place.on === 'free' ? place.z : 0)
      ? null
      : refuse('That spot is not on the plan.');
  }
  const wall = doc.walls.byId[place.wall];
  if (!wall) return refuse('That wall is no longer in the plan.');
  if (!sound(place.along, place.z)) return refuse('That spot is not on the wall.');
  if (place.along < -PAST_END || place.along > wallLength(doc, place.wall) + PAST_END)
    return refuse('That spot is past the end of the wall.');
  if (place.z < 0) return refuse('That is below the floor.');
  const top = topAt(doc, wall, place.along);
  if (place.z > top + 0.5) return refuse(`That is above the top of the wall (${Math.round(top)} mm).`);
  return null;
}

/** Storey of a place; null when its wall is gone. */
export function storeyOf(doc: PlanDocument, place: Place): Id | null {
  return place.on === 'face' ? (doc.walls.byId[place.wall]?.storey ?? null) : place.storey;
}

/**
 * Where a place is in space, mm, for reckoning moves: a face place on the wall's surface, a corner on a ceiling or floor
 * at the height of the cables in the void (a point there is on the surface, which changes z only). Throws on a place
 * whose wall or storey does not exist.
 */
export function placeInSpace(doc: PlanDocument, place: Place): SpacePoint {
  const at = engineSpace(doc, place, 'corner');
  if (at === null) throw new Error('a place stands on a storey or wall that does not exist');
  return at;
}

/** True when two places are the same spot of the same surface, within `tolerance` mm. */
export function samePlace(a: Place, b: Place, tolerance: Mm): boolean {
  if (a.on === 'face')
    return (
      b.on === 'face' &&
      a.wall === b.wall &&
      a.side === b.side &&
      Math.abs(a.along - b.along) <= tolerance &&
      Math.abs(a.z - b.z) <= tolerance
    );
  if (b.on === 'face' || a.on !== b.on || a.storey !== b.storey) return false;
  const dz = a.on === 'free' && b.on === 'free' ? a.z - b.z : 0;
  return Math.hypot(a.x - b.x, a.y - b.y, dz) <= tolerance;
}

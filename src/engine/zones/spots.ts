import { faceAt, piecesOn } from '../fabric/lookup.ts';
import type { Fabric, FaceId } from '../fabric/types.ts';
import type { Id, Place, PlanDocument, Point, Side } from '../model/document.ts';
import { rows } from '../model/tables.ts';
import type { Mm } from '../model/units.ts';

/** Where on which face something is. */
export interface Spot {
  readonly storey: Id;
  readonly face: FaceId;
  readonly u: Mm;
  readonly z: Mm;
}

/** Faces that lie on a side of a wall, each once. */
export function facesOfSide(fabric: Fabric, wall: Id, side: Side): FaceId[] {
  return [...new Set(piecesOn(fabric, wall, side).map((p) => p.face.id))];
}

/**
 * The face a place on a wall lies on, and where on it; at the edge of two faces, one of them (`faceAt` says which).
 * Null for places that are not on a wall, and where another wall stands on that side or the wall makes no face.
 */
export function spotOf(doc: PlanDocument, fabrics: ReadonlyMap<Id, Fabric>, place: Place): Spot | null {
  if (place.on !== 'face') return null;
  const wall = doc.walls.byId[place.wall];
  const fabric = wall === undefined ? undefined : fabrics.get(wall.storey);
  const hit = fabric === undefined ? null : faceAt(fabric, place.wall, place.side, place.along);
  if (fabric === undefined || hit === null) return null;
  return { storey: fabric.storey, face: hit.face.id, u: hit.u, z: place.z };
}

/** A point and where on the face it is. */
export interface FacePointRecord {
  readonly point: Point;
  readonly spot: Spot;
}

/** The points of each face, in the document's order. */
export function pointsByFace(
  doc: PlanDocument,
  fabrics: ReadonlyMap<Id, Fabric>,
): Map<FaceId, FacePointRecord[]> {
  const found = new Map<FaceId, FacePointRecord[]>();
  for (const point of rows(doc.points)) {
    const spot = spotOf(doc, fabrics, point.place);
    if (spot === null) continue;
    const list = found.get(spot.face);
    if (list === undefined) found.set(spot.face, [{ point, spot }]);
    else list.push({ point, spot });
  }
  return found;
}

import type { Fabric, Face, FaceId } from '../fabric/types.ts';
import type { Id, Place, PlanDocument, Point } from '../model/document.ts';
import { rows } from '../model/tables.ts';
import type { Mm } from '../model/units.ts';
import { ROUNDING } from './convex.ts';

/** Where on which face something is. */
export interface Spot {
  readonly storey: Id;
  readonly face: FaceId;
  readonly u: Mm;
  readonly z: Mm;
}

type SideKey = string;
interface SideShare {
  readonly face: Face;
  readonly piece: Face['pieces'][number];
}

const sideTables = new WeakMap<Fabric, ReadonlyMap<SideKey, readonly SideShare[]>>();

/** Faces by the wall side they lie on: made once per fabric, as fabrics never change. */
function sharesOf(fabric: Fabric): ReadonlyMap<SideKey, readonly SideShare[]> {
  const known = sideTables.get(fabric);
  if (known !== undefined) return known;
  const table = new Map<SideKey, SideShare[]>();
  for (const face of fabric.faces.values()) {
    for (const piece of face.pieces) {
      const key = `${piece.wall}.${piece.side}`;
      const shares = table.get(key);
      if (shares === undefined) table.set(key, [{ face, piece }]);
      else shares.push({ face, piece });
    }
  }
  sideTables.set(fabric, table);
  return table;
}

/** Faces that lie on a side of a wall. */
export function facesOfSide(fabric: Fabric, wall: Id, side: 'left' | 'right'): readonly Face[] {
  return (sharesOf(fabric).get(`${wall}.${side}`) ?? []).map((s) => s.face);
}

/** The face a place on a wall lies on and its u there; null for other places and where the wall has no face. */
export function spotOf(doc: PlanDocument, fabrics: ReadonlyMap<Id, Fabric>, place: Place): Spot | null {
  if (place.on !== 'face') return null;
  const wall = doc.walls.byId[place.wall];
  const fabric = wall === undefined ? undefined : fabrics.get(wall.storey);
  if (fabric === undefined) return null;
  for (const { face, piece } of sharesOf(fabric).get(`${place.wall}.${place.side}`) ?? []) {
    const lo = Math.min(piece.alongAtU0, piece.alongAtU1);
    const hi = Math.max(piece.alongAtU0, piece.alongAtU1);
    if (place.along < lo - ROUNDING || place.along > hi + ROUNDING) continue;
    const u =
      piece.alongAtU1 >= piece.alongAtU0 ? piece.u0 + (place.along - lo) : piece.u0 + (hi - place.along);
    return { storey: fabric.storey, face: face.id, u: Math.min(piece.u1, Math.max(piece.u0, u)), z: place.z };
  }
  return null;
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

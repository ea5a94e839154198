import { figure } from './captions.ts';
import { rectangle, text, type FaceMark } from './marks.ts';
import type { Face } from '../../engine/fabric/types.ts';
import type { Id, PlanDocument, Point } from '../../engine/model/document.ts';
import { plateOf } from '../../engine/model/pointKinds.ts';
import type { FacePoint, Mm } from '../../engine/model/units.ts';

/** A point as it stands on a face; `ghost` when it is on the other side of the wall. */
export interface PointOnFace {
  readonly point: Point;
  readonly at: FacePoint;
  readonly ghost: boolean;
}

/** u of a centre-line distance on this face; null when that wall side is not part of it. */
function uOf(face: Face, wall: Id, side: 'left' | 'right', along: Mm): Mm | null {
  for (const piece of face.pieces) {
    if (piece.wall !== wall || piece.side !== side) continue;
    const rate = piece.alongAtU1 > piece.alongAtU0 ? 1 : -1;
    const u = piece.u0 + rate * (along - piece.alongAtU0);
    if (u >= piece.u0 - 1 && u <= piece.u1 + 1) return u;
  }
  return null;
}

/** The points of this face, then those of the faces behind it, mirrored to this side. */
export function pointsOnFace(doc: PlanDocument, faces: ReadonlyMap<string, Face>, face: Face): PointOnFace[] {
  const own: PointOnFace[] = [];
  const ghosts: PointOnFace[] = [];
  for (const id of doc.points.order) {
    const point = doc.points.byId[id];
    if (!point || point.place.on !== 'face') continue;
    const { wall, side, along, z } = point.place;
    const u = uOf(face, wall, side, along);
    if (u !== null) {
      own.push({ point, at: { u, z }, ghost: false });
      continue;
    }
    for (const o of face.opposite) {
      const other = faces.get(o.face);
      const v = other ? uOf(other, wall, side, along) : null;
      if (v === null) continue;
      const here = o.u0 + (o.otherAtU0 - v);
      if (here >= o.u0 && here <= o.u1) ghosts.push({ point, at: { u: here, z }, ghost: true });
    }
  }
  return [...own, ...ghosts];
}

/** Half the size a point is drawn and picked at, mm: its plate, or 60 mm where it has none. */
export function halfSize(point: Point): { u: Mm; z: Mm } {
  const plate = plateOf(point.kind, point.gangs);
  return plate ? { u: plate.width / 2, z: plate.height / 2 } : { u: 30, z: 30 };
}

/** Plates at true size with their symbol, label and height above finished floor. */
export function pointMarks(points: readonly PointOnFace[]): FaceMark[] {
  return points.flatMap(({ point, at, ghost }): FaceMark[] => {
    const half = halfSize(point);
    const outline = rectangle(at.u - half.u, at.z - half.z, at.u + half.u, at.z + half.z);
    const label = ghost ? `${point.label} other side` : `${point.label} · ${figure(at.z)}`;
    return [
      { kind: 'area', look: ghost ? 'plate-ghost' : 'plate', outline },
      { kind: 'symbol', at, symbol: point.kind, gangs: point.gangs, ghost },
      text({ u: at.u, z: at.z - half.z }, label, ghost ? 'ghost' : 'point', { lift: -9 }),
    ];
  });
}

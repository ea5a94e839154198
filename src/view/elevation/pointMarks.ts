import { figure } from './captions.ts';
import { rectangle, type FaceMark } from './marks.ts';
import { faceAt } from '../../engine/fabric/lookup.ts';
import type { Fabric, Face } from '../../engine/fabric/types.ts';
import type { PlanDocument, Point } from '../../engine/model/document.ts';
import { plateOf } from '../../engine/model/pointKinds.ts';
import type { FacePoint, Mm } from '../../engine/model/units.ts';

/** A point as it stands on a face; `ghost` when it is on the other side of the wall. */
export interface PointOnFace {
  readonly point: Point;
  readonly at: FacePoint;
  readonly ghost: boolean;
}

/** The points of this face, then those of the faces behind it, mirrored to this side. */
export function pointsOnFace(doc: PlanDocument, fabric: Fabric, face: Face): PointOnFace[] {
  const own: PointOnFace[] = [];
  const ghosts: PointOnFace[] = [];
  for (const id of doc.points.order) {
    const point = doc.points.byId[id];
    if (!point || point.place.on !== 'face') continue;
    const { wall, side, along, z } = point.place;
    const on = faceAt(fabric, wall, side, along);
    if (on?.face.id === face.id) own.push({ point, at: { u: on.u, z }, ghost: false });
    for (const o of on ? face.opposite : []) {
      if (on === null || o.face !== on.face.id) continue;
      const u = o.u0 + (o.otherAtU0 - on.u);
      if (u >= o.u0 && u <= o.u1) ghosts.push({ point, at: { u, z }, ghost: true });
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
    const label = ghost ? `${point.label} behind` : `${point.label} · ${figure(at.z)}`;
    return [
      { kind: 'area', look: ghost ? 'plate-ghost' : 'plate', outline },
      { kind: 'symbol', at, symbol: point.kind, gangs: point.gangs, ghost, label, half: half.z },
    ];
  });
}

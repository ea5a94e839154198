import { figure } from './captions.ts';
import { rectangle, type FaceMark } from './marks.ts';
import { pointsOn } from '../../tools/onFaces.ts';
import type { Fabric, Face } from '../../engine/fabric/types.ts';
import { rows } from '../../engine/model/tables.ts';
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
  const points = rows(doc.points);
  const own = pointsOn(fabric, points, face).map((on) => ({ ...on, ghost: false }));
  const ghosts = face.opposite.flatMap((o) => {
    const other = fabric.faces.get(o.face);
    return (other ? pointsOn(fabric, points, other) : []).flatMap(({ point, at }) => {
      const u = o.u0 + (o.otherAtU0 - at.u);
      return u >= o.u0 && u <= o.u1 ? [{ point, at: { u, z: at.z }, ghost: true }] : [];
    });
  });
  return [...own, ...ghosts];
}

/** Half the size a point is drawn and picked at, mm: its plate, or 60 mm where it has none. */
export function halfSize(point: Point): { u: Mm; z: Mm } {
  const plate = plateOf(point);
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

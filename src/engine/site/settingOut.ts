import type { Derived } from '../derive/types.ts';
import type { Face, FaceId } from '../fabric/types.ts';
import type { Box, Id, PlanDocument, Point } from '../model/document.ts';
import { gangWord, POINT_KINDS } from '../model/pointKinds.ts';
import { find } from '../model/tables.ts';
import type { Mm } from '../model/units.ts';
import { pointsByFace } from '../zones/spots.ts';

/** One box or fitting to mark out on a wall. */
export interface MarkOut {
  readonly point: Point;
  readonly what: string;
  /** Of the box's centre: from the left-hand end of the face, from its right-hand end, and above the finished floor. */
  readonly fromLeft: Mm;
  readonly fromRight: Mm;
  readonly height: Mm;
  readonly box: Box | null;
}

export interface FaceMarkOut {
  readonly face: Face;
  readonly marks: readonly MarkOut[];
}

/**
 * What to mark on each wall of a storey, room by room as they are unrolled, then outside: from the left to the right.
 * Faces with nothing on them are left out. Measured on the finished surface.
 */
export function settingOut(doc: PlanDocument, derived: Derived, storey: Id): FaceMarkOut[] {
  const fabric = derived.fabrics.get(storey);
  if (!fabric) return [];
  const points = pointsByFace(doc, derived.fabrics);
  const order: FaceId[] = [...fabric.rooms.values()].flatMap((room) => [
    ...room.faces,
    ...room.islands.flat(),
  ]);
  const seen = new Set<FaceId>();
  return [...order, ...fabric.faces.keys()].flatMap((id) => {
    const face = fabric.faces.get(id);
    const here = points.get(id);
    if (!face || !here || seen.has(id)) return [];
    seen.add(id);
    const marks = here
      .map(({ point, spot }) => ({
        point,
        what: `${POINT_KINDS[point.kind].name}${point.gangs > 1 ? `, ${gangWord(point.gangs)}` : ''}`,
        fromLeft: spot.u,
        fromRight: face.length - spot.u,
        height: spot.z,
        box: find(doc, 'boxes', point.box?.box ?? null) ?? null,
      }))
      .sort((a, b) => a.fromLeft - b.fromLeft || b.height - a.height);
    return [{ face, marks }];
  });
}

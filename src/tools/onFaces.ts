import { faceAt } from '../engine/fabric/lookup.ts';
import type { Fabric, Face, FaceId } from '../engine/fabric/types.ts';
import { segmentNearest } from '../engine/geometry/segment.ts';
import type { Id, Point } from '../engine/model/document.ts';
import type { Derived } from '../engine/derive/types.ts';
import type { FacePoint, Mm, PlanPoint } from '../engine/model/units.ts';

/** Unit vector from a face into the room it looks at: facing it, a is on the left and b on the right. */
export function intoRoom(face: Face): PlanPoint {
  const dx = face.b.x - face.a.x;
  const dy = face.b.y - face.a.y;
  const length = Math.hypot(dx, dy) || 1;
  return { x: -dy / length, y: dx / length };
}

/**
 * The face a pointer on the plan means, and where on it: the nearest surface it looks at from the front, or the nearer
 * one when it is inside the wall. Null beyond `reach` mm; end caps do not count.
 */
export function faceNear(
  fabric: Fabric,
  p: PlanPoint,
  reach: Mm,
): { readonly face: Face; readonly u: Mm } | null {
  let best: { face: Face; u: Mm; off: Mm } | null = null;
  for (const face of fabric.faces.values()) {
    if (face.pieces.length === 0 || face.length <= 0) continue;
    const near = segmentNearest(p, face.a, face.b);
    if (near.distance > reach) continue;
    const into = intoRoom(face);
    const front = (p.x - face.a.x) * into.x + (p.y - face.a.y) * into.y;
    // From behind only as deep as the wall: from further back another face is meant.
    const deep = Math.max(...face.builds.map((b) => b.thickness), 0);
    if (front < -deep) continue;
    // Where two faces meet both may be as near: the one looked at more squarely is meant.
    const off = near.distance - Math.min(1, Math.max(0, front) * 1e-3);
    if (best === null || off < best.off) best = { face, u: near.t * face.length, off };
  }
  return best && { face: best.face, u: best.u };
}

/** The face of an id and its storey's fabric, in whichever storey it is. */
export function faceById(
  derived: Derived,
  id: FaceId,
): { readonly face: Face; readonly fabric: Fabric } | null {
  for (const fabric of derived.fabrics.values()) {
    const face = fabric.faces.get(id);
    if (face) return { face, fabric };
  }
  return null;
}

export interface PointOnFace {
  readonly point: Point;
  readonly at: FacePoint;
}

/** The points on a face, from left to right. */
export function pointsOn(
  fabric: Fabric,
  points: readonly Point[],
  face: Face,
  without: ReadonlySet<Id> = new Set(),
): PointOnFace[] {
  return points
    .flatMap((point): PointOnFace[] => {
      const { place } = point;
      if (without.has(point.id) || place.on !== 'face') return [];
      const on = faceAt(fabric, place.wall, place.side, place.along);
      return on && on.face.id === face.id ? [{ point, at: { u: on.u, z: place.z } }] : [];
    })
    .sort((a, b) => a.at.u - b.at.u);
}

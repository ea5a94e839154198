import { alongOfU, faceAt, facePlan } from '../../engine/fabric/lookup.ts';
import type { Fabric, Face, FaceId } from '../../engine/fabric/types.ts';
import type { Place } from '../../engine/model/document.ts';
import type { FacePoint, Mm, PlanPoint } from '../../engine/model/units.ts';

/** A place of a face and the face it is on. */
export interface OnFace {
  readonly face: Face;
  readonly at: FacePoint;
}

/** The face that carries a place, and where on it. Null when it is on none (or its wall is swallowed by another). */
export function onFace(fabric: Fabric, place: Place): OnFace | null {
  if (place.on !== 'face') return null;
  const hit = faceAt(fabric, place.wall, place.side, place.along);
  return hit && { face: hit.face, at: { u: hit.u, z: place.z } };
}

/** A place of the plan document at (u, z) of a face; u is held to the face's ends. Null for an end cap. */
export function facePlace(face: Face, at: FacePoint): Extract<Place, { on: 'face' }> | null {
  const on = alongOfU(face, Math.min(face.length, Math.max(0, at.u)));
  return on && { on: 'face', ...on, z: at.z };
}

/** Plan position of any place; null when its wall is gone. */
export function planOf(fabric: Fabric, place: Place): PlanPoint | null {
  if (place.on !== 'face') return { x: place.x, y: place.y };
  const found = onFace(fabric, place);
  return found && facePlan(found.face, found.at.u);
}

/** The place right behind u of this face; null where there is no face behind. */
export function behind(fabric: Fabric, face: Face, at: FacePoint): OnFace | null {
  for (const o of face.opposite) {
    if (at.u < o.u0 || at.u > o.u1) continue;
    const other = fabric.faces.get(o.face);
    if (other) return { face: other, at: { u: o.otherAtU0 - (at.u - o.u0), z: at.z } };
  }
  return null;
}

/** How far a plan position is from a face's surface line, and at which u its foot lies (may be outside the face). */
export function footOn(face: Face, at: PlanPoint): { u: Mm; distance: Mm } {
  const dx = (face.b.x - face.a.x) / (face.length || 1);
  const dy = (face.b.y - face.a.y) / (face.length || 1);
  const px = at.x - face.a.x;
  const py = at.y - face.a.y;
  return { u: px * dx + py * dy, distance: Math.abs(px * dy - py * dx) };
}

/**
 * The faces from one to another round their room, both included, the way with fewer mm of wall between them, and
 * whether one goes rightwards (through right-hand ends). Only over angles, never over a free end. Null when there is
 * no such way.
 */
export function wayRound(
  fabric: Fabric,
  from: Face,
  to: FaceId,
  u0: Mm,
  u1: Mm,
): { faces: Face[]; right: boolean } | null {
  const walk = (right: boolean): { faces: Face[]; right: boolean; length: Mm } | null => {
    const faces = [from];
    let here = from;
    let length = right ? from.length - u0 : u0;
    for (let i = 0; i < fabric.faces.size; i++) {
      const end = right ? here.right : here.left;
      const next = end.next === null ? undefined : fabric.faces.get(end.next);
      if (!next || end.kind === 'free' || next.pieces.length === 0) return null;
      faces.push(next);
      if (next.id === to) return { faces, right, length: length + (right ? u1 : next.length - u1) };
      if (next.id === from.id) return null;
      length += next.length;
      here = next;
    }
    return null;
  };
  const ways = [walk(true), walk(false)].filter((w) => w !== null);
  ways.sort((a, b) => a.length - b.length);
  return ways[0] ?? null;
}

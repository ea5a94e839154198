import type { Fabric, Face, FaceId, FacePiece } from '../../engine/fabric/types.ts';
import type { Place } from '../../engine/model/document.ts';
import type { FacePoint, Mm, PlanPoint } from '../../engine/model/units.ts';

/** A place of a face and the face it is on. */
export interface OnFace {
  readonly face: Face;
  readonly at: FacePoint;
}

const rateOf = (piece: FacePiece): 1 | -1 => (piece.alongAtU1 >= piece.alongAtU0 ? 1 : -1);

/** The face that carries a place; `slack` mm may it lie past the end of a piece. Null when it is on none. */
export function onFace(fabric: Fabric, place: Place, slack: Mm = 2): OnFace | null {
  if (place.on !== 'face') return null;
  let best: { found: OnFace; past: Mm } | null = null;
  for (const face of fabric.faces.values()) {
    for (const piece of face.pieces) {
      if (piece.wall !== place.wall || piece.side !== place.side) continue;
      const u = piece.u0 + rateOf(piece) * (place.along - piece.alongAtU0);
      const past = Math.max(0, piece.u0 - u, u - piece.u1);
      if (past <= slack && (best === null || past < best.past)) {
        best = { found: { face, at: { u, z: place.z } }, past };
      }
    }
  }
  return best?.found ?? null;
}

/** A place of the plan document at (u, z) of a face; u is held to the face's ends. Null for an end cap. */
export function facePlace(face: Face, at: FacePoint): Extract<Place, { on: 'face' }> | null {
  const u = Math.min(face.length, Math.max(0, at.u));
  const piece = face.pieces.find((p) => u <= p.u1) ?? face.pieces[face.pieces.length - 1];
  if (!piece) return null;
  const along = piece.alongAtU0 + rateOf(piece) * (u - piece.u0);
  return { on: 'face', wall: piece.wall, side: piece.side, along, z: at.z };
}

/** Plan position of u on a face's finished surface. */
export function planOfFace(face: Face, u: Mm): PlanPoint {
  const t = face.length > 0 ? u / face.length : 0;
  return { x: face.a.x + (face.b.x - face.a.x) * t, y: face.a.y + (face.b.y - face.a.y) * t };
}

/** Plan position of any place; null when its wall is gone. */
export function planOf(fabric: Fabric, place: Place): PlanPoint | null {
  if (place.on !== 'face') return { x: place.x, y: place.y };
  const found = onFace(fabric, place, Infinity);
  return found ? planOfFace(found.face, found.at.u) : null;
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

/** The face nearest a plan position within `reach` mm of its surface; of two at the same distance the longer. */
export function nearestFace(fabric: Fabric, at: PlanPoint, reach: Mm): { face: Face; u: Mm } | null {
  let best: { face: Face; u: Mm; distance: Mm } | null = null;
  for (const face of fabric.faces.values()) {
    if (face.pieces.length === 0) continue;
    const { u, distance } = footOn(face, at);
    const past = Math.max(0, -u, u - face.length);
    const d = Math.hypot(distance, past);
    if (d > reach) continue;
    const nearer = best === null || d < best.distance - 1e-6;
    const longer = best !== null && d < best.distance + 1e-6 && face.length > best.face.length;
    if (nearer || longer) best = { face, u: Math.min(face.length, Math.max(0, u)), distance: d };
  }
  return best;
}

/** Height of the wall's top at u, mm. */
export function topOf(face: Face, u: Mm): Mm {
  const { top } = face;
  for (let i = 1; i < top.length; i++) {
    const a = top[i - 1] as FacePoint;
    const b = top[i] as FacePoint;
    if (u > b.u && i < top.length - 1) continue;
    const t = b.u > a.u ? Math.min(1, Math.max(0, (u - a.u) / (b.u - a.u))) : 0;
    return a.z + t * (b.z - a.z);
  }
  return top[0]?.z ?? 0;
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

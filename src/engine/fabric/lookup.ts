import { pointInPolygon } from '../geometry/polygon.ts';
import { ask, type Derivation } from '../memo/derivation.ts';
import type { Id, Side } from '../model/document.ts';
import type { Mm, PlanPoint } from '../model/units.ts';
import { COINCIDENT } from './tolerances.ts';
import type { Fabric, Face, FacePiece, Room } from './types.ts';

interface PieceOfFace {
  readonly face: Face;
  readonly piece: FacePiece;
}

const SIDES: Derivation<Fabric, ReadonlyMap<string, readonly PieceOfFace[]>> = {
  name: 'sides of walls',
  work: (fabric) => {
    const table = new Map<string, PieceOfFace[]>();
    for (const face of fabric.faces.values()) {
      for (const piece of face.pieces) {
        const key = `${piece.wall}.${piece.side}`;
        const list = table.get(key);
        if (list) list.push({ face, piece });
        else table.set(key, [{ face, piece }]);
      }
    }
    for (const list of table.values()) list.sort((a, b) => lowest(a.piece) - lowest(b.piece));
    return table;
  },
  // Each side is compared by itself.
  equal: () => false,
};

const SIDE: Derivation<Fabric, readonly PieceOfFace[]> = {
  name: 'side of a wall',
  work: (fabric, key) => ask(fabric, SIDES).get(key) ?? [],
  equal: (a, b) =>
    a.length === b.length && a.every((p, i) => p.face === b[i]?.face && p.piece === b[i].piece),
};

/** The pieces of faces on one side of a wall, in order of `along`. */
export function piecesOn(fabric: Fabric, wall: Id, side: Side): readonly PieceOfFace[] {
  return ask(fabric, SIDE, `${wall}.${side}`);
}

const lowest = (piece: FacePiece): Mm => Math.min(piece.alongAtU0, piece.alongAtU1);
const highest = (piece: FacePiece): Mm => Math.max(piece.alongAtU0, piece.alongAtU1);

function pieceU(piece: FacePiece, along: Mm): Mm {
  const span = piece.alongAtU1 - piece.alongAtU0;
  return span === 0 ? piece.u0 : piece.u0 + ((along - piece.alongAtU0) / span) * (piece.u1 - piece.u0);
}

/**
 * The face at a place of a wall's side and the u there. A place up to 2 mm beyond the end of a face counts as its end.
 * Null where the side is swallowed by another wall, or the wall is not in the fabric.
 */
export function faceAt(
  fabric: Fabric,
  wall: Id,
  side: Side,
  along: Mm,
): { readonly face: Face; readonly u: Mm } | null {
  let best: { readonly hit: PieceOfFace; readonly miss: Mm } | null = null;
  for (const hit of piecesOn(fabric, wall, side)) {
    const miss = Math.max(lowest(hit.piece) - along, along - highest(hit.piece), 0);
    if (miss <= COINCIDENT && (!best || miss < best.miss)) best = { hit, miss };
  }
  if (!best) return null;
  const { face, piece } = best.hit;
  return { face, u: Math.min(Math.max(pieceU(piece, along), 0), face.length) };
}

/** u on a face of a place of a wall's side, going straight on beyond its piece; null when the face has no such piece. */
export function uOfAlong(face: Face, wall: Id, side: Side, along: Mm): Mm | null {
  let best: FacePiece | null = null;
  let least = Infinity;
  for (const piece of face.pieces) {
    if (piece.wall !== wall || piece.side !== side) continue;
    const miss = Math.max(lowest(piece) - along, along - highest(piece), 0);
    if (miss < least) {
      least = miss;
      best = piece;
    }
  }
  return best ? pieceU(best, along) : null;
}

/** Wall, side and `along` of a face's u (beyond its ends: of its first or last piece, straight on). Null for a cap. */
export function alongOfU(
  face: Face,
  u: Mm,
): { readonly wall: Id; readonly side: Side; readonly along: Mm } | null {
  const piece = face.pieces.find((p) => u <= p.u1) ?? face.pieces[face.pieces.length - 1];
  if (!piece) return null;
  const span = piece.u1 - piece.u0;
  const t = span === 0 ? 0 : (u - piece.u0) / span;
  const along = piece.alongAtU0 + t * (piece.alongAtU1 - piece.alongAtU0);
  return { wall: piece.wall, side: piece.side, along };
}

/** The plan point of a face's finished surface at u. */
export function facePlan(face: Face, u: Mm): PlanPoint {
  const t = face.length === 0 ? 0 : u / face.length;
  return { x: face.a.x + (face.b.x - face.a.x) * t, y: face.a.y + (face.b.y - face.a.y) * t };
}

/** Height of the top of the wall at u, above the storey's finished floor; the lower one where it steps. */
export function topAt(face: Face, u: Mm): Mm {
  const top = face.top;
  let z = Infinity;
  for (let i = 0; i + 1 < top.length; i++) {
    const p = top[i] as Face['top'][number];
    const q = top[i + 1] as Face['top'][number];
    if (u < p.u || u > q.u) continue;
    z = Math.min(z, q.u > p.u ? p.z + ((u - p.u) / (q.u - p.u)) * (q.z - p.z) : Math.min(p.z, q.z));
  }
  if (z < Infinity) return z;
  const first = top[0];
  const last = top[top.length - 1];
  return (u < (first?.u ?? 0) ? first : last)?.z ?? 0;
}

/** The room whose floor holds the point, edges included (within 1e-6 mm); null in walls and outside. */
export function roomAt(fabric: Fabric, point: PlanPoint): Room | null {
  for (const room of fabric.rooms.values()) if (roomHolds(room, point)) return room;
  return null;
}

const EDGE: Mm = 1e-6;

/** True when the point is within the room's outline and in none of its holes; edges belong to the room. */
export function roomHolds(room: Pick<Room, 'outline' | 'holes'>, point: PlanPoint): boolean {
  if (pointInPolygon(point, room.outline, EDGE) === 'outside') return false;
  return room.holes.every((hole) => pointInPolygon(point, hole, EDGE) !== 'inside');
}

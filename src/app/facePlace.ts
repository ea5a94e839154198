import type { Derived } from '../engine/derive/types.ts';
import type { Face, FacePiece } from '../engine/fabric/types.ts';
import type { Place, PlanDocument } from '../engine/model/document.ts';
import type { Mm } from '../engine/model/units.ts';

type OnFace = Extract<Place, { on: 'face' }>;

/** Where a place lies on its face, as someone with a tape in the room would say it. */
export interface FromLeft {
  readonly face: Face;
  readonly piece: FacePiece;
  readonly u: Mm;
  readonly length: Mm;
}

/** The face that holds a place on a wall side, and its distance from that face's left-hand end; null when none does. */
export function fromLeft(doc: PlanDocument, derived: Derived, place: OnFace): FromLeft | null {
  const storey = doc.walls.byId[place.wall]?.storey;
  const fabric = storey === undefined ? undefined : derived.fabrics.get(storey);
  let best: FromLeft | null = null;
  let off = Infinity;
  for (const face of fabric?.faces.values() ?? []) {
    for (const piece of face.pieces) {
      if (piece.wall !== place.wall || piece.side !== place.side) continue;
      const low = Math.min(piece.alongAtU0, piece.alongAtU1);
      const high = Math.max(piece.alongAtU0, piece.alongAtU1);
      const away = Math.max(low - place.along, place.along - high, 0);
      if (away < off) {
        off = away;
        best = { face, piece, u: uAt(piece, place.along), length: face.length };
      }
    }
  }
  return best;
}

function uAt(piece: FacePiece, along: Mm): Mm {
  const span = piece.alongAtU1 - piece.alongAtU0;
  if (span === 0) return piece.u0;
  return piece.u0 + ((along - piece.alongAtU0) / span) * (piece.u1 - piece.u0);
}

/** The place along the wall's centre line for a distance from the left of the face, on the same piece. */
export function alongFromLeft(at: FromLeft, u: Mm): Mm {
  const { piece } = at;
  const span = piece.u1 - piece.u0;
  if (span === 0) return piece.alongAtU0;
  return piece.alongAtU0 + ((u - piece.u0) / span) * (piece.alongAtU1 - piece.alongAtU0);
}

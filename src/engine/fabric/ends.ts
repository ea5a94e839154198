import type { Mm } from '../model/units.ts';
import type { Face, FaceEnd, FaceId, FacePiece } from './types.ts';

type Bare = Omit<FaceEnd, 'top' | 'onward'>;

/** A face that knows its neighbours by name, but nothing of their height. */
export type Unjoined = Omit<Face, 'opposite' | 'left' | 'right'> & {
  readonly left: Bare;
  readonly right: Bare;
};

/** Tops nearer than this are one height, mm. */
const SAME_TOP: Mm = 1e-6;

/** The same faces with how high the angle at each end goes, and where the surface goes on above a lower partition. */
export function withEnds(faces: readonly Unjoined[]): Omit<Face, 'opposite'>[] {
  const byId = new Map(faces.map((face) => [face.id, face]));
  const sides = new Map<string, { readonly face: Unjoined; readonly piece: FacePiece }[]>();
  for (const face of faces) {
    for (const piece of face.pieces) {
      const key = `${piece.wall}.${piece.side}`;
      sides.set(key, [...(sides.get(key) ?? []), { face, piece }]);
    }
  }
  const ended = (face: Unjoined, end: 'left' | 'right'): FaceEnd => {
    const own = topAtEnd(face, end);
    const next = byId.get(face[end].next ?? '');
    const top = next === undefined ? own : Math.min(own, topAtEnd(next, end === 'left' ? 'right' : 'left'));
    const low = face[end].kind === 'internal' && top < own - SAME_TOP;
    return { ...face[end], top, onward: low ? onwardOf(face, end, sides) : null };
  };
  return faces.map((face) => ({ ...face, left: ended(face, 'left'), right: ended(face, 'right') }));
}

function topAtEnd(face: Unjoined, end: 'left' | 'right'): Mm {
  return (end === 'left' ? face.top[0] : face.top.at(-1))?.z ?? 0;
}

/** The next face of the same wall side past an end. */
function onwardOf(
  face: Unjoined,
  end: 'left' | 'right',
  sides: ReadonlyMap<string, readonly { readonly face: Unjoined; readonly piece: FacePiece }[]>,
): FaceId | null {
  const piece = end === 'right' ? face.pieces.at(-1) : face.pieces[0];
  if (piece === undefined) return null;
  const here = end === 'right' ? piece.alongAtU1 : piece.alongAtU0;
  const towards = Math.sign(piece.alongAtU1 - piece.alongAtU0) * (end === 'right' ? 1 : -1);
  let best: { id: FaceId; gap: Mm } | null = null;
  for (const { face: other, piece: next } of sides.get(`${piece.wall}.${piece.side}`) ?? []) {
    if (other.id === face.id) continue;
    const gap = ((end === 'right' ? next.alongAtU0 : next.alongAtU1) - here) * towards;
    if (gap > 0 && (best === null || gap < best.gap)) best = { id: other.id, gap };
  }
  return best?.id ?? null;
}

import type { Fabric, Face, FaceId } from '../fabric/types.ts';
import type { Mm } from '../model/units.ts';
import { piecesOn } from '../fabric/lookup.ts';
import type { FaceGrid } from './faceLines.ts';
import { addLink, type LineNet } from './lineNet.ts';

/** The face of the same wall side that goes on beyond a partition at an end of this face, and the partition's width. */
export function beyondPartition(
  fabric: Fabric,
  face: Face,
  end: 'left' | 'right',
): { readonly face: Face; readonly gap: Mm } | null {
  const piece = end === 'right' ? face.pieces[face.pieces.length - 1] : face.pieces[0];
  if (piece === undefined || face[end].kind !== 'internal') return null;
  const here = end === 'right' ? piece.alongAtU1 : piece.alongAtU0;
  const towards = Math.sign(piece.alongAtU1 - piece.alongAtU0) * (end === 'right' ? 1 : -1);
  let best: { face: Face; gap: Mm } | null = null;
  for (const { face: other, piece: next } of piecesOn(fabric, piece.wall, piece.side)) {
    if (other.id === face.id) continue;
    const gap = ((end === 'right' ? next.alongAtU0 : next.alongAtU1) - here) * towards;
    if (gap > 0 && (best === null || gap < best.gap)) best = { face: other, gap };
  }
  return best;
}

/**
 * Joins the lines of neighbouring faces: round internal and external angles at one height, square through a partition
 * to the same wall beyond it, and square through a wall to the face behind. `extra`: points on top of each such link.
 */
export function linkFaces(
  net: LineNet,
  fabric: Fabric,
  grids: ReadonlyMap<FaceId, FaceGrid>,
  extra: number,
): void {
  for (const grid of grids.values()) {
    const { face } = grid;
    const next = face.right.next === null ? undefined : grids.get(face.right.next);
    const beyond = beyondPartition(fabric, face, 'right');
    const onward = beyond === null ? undefined : grids.get(beyond.face.id);
    const turns = face.right.kind === 'internal' || face.right.kind === 'external';
    for (const z of grid.zs) {
      const a = grid.at(face.length, z);
      if (a < 0) continue;
      const b = turns ? (next?.at(0, z) ?? -1) : -1;
      if (b >= 0) addLink(net, a, 0, b, 0, { bends: 1 }, extra);
      const c = onward?.at(0, z) ?? -1;
      if (c >= 0)
        addLink(
          net,
          a,
          0,
          c,
          0,
          { metres: (beyond?.gap ?? 0) / 1000, throughWalls: z > face.right.top ? 0 : 1 },
          extra,
        );
    }
    for (const o of face.opposite) {
      // Each pair once, from the face whose id comes first.
      const behind = grids.get(o.face);
      if (behind === undefined || o.face < face.id) continue;
      const thickness = face.builds[face.pieces.findIndex((p) => p.u1 > o.u0)]?.thickness ?? 0;
      const count = { metres: thickness / 1000, throughWalls: 1, bends: 2 };
      for (const u of grid.us) {
        if (u < o.u0 || u > o.u1) continue;
        for (const z of grid.zs) {
          const a = grid.at(u, z);
          const b = a < 0 ? -1 : behind.at(o.otherAtU0 + (o.u0 - u), z);
          if (b < 0) continue;
          addLink(net, a, 0, b, 0, count, extra);
          addLink(net, a, 1, b, 1, count, extra);
        }
      }
    }
  }
}

import type { FaceId } from '../../fabric/types.ts';
import { facePlan } from '../../fabric/lookup.ts';
import { COMMON_PRACTICE, type Rule } from '../rule.ts';
import { plural } from '../words.ts';

/** Walls that stand together and enclose nothing, told once for each such group. */
export const roomNotClosed: Rule<'storey'> = {
  id: 'room-not-closed',
  title: 'Walls that enclose no room',
  looksAt: 'storey',
  severity: 'note',
  stage: 'fabric',
  source: COMMON_PRACTICE,
  find: (ctx, storey) => {
    const fabric = ctx.fabrics.get(storey.id);
    if (fabric === undefined) return [];
    const enclosing = new Set<string>();
    for (const face of fabric.faces.values()) {
      if (face.room !== null) for (const piece of face.pieces) enclosing.add(piece.wall);
    }
    return fabric.outside.flatMap((loop: readonly FaceId[]) => {
      const faces = loop.flatMap((id) => fabric.faces.get(id) ?? []);
      const walls = [...new Set(faces.flatMap((f) => f.pieces.map((p) => p.wall)))].sort();
      const [first] = walls;
      const face = faces.find((f) => f.pieces.length > 0);
      if (first === undefined || face === undefined || walls.some((w) => enclosing.has(w))) return [];
      return [
        {
          about: `${storey.id}:${first}`,
          wall: first,
          at: { storey: storey.id, plan: facePlan(face, face.length / 2), face: face.id, on: null },
          message: `${plural(walls.length, 'wall')} on ${storey.name} ${walls.length === 1 ? 'encloses' : 'enclose'} no room.`,
          fix: 'Join the ends to the wall they should meet, or leave it if the wall stands free.',
        },
      ];
    });
  },
};

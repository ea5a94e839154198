import type { Derived } from '../../engine/derive/types.ts';
import type { FaceId } from '../../engine/fabric/types.ts';
import { roomTitle } from '../../engine/words/walls.ts';
import { faceHeading } from '../../view/elevation/captions.ts';

/** "Left wall, Workshop", as the band above the drawing of the wall says it. */
export function faceName(derived: Derived, id: FaceId): string {
  for (const fabric of derived.fabrics.values()) {
    const face = fabric.faces.get(id);
    if (face) return `${faceHeading(fabric, face)}, ${roomTitle(fabric, face)}`;
  }
  return 'A wall no longer there';
}

import { uOfAlong } from '../../engine/fabric/lookup.ts';
import type { Fabric, Face, FaceId } from '../../engine/fabric/types.ts';
import type { Opening, Side } from '../../engine/model/document.ts';
import type { Mm } from '../../engine/model/units.ts';

/** An opening as someone in the room measures it: along the finished face, from corner to corner. */
export interface OnTape {
  readonly face: Face;
  readonly side: Side;
  /** From the face's left-hand end, as seen from the room, to the opening's left edge. */
  readonly left: Mm;
  /** From its right edge to the face's right-hand end. */
  readonly right: Mm;
}

/**
 * The opening on the face one looks at: `wanted` where that face holds its middle, else a face of a room, else any.
 * Null where the wall has no face there.
 */
export function onTape(
  fabric: Fabric,
  opening: Pick<Opening, 'wall' | 'along' | 'width'>,
  wanted: FaceId | null = null,
): OnTape | null {
  const { wall, along, width } = opening;
  const found: OnTape[] = [];
  for (const face of fabric.faces.values()) {
    for (const side of ['left', 'right'] as const) {
      const middle = uOfAlong(face, wall, side, along + width / 2);
      if (middle === null || middle < -1e-6 || middle > face.length + 1e-6) continue;
      found.push({ face, side, left: middle - width / 2, right: face.length - middle - width / 2 });
    }
  }
  return (
    found.find((f) => f.face.id === wanted) ?? found.find((f) => f.face.room !== null) ?? found[0] ?? null
  );
}

/** Where an opening's near jamb lies along the wall when its left edge on that face is brought to `left`. */
export function alongFor(on: OnTape, opening: Pick<Opening, 'along'>, left: Mm): Mm {
  // On the right side of a wall u rises along it, on the left side it falls.
  return opening.along + (left - on.left) * (on.side === 'right' ? 1 : -1);
}

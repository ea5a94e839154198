import type { Face, FaceEndKind, FaceId } from '../../engine/fabric/types.ts';
import type { FacePoint, Mm } from '../../engine/model/units.ts';

/** Least free width between two faces in the band: room for the mark of the angle. */
export const FACE_GAP: Mm = 200;
/** Faces begin on whole steps of this, so that the keyboard's cursor stands on round figures on each of them. */
const GRID: Mm = 100;
/** One face in the band: `start` is where its left-hand end lies, mm from the band's own left. */
export interface BandFace {
  readonly face: Face;
  readonly start: Mm;
}

/** What stands between two neighbours of the band (or at its very ends). */
export interface BandAngle {
  readonly at: Mm;
  readonly kind: FaceEndKind;
}

/** Faces unrolled side by side, to one scale: x in mm from the band's left, z up from the floor. */
export interface BandLayout {
  readonly faces: readonly BandFace[];
  readonly angles: readonly BandAngle[];
  readonly width: Mm;
  readonly height: Mm;
}

/** Lays faces side by side in the order given. */
export function layoutBand(faces: readonly Face[]): BandLayout {
  const placed: BandFace[] = [];
  const angles: BandAngle[] = [];
  let end: Mm = -FACE_GAP / 2;
  let height: Mm = 0;
  for (const face of faces) {
    const start = Math.ceil((end + FACE_GAP) / GRID) * GRID;
    placed.push({ face, start });
    angles.push({ at: placed.length === 1 ? 0 : (end + start) / 2, kind: face.left.kind });
    end = start + face.length;
    height = Math.max(height, ...face.top.map((p) => p.z));
  }
  const last = faces[faces.length - 1];
  if (last) angles.push({ at: end + FACE_GAP / 2, kind: last.right.kind });
  return { faces: placed, angles, width: last ? end + FACE_GAP / 2 : 0, height };
}

/** The face at x of the band and the place on it; u may lie up to half a gap outside the face. Null when empty. */
export function bandSpot(layout: BandLayout, x: Mm, z: Mm): { face: FaceId; at: FacePoint } | null {
  const { faces } = layout;
  const found = faces.find((f) => x <= f.start + f.face.length + FACE_GAP / 2) ?? faces[faces.length - 1];
  return found ? { face: found.face.id, at: { u: x - found.start, z } } : null;
}

/** Where a face's left-hand end lies in the band, mm; null when it is not shown. */
export function faceStart(layout: BandLayout, id: FaceId): Mm | null {
  return layout.faces.find((f) => f.face.id === id)?.start ?? null;
}

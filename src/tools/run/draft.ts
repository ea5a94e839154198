import type { Id, Place, Point } from '../../engine/model/document.ts';
import type { PlanDocument } from '../../engine/model/document.ts';
import { placeInSpace } from '../../engine/fabric/wallFrame.ts';
import type { Mm, SpacePoint } from '../../engine/model/units.ts';

/** A run being drawn. `clicks` holds how many places each click added, so that one can be taken back whole. */
export interface Draft {
  readonly from: Id;
  /** The start's place, then the corners. */
  readonly path: readonly Place[];
  readonly clicks: readonly number[];
  /** Elbows turn the other way. */
  readonly flip: boolean;
}

export function draftFrom(point: Point): Draft {
  return { from: point.id, path: [point.place], clicks: [], flip: false };
}

/** The draft with the places of one click. */
export function withPlaces(draft: Draft, places: readonly Place[]): Draft {
  if (places.length === 0) return draft;
  return { ...draft, path: [...draft.path, ...places], clicks: [...draft.clicks, places.length] };
}

/** The draft without its last click; null when there is none left. */
export function takeBack(draft: Draft): Draft | null {
  const last = draft.clicks[draft.clicks.length - 1];
  if (last === undefined) return null;
  return { ...draft, path: draft.path.slice(0, draft.path.length - last), clicks: draft.clicks.slice(0, -1) };
}

/** Corners of the run so far: the path without its start. */
export function cornersOf(draft: Draft): readonly Place[] {
  return draft.path.slice(1);
}

/**
 * A path as straight stretches in space: its places, and the spot on the board under (or over) a fitting on a ceiling
 * or floor surface where the cable enters the void. Places whose wall is gone are left out.
 */
export function spaceOf(doc: PlanDocument, path: readonly Place[], toPoint: boolean): SpacePoint[] {
  const out: SpacePoint[] = [];
  path.forEach((place, i) => {
    const isPoint = i === 0 || (toPoint && i === path.length - 1);
    const at = placeInSpace(doc, place, isPoint ? 'point' : 'corner');
    if (at === null) return;
    const inVoid = isPoint && place.on !== 'face' ? placeInSpace(doc, place, 'corner') : null;
    if (inVoid && i > 0) out.push(inVoid);
    out.push(at);
    if (inVoid && i === 0) out.push(inVoid);
  });
  return out;
}

/** Length of the stretches from `first` on, mm. */
export function lengthOf(points: readonly SpacePoint[], first = 0): Mm {
  let sum = 0;
  for (let i = Math.max(1, first + 1); i < points.length; i++) {
    const a = points[i - 1] as SpacePoint;
    const b = points[i] as SpacePoint;
    sum += Math.hypot(b.x - a.x, b.y - a.y, b.z - a.z);
  }
  return sum;
}

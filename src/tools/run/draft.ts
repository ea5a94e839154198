import type { Id, Place, Point } from '../../engine/model/document.ts';

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

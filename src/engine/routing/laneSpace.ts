import type { Place } from '../model/document.ts';
import type { Mm } from '../model/units.ts';

/** A place on the plane of its surface: along and up on a wall side, x and y in a void. */
export interface Flat {
  readonly surface: string;
  readonly x: Mm;
  readonly y: Mm;
}

/** The plane position of a place; null for a place on no surface. */
export function flatOf(place: Place): Flat | null {
  if (place.on === 'face') return { surface: `${place.wall} ${place.side}`, x: place.along, y: place.z };
  if (place.on === 'free') return null;
  return { surface: `${place.storey} ${place.on}`, x: place.x, y: place.y };
}

/** A place of the same surface at another position. */
export function placeFrom(like: Place, at: Flat): Place {
  if (like.on === 'face') return { ...like, along: at.x, z: at.y };
  return { ...like, x: at.x, y: at.y };
}

import type { Place, PlanDocument } from '../../engine/model/document.ts';
import type { Mm } from '../../engine/model/units.ts';
import { centreLine, direction } from './plane.ts';
import { placeInSpace, samePlace } from './places.ts';

/** A move in the building, mm: x and y of the plan, z up. */
export interface Shift {
  readonly x: Mm;
  readonly y: Mm;
  readonly z: Mm;
}

/** Two places nearer than this are one corner. */
const SAME_SPOT: Mm = 0.01;
/** A stretch follows the move when it leans from it by no more than this (1 mm off over its length, at least 0.2°). */
const LEAN_MM: Mm = 1;
const LEAN = Math.tan((0.2 * Math.PI) / 180);

/**
 * Moves stretch `stretch` of a path sideways and keeps its neighbours level, plumb and joined: a neighbour that runs the
 * way of the move only gets longer or shorter; one that does not comes along; one that cannot come along (an end on a
 * point, another wall) is joined by a new corner at the old place. `path` is [from, ...corners, to] with null for parked
 * ends; both ends stay as they are. Returns the new corners.
 */
export function shiftStretch(
  doc: PlanDocument,
  path: readonly (Place | null)[],
  stretch: number,
  shift: Shift,
): Place[] {
  const last = path.length - 1;
  const head = carry(doc, path, stretch, -1, shift, last);
  const tail = carry(doc, path, stretch + 1, 1, shift, last);
  return withoutRepeats([...head.reverse(), ...tail], path);
}

/** Places from `start` outwards to the end of the path (its end itself left out), moved as far as the move reaches. */
function carry(
  doc: PlanDocument,
  path: readonly (Place | null)[],
  start: number,
  step: 1 | -1,
  shift: Shift,
  last: number,
): Place[] {
  const out: Place[] = [];
  let moving = true;
  for (let i = start; i >= 0 && i <= last; i += step) {
    const place = path[i];
    const isEnd = i === 0 || i === last;
    if (!place) break;
    if (!moving) {
      if (!isEnd) out.push(place);
      continue;
    }
    const moved = shifted(doc, place, shift);
    if (moved === null) {
      // It cannot come along: the place before it (already moved) keeps a corner where it was.
      const before = path[i - step];
      if (i !== start && before) out.push(before);
      if (!isEnd) out.push(place);
      moving = false;
      continue;
    }
    out.push(moved);
    if (isEnd) break;
    const next = path[i + step];
    if (next && runsAlong(doc, place, next, shift)) moving = false;
  }
  return out;
}

/** The place moved by a shift, or null where it would leave its surface. */
export function shifted(doc: PlanDocument, place: Place, shift: Shift): Place | null {
  if (place.on === 'free')
    return { ...place, x: place.x + shift.x, y: place.y + shift.y, z: place.z + shift.z };
  if (place.on !== 'face')
    return Math.abs(shift.z) > SAME_SPOT ? null : { ...place, x: place.x + shift.x, y: place.y + shift.y };
  const d = direction(centreLine(doc, place.wall));
  if (d === null) return null;
  const along = shift.x * d.x + shift.y * d.y;
  if (Math.hypot(shift.x - d.x * along, shift.y - d.y * along) > SAME_SPOT) return null;
  return { ...place, along: place.along + along, z: place.z + shift.z };
}

/** True when the stretch between two places goes the way of the shift, within the tolerance above. */
function runsAlong(doc: PlanDocument, a: Place, b: Place, shift: Shift): boolean {
  const p = placeInSpace(doc, a);
  const q = placeInSpace(doc, b);
  const v = [q.x - p.x, q.y - p.y, q.z - p.z] as const;
  const size = Math.hypot(shift.x, shift.y, shift.z);
  if (size === 0) return true;
  const s = [shift.x / size, shift.y / size, shift.z / size] as const;
  const way = v[0] * s[0] + v[1] * s[1] + v[2] * s[2];
  const off = Math.hypot(v[0] - s[0] * way, v[1] - s[1] * way, v[2] - s[2] * way);
  return Math.abs(way) > LEAN_MM && off <= Math.max(LEAN_MM, Math.abs(way) * LEAN);
}

/** Corners without those that repeat the corner before them, or an end they stand next to. */
export function withoutRepeats(corners: readonly Place[], path: readonly (Place | null)[]): Place[] {
  const from = path[0] ?? null;
  const to = path[path.length - 1] ?? null;
  const kept: Place[] = [];
  for (const corner of corners) {
    const before = kept.length === 0 ? from : (kept[kept.length - 1] as Place);
    if (before === null || !samePlace(before, corner, SAME_SPOT)) kept.push(corner);
  }
  while (to !== null && kept.length > 0 && samePlace(kept[kept.length - 1] as Place, to, SAME_SPOT))
    kept.pop();
  return kept;
}

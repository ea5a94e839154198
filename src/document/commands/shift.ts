import { moveKeepingRight } from '../../engine/fabric/stretch.ts';
import { runPath } from '../../engine/fabric/path.ts';
import type { Fabric } from '../../engine/fabric/types.ts';
import type { Id, Place, PlanDocument, Run } from '../../engine/model/document.ts';
import type { SpacePoint } from '../../engine/model/units.ts';
import { centreLine, direction } from './plane.ts';

/** A move in the building, mm: x and y of the plan, z up. */
export type Shift = SpacePoint;

/** What a surface cannot follow, up to this many mm, is let go: rounding. */
const LOST = 1e-3;

/**
 * Moves stretch `stretch` of a run (it joins place i and i + 1 of [from, ...corners, to]) by a shift in space, mm, and
 * keeps its neighbours level, plumb and joined; points at the ends stay, with a new corner where needed. Of the shift only
 * what lies in the wall, void or floor of the stretch counts. Returns the new corners, or null where the stretch is not
 * there or cannot move that way.
 */
export function shiftStretch(
  doc: PlanDocument,
  fabrics: ReadonlyMap<Id, Fabric>,
  run: Run,
  stretch: number,
  shift: SpacePoint,
): readonly Place[] | null {
  const path = runPath(doc, run);
  const a = path[stretch];
  const b = path[stretch + 1];
  if (!a || !b) return null;
  const by = within(doc, [a, b], shift);
  const movedA = shifted(doc, a, by);
  const movedB = shifted(doc, b, by);
  if (!movedA || !movedB) return null;
  const last = path.length - 2;
  if (stretch < last) return moveKeepingRight(doc, fabrics, run, stretch, movedB);
  if (stretch > 0) return moveKeepingRight(doc, fabrics, run, stretch - 1, movedA);
  return [movedA, movedB];
}

/** The part of a shift that every one of these places can follow. */
function within(doc: PlanDocument, places: readonly Place[], shift: SpacePoint): SpacePoint {
  let now = shift;
  for (const place of places) {
    if (place.on === 'face') {
      const d = direction(centreLine(doc, place.wall)) ?? { x: 0, y: 0 };
      const along = now.x * d.x + now.y * d.y;
      now = { x: d.x * along, y: d.y * along, z: now.z };
    } else if (place.on !== 'free') now = { ...now, z: 0 };
  }
  return now;
}

/** The place moved by a shift, or null where it would leave its surface. */
export function shifted(doc: PlanDocument, place: Place, shift: SpacePoint): Place | null {
  if (place.on === 'free')
    return { ...place, x: place.x + shift.x, y: place.y + shift.y, z: place.z + shift.z };
  if (place.on !== 'face')
    return Math.abs(shift.z) > LOST ? null : { ...place, x: place.x + shift.x, y: place.y + shift.y };
  const d = direction(centreLine(doc, place.wall));
  if (d === null) return null;
  const along = shift.x * d.x + shift.y * d.y;
  if (Math.hypot(shift.x - d.x * along, shift.y - d.y * along) > LOST) return null;
  return { ...place, along: place.along + along, z: place.z + shift.z };
}

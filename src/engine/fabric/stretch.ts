import { spaceAlong, spaceDot, spaceLength, spaceSub } from '../geometry/vector.ts';
import type { Id, PlanDocument, Place, Run } from '../model/document.ts';
import { find } from '../model/tables.ts';
import type { Mm, SpacePoint } from '../model/units.ts';
import { alongOfU, faceAt, uOfAlong } from './lookup.ts';
import { runPath } from './path.ts';
import { COINCIDENT, LEVEL_ANGLE, LEVEL_TOLERANCE } from './tolerances.ts';
import type { Fabric } from './types.ts';
import { placeInSpace, wallFrame } from './wallFrame.ts';

/** What a host cannot follow, up to this, is let go: rounding, not a tilt anyone would see. */
const LOST: Mm = 1e-3;
/** Two legs turn enough for the corner between them to slide along the second one (sine of the turn). */
const LEAST_TURN = 0.2;

/**
 * The corners of a run after one of its ends or corners has moved, so that every leg keeps its direction: level stays
 * level, plumb stays plumb. `end`: 'from', 'to', or the index of a corner in `run.corners`. The displacement is passed
 * on from corner to corner: what lies along a leg stretches it, what lies square to it moves the next corner too, along
 * its wall or in its void; a slanting leg only turns. Where it reaches the far termination, or a corner that cannot follow (square out of its
 * wall), a jog corner is added. Returns the new `run.corners`; the place of an end itself is the caller's to change.
 * Without the moved place or its neighbours nothing can be kept: the corners come back as they are (the moved one new).
 */
export function moveKeepingRight(
  doc: PlanDocument,
  fabrics: ReadonlyMap<Id, Fabric>,
  run: Run,
  end: 'from' | 'to' | number,
  newPlace: Place,
): readonly Place[] {
  const path = runPath(doc, run);
  const index = end === 'from' ? 0 : end === 'to' ? path.length - 1 : end + 1;
  if (!Number.isInteger(index) || index < 0 || index >= path.length)
    throw new RangeError(`run ${run.id} has no corner ${String(end)}`);
  const old = path[index] ?? null;
  const was = old ? placeInSpace(doc, old, 'corner') : null;
  const now = placeInSpace(doc, newPlace, 'corner');
  const isEnd = end === 'from' || end === 'to';
  const self = isEnd ? [] : [newPlace];
  if (!old || !was || !now) return [...run.corners.slice(0, index - 1), ...self, ...run.corners.slice(index)];
  const by = spaceSub(now, was);
  const after = follow(doc, fabrics, path.slice(index), newPlace, by);
  const before = follow(doc, fabrics, path.slice(0, index + 1).reverse(), newPlace, by);
  return [...before.reverse(), ...self, ...after];
}

/**
 * Corners between the moved first place of a path and its last one. The last is a termination and stays; null where the
 * end is parked, and then the last corner is free to go.
 */
function follow(
  doc: PlanDocument,
  fabrics: ReadonlyMap<Id, Fabric>,
  path: readonly (Place | null)[],
  first: Place,
  by: SpacePoint,
): Place[] {
  const corners = path.slice(1, -1) as Place[];
  const out: Place[] = [];
  let push = by;
  let here: Place = first;
  for (let i = 0; i + 1 < path.length; i++) {
    const next = path[i + 1] ?? null;
    if (!next || spaceLength(push) <= LOST) return [...out, ...corners.slice(i)];
    const a = placeInSpace(doc, path[i] as Place, 'corner');
    const b = placeInSpace(doc, next, 'corner');
    if (!a || !b) return [...out, ...corners.slice(i)];
    const leg = direction(a, b);
    // A slanting leg has no direction worth keeping: it is drawn anew to where its end has gone.
    if (leg && isSlanted(spaceSub(b, a))) return [...out, ...corners.slice(i)];
    const square = leg ? spaceAlong(push, leg, -spaceDot(push, leg)) : push;
    if (spaceLength(square) <= LOST) return [...out, ...corners.slice(i)];
    const isLast = i + 2 === path.length;
    const onward = isLast ? null : (path[i + 2] ?? null);
    const c = onward ? placeInSpace(doc, onward, 'corner') : null;
    const move = isLast ? square : slide(square, leg, c ? direction(b, c) : null);
    const moved = placeMoved(doc, fabrics, next, move) ?? placeMoved(doc, fabrics, next, square);
    if (isLast || !moved) {
      const jogs = moved ? [moved] : jogHere(doc, fabrics, path[i] as Place, here, leg, push);
      return [...out, ...jogs, ...corners.slice(i)];
    }
    out.push(moved);
    here = moved;
    const landed = placeInSpace(doc, moved, 'corner');
    push = landed ? spaceSub(landed, b) : move;
  }
  return out;
}

/** The leg ahead stays where it is: its line is picked up again where the push along it has brought the corner. */
function jogHere(
  doc: PlanDocument,
  fabrics: ReadonlyMap<Id, Fabric>,
  was: Place,
  now: Place,
  leg: SpacePoint | null,
  push: SpacePoint,
): Place[] {
  const along = leg ? spaceDot(push, leg) : 0;
  const jog = leg ? placeMoved(doc, fabrics, was, spaceAlong({ x: 0, y: 0, z: 0 }, leg, along)) : was;
  const at = jog ?? was;
  const p = placeInSpace(doc, at, 'corner');
  const q = placeInSpace(doc, now, 'corner');
  return p && q && spaceLength(spaceSub(p, q)) > LOST ? [at] : [];
}

/** Neither level nor plumb. */
function isSlanted(d: SpacePoint): boolean {
  const flat = Math.hypot(d.x, d.y);
  const off = Math.max(LEVEL_TOLERANCE, Math.tan(LEVEL_ANGLE) * Math.max(flat, Math.abs(d.z)));
  return Math.min(flat, Math.abs(d.z)) > off;
}

/** Unit vector from a to b; null when they are one place (within 2 mm). */
function direction(a: SpacePoint, b: SpacePoint): SpacePoint | null {
  const d = spaceSub(b, a);
  const length = spaceLength(d);
  return length > COINCIDENT ? { x: d.x / length, y: d.y / length, z: d.z / length } : null;
}

/**
 * The move of a corner that keeps both its legs' directions and leaves nothing to pass on: along the leg after it, as
 * far as makes up `square`. Only where the two legs and the push lie in one plane and turn enough; else `square`.
 */
function slide(square: SpacePoint, leg: SpacePoint | null, onward: SpacePoint | null): SpacePoint {
  if (!leg || !onward) return square;
  const across = spaceAlong(onward, leg, -spaceDot(onward, leg));
  const sine = spaceLength(across);
  if (sine < LEAST_TURN) return square;
  const far = spaceDot(square, across) / (sine * sine);
  const move = spaceAlong({ x: 0, y: 0, z: 0 }, onward, far);
  const rest = spaceAlong(square, across, -far);
  return spaceLength(rest) <= LOST ? move : square;
}

/** The place moved by a vector in space along its own wall, void or room; null when it cannot follow. */
function placeMoved(
  doc: PlanDocument,
  fabrics: ReadonlyMap<Id, Fabric>,
  place: Place,
  by: SpacePoint,
): Place | null {
  if (place.on === 'free') return { ...place, x: place.x + by.x, y: place.y + by.y, z: place.z + by.z };
  if (place.on !== 'face')
    return Math.abs(by.z) <= LOST ? { ...place, x: place.x + by.x, y: place.y + by.y } : null;
  const wall = find(doc, 'walls', place.wall);
  const frame = wall ? wallFrame(doc, wall) : null;
  if (!wall || !frame) return null;
  const out = by.x * frame.normal.x + by.y * frame.normal.y;
  if (Math.abs(out) > LOST) return null;
  const shift = by.x * frame.dir.x + by.y * frame.dir.y;
  const z = place.z + by.z;
  const along = place.along + shift;
  // Walls in line share a face: past the end of its own wall the place belongs to the next one.
  const fabric = fabrics.get(wall.storey);
  const hit = fabric ? faceAt(fabric, place.wall, place.side, place.along) : null;
  const u = hit ? uOfAlong(hit.face, place.wall, place.side, along) : null;
  if (hit && u !== null && hit.face.pieces.length > 1 && u >= 0 && u <= hit.face.length) {
    const home = alongOfU(hit.face, u);
    if (home) return { on: 'face', ...home, z };
  }
  return { ...place, along, z };
}

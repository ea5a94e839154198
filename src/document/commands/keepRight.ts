import { current, isDraft } from 'immer';
import type { Id, Place, PlanDocument, Run } from '../../engine/model/document.ts';
import { rows } from '../../engine/model/tables.ts';
import type { PlanDraft } from '../transact.ts';
import { patch } from '../transact.ts';
import { placeInSpace } from './places.ts';
import type { Shift } from './shift.ts';
import { shifted, shiftStretch, withoutRepeats } from './shift.ts';

/** The whole path of a run: [place of from, ...corners, place of to]; null for a parked end. */
export function pathOf(doc: PlanDocument, run: Run): (Place | null)[] {
  const place = (id: Id | null) => (id === null ? null : (doc.points.byId[id]?.place ?? null));
  return [place(run.from), ...run.corners, place(run.to)];
}

/** Before a point moves: lets the runs that end on it follow, level, plumb and joined. */
export function keepRunsRight(draft: PlanDraft, point: Id, to: Place): void {
  const doc = (isDraft(draft) ? current(draft) : draft) as PlanDocument;
  for (const run of rows(doc.runs)) {
    if (run.from !== point && run.to !== point) continue;
    const now = { ...run, corners: (draft.runs.byId[run.id]?.corners ?? []) as readonly Place[] };
    const atStart = run.from === point;
    const path = pathOf(doc, now);
    const corners = followed(doc, atStart ? path : path.slice().reverse(), to);
    patch(draft, 'runs', run.id, { corners: atStart ? corners : corners.reverse() });
  }
}

/** Corners of a path whose first place moves to `to`. */
function followed(doc: PlanDocument, path: readonly (Place | null)[], to: Place): Place[] {
  const old = path[0];
  const corners = path.slice(1, -1) as Place[];
  if (!old || corners.length === 0) return corners;
  const a = placeInSpace(doc, old);
  const b = placeInSpace(doc, to);
  let now: Place = old;
  let rest = corners;
  for (const shift of [
    { x: b.x - a.x, y: b.y - a.y, z: 0 },
    { x: 0, y: 0, z: b.z - a.z },
  ]) {
    const moved = shifted(doc, now, shift);
    if (moved === null) return corners;
    rest = oneShift(doc, now, rest, path[path.length - 1] ?? null, shift);
    now = moved;
  }
  return rest;
}

function oneShift(
  doc: PlanDocument,
  first: Place,
  corners: readonly Place[],
  last: Place | null,
  shift: Shift,
): Place[] {
  if (Math.hypot(shift.x, shift.y, shift.z) === 0) return [...corners];
  // The moved end stands in for both ends of a stretch of no length, so that only its far side is carried.
  const path = [first, first, ...corners, last];
  const moved = shiftStretch(doc, path, 0, shift);
  const end = shifted(doc, first, shift);
  return withoutRepeats(moved, [end, last]);
}

import { runPath } from '../../engine/fabric/path.ts';
import { moveKeepingRight } from '../../engine/fabric/stretch.ts';
import type { Id, Place, PlanDocument, Run } from '../../engine/model/document.ts';
import type { SpacePoint } from '../../engine/model/units.ts';
import type { PlanDraft, Step } from '../transact.ts';
import { command, patch, refuse } from '../transact.ts';
import type { Command, Refusal } from '../types.ts';
import { fabricsOf } from './keepRight.ts';
import { placeInSpace, placeRefusal } from './places.ts';
import { sound } from './plane.ts';
import { runRefusal } from './runs.ts';
import { shiftStretch } from './shift.ts';

/** Redraws a run: all corners between its two ends. */
export function setCorners(id: Id, corners: readonly Place[]): Command {
  return cornerCommand('Redraw run', id, () => corners);
}

/**
 * Moves corner `index` (0 is the first after the start). With `keepRight` the corners next to it follow so that every leg
 * keeps its direction; without, only this corner moves (and may leave a diagonal).
 */
export function moveCorner(id: Id, index: number, to: Place, keepRight = false): Command {
  return cornerCommand('Move corner', id, (run, doc) => {
    if (!run.corners[index]) return refuse('That corner is no longer in the run.');
    const wrong = placeRefusal(doc, to, null);
    if (wrong) return wrong;
    return keepRight ? moveKeepingRight(doc, fabricsOf(doc), run, index, to) : run.corners.with(index, to);
  });
}

/** Adds a corner so that it becomes corner `index`. */
export function insertCorner(id: Id, index: number, place: Place): Command {
  return cornerCommand('Add corner', id, (run) =>
    index >= 0 && index <= run.corners.length
      ? run.corners.toSpliced(index, 0, place)
      : refuse('That stretch is no longer in the run.'),
  );
}

/** Takes a corner out; its neighbours are joined straight. */
export function removeCorner(id: Id, index: number): Command {
  return cornerCommand('Remove corner', id, (run) =>
    run.corners[index] ? run.corners.toSpliced(index, 1) : refuse('That corner is no longer in the run.'),
  );
}

/**
 * Moves stretch `stretch` (it joins place i and i + 1 of [from, ...corners, to]) sideways by `shift`, plan x, y and
 * height z in mm. Neighbours stay level, plumb and joined; points at the ends stay, with a new corner where needed.
 * On a face only the part of the shift that lies in the wall counts, in a void only the level part.
 */
export function moveStretch(id: Id, stretch: number, shift: SpacePoint): Command {
  return cornerCommand('Move stretch', id, (run, doc) => {
    if (!sound(shift.x, shift.y, shift.z)) return refuse('That distance is not a usable length.');
    return (
      shiftStretch(doc, fabricsOf(doc), run, stretch, shift) ??
      refuse('That stretch cannot be moved that way.')
    );
  });
}

/**
 * Joins an end of a run to a point in one move: along the void until it is over (or under) the point and then plumb, or
 * level along the same wall side and then plumb. Starts from the run's last place at that end.
 */
export function dropToPoint(id: Id, end: 'from' | 'to', point: Id): Command {
  return command('Drop to point', (draft, step) => {
    const { doc } = step;
    const run = doc.runs.byId[id];
    const target = doc.points.byId[point];
    if (!run || !target) return refuse('That run or point is no longer in the plan.');
    if (run.locked) return refuse(`${run.label} is locked: unlock it first.`);
    const path = runPath(doc, { ...run, [end]: null }).filter((p): p is Place => p !== null);
    const ordered = end === 'to' ? path : path.slice().reverse();
    const added = dropPath(doc, ordered, target.place);
    if (!Array.isArray(added)) return added;
    const corners = end === 'to' ? [...run.corners, ...added] : [...added.reverse(), ...run.corners];
    return write(draft, step, { ...run, [end]: point, corners }, { [end]: point, corners });
  });
}

/** Corners that take a cable on from the last of `path` to a point's place; a refusal where there is no plain way. */
function dropPath(doc: PlanDocument, path: readonly Place[], target: Place): Place[] | Refusal {
  const last = path[path.length - 1];
  if (!last) return refuse('The run has no place to start from.');
  if (last.on === 'face') {
    if (target.on === 'face' && target.wall === last.wall && target.side === last.side)
      return differs(last.along, target.along) && differs(last.z, target.z)
        ? [{ ...last, along: target.along }]
        : [];
    return refuse('Take the run up to the ceiling or down to the floor first, or along to that wall.');
  }
  if (last.on === 'free') return [];
  const over = placeInSpace(doc, target);
  const before = path[path.length - 2];
  const from = before ? placeInSpace(doc, before) : null;
  const alongX = from === null || Math.abs(last.x - from.x) >= Math.abs(last.y - from.y);
  const elbow: Place[] =
    differs(last.x, over.x) && differs(last.y, over.y)
      ? [alongX ? { ...last, x: over.x } : { ...last, y: over.y }]
      : [];
  const above: Place = { ...last, x: over.x, y: over.y };
  return differs(last.x, over.x) || differs(last.y, over.y) ? [...elbow, above] : elbow;
}

const differs = (a: number, b: number): boolean => Math.abs(a - b) > 0.01;

function cornerCommand(
  name: string,
  id: Id,
  corners: (run: Run, doc: PlanDocument) => readonly Place[] | Refusal,
): Command {
  return command(name, (draft, step) => {
    const run = step.doc.runs.byId[id];
    if (!run) return refuse('That run is no longer in the plan.');
    if (run.locked) return refuse(`${run.label} is locked: unlock it first.`);
    const next = corners(run, step.doc);
    if ('ok' in next) return next;
    return write(draft, step, { ...run, corners: next }, { corners: next });
  });
}

function write(draft: PlanDraft, step: Step, run: Run, fields: Partial<Run>): Refusal | void {
  for (const corner of run.corners) {
    const wrong = placeRefusal(step.doc, corner, null);
    if (wrong) return wrong;
  }
  const wrong = runRefusal(step.doc, run);
  if (wrong) return wrong;
  patch(draft, 'runs', run.id, fields);
}

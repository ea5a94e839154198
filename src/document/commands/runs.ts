import type {
  AsLaid,
  DateText,
  Id,
  Place,
  PlanDocument,
  Run,
  RunProgress,
} from '../../engine/model/document.ts';
import { BLANK_RUN } from '../../engine/model/blankRun.ts';
import { runPath } from '../../engine/fabric/path.ts';
import { wallFrame } from '../../engine/fabric/wallFrame.ts';
import { rows } from '../../engine/model/tables.ts';
import { command, drop, nextLabelled, patch, put, refuse } from '../transact.ts';
import { isDate } from '../dates.ts';
import type { Command, Refusal } from '../types.ts';
import { placeRefusal } from './places.ts';
import { sound } from './plane.ts';

/** What must be said of a new run; the rest has usual values. */
export type NewRun = Pick<Run, 'from' | 'to' | 'corners'> & Partial<Omit<Run, 'id' | 'label'>>;

/**
 * A new run, numbered R1, R2 ... Its circuit is that of its ends where they agree, its cable that circuit's, and its
 * fixing what the wall it starts on asks for, unless given.
 */
export function addRun(fields: NewRun): Command {
  return command('Draw run', (draft, step) => {
    const { doc } = step;
    const circuit =
      fields.circuit === undefined ? circuitOfEnds(doc, fields.from, fields.to) : fields.circuit;
    const cable =
      fields.cable ?? doc.circuits.byId[circuit ?? '']?.cable ?? usualCable(doc, fields.from ?? fields.to);
    if (cable === undefined) return refuse('Put a cable in the catalogue first.');
    const { id, label } = nextLabelled(draft, 'runs');
    const run: Run = {
      fixing: usualFixing(doc, fields),
      ...BLANK_RUN,
      origin: 'drawn',
      ...fields,
      circuit,
      cable,
      id,
      label,
    };
    const wrong = runRefusal(doc, run);
    if (wrong) return wrong;
    put(draft, 'runs', run);
    step.made(id);
  });
}

/** Changes a run's circuit, cable, fixing, depth, protection, tails, notes or lock. Corners have commands of their own. */
export function editRuns(
  ids: readonly Id[],
  fields: Partial<Omit<Run, 'id' | 'label' | 'corners' | 'from' | 'to'>>,
): Command {
  return command(ids.length === 1 ? 'Edit run' : 'Edit runs', (draft, step) => {
    for (const id of ids) {
      const now = step.doc.runs.byId[id];
      if (!now) return refuse('That run is no longer in the plan.');
      const next = { ...now, ...fields };
      const wrong =
        runRefusal(step.doc, next) ?? (next.depth === now.depth ? null : depthRefusal(step.doc, next));
      if (wrong) return wrong;
      patch(draft, 'runs', id, fields);
    }
  });
}

/** Joins an end of a run to a point, or parks it with null (its place then stays as a corner). */
export function connectRun(id: Id, end: 'from' | 'to', point: Id | null): Command {
  return command(point === null ? 'Take run end off its point' : 'Join run to point', (draft, step) => {
    const { doc } = step;
    const run = doc.runs.byId[id];
    if (!run) return refuse('That run is no longer in the plan.');
    const left = point === null && run[end] !== null ? doc.points.byId[run[end]]?.place : undefined;
    const corners = left ? (end === 'from' ? [left, ...run.corners] : [...run.corners, left]) : run.corners;
    const next = { ...run, [end]: point, corners };
    const wrong = runRefusal(doc, next);
    if (wrong) return wrong;
    patch(draft, 'runs', id, { [end]: point, corners });
  });
}

/** Turns runs end for end: the same cable on the same way, told from the other end. */
export function reverseRuns(ids: readonly Id[]): Command {
  return command('Reverse run', (draft, step) => {
    for (const id of ids) {
      const run = step.doc.runs.byId[id];
      if (!run) return refuse('That run is no longer in the plan.');
      patch(draft, 'runs', id, {
        from: run.to,
        to: run.from,
        corners: [...run.corners].reverse(),
        tailFrom: run.tailTo,
        tailTo: run.tailFrom,
      });
    }
  });
}

/** Ticks a step of the work off for runs on a date (YYYY-MM-DD), or unticks it with null. */
export function setProgress(ids: readonly Id[], stage: keyof RunProgress, date: DateText | null): Command {
  return command(date === null ? `Untick ${stage}` : `Tick ${stage}`, (draft, step) => {
    if (date !== null && !isDate(date))
      return refuse('A date is written as year-month-day, like 2026-05-17.');
    for (const id of ids) {
      const run = step.doc.runs.byId[id];
      if (!run) return refuse('That run is no longer in the plan.');
      patch(draft, 'runs', id, { progress: { ...run.progress, [stage]: date } });
    }
  });
}

/** Records whether runs were laid as drawn. "Differently" asks for a note that says how. */
export function setAsLaid(ids: readonly Id[], asLaid: AsLaid): Command {
  return command('Record as laid', (draft, step) => {
    if (asLaid.state === 'differently' && asLaid.note.trim() === '')
      return refuse('Say in a few words how it was laid.');
    for (const id of ids) {
      if (!step.doc.runs.byId[id]) return refuse('That run is no longer in the plan.');
      patch(draft, 'runs', id, { asLaid });
    }
  });
}

/** Takes runs away. Readings keep a run from going. */
export function removeRuns(ids: readonly Id[]): Command {
  return command(ids.length === 1 ? 'Remove run' : 'Remove runs', (draft, step) => {
    for (const id of ids) {
      const run = step.doc.runs.byId[id];
      if (!run) return refuse('That run is no longer in the plan.');
      if (rows(step.doc.readings).some((r) => r.run === id))
        return refuse(`${run.label} has readings recorded: remove those first.`);
    }
    for (const id of ids) drop(draft, 'runs', id);
  });
}

/** Why a run may not be so; null when it may. */
export function runRefusal(doc: PlanDocument, run: Run): Refusal | null {
  for (const end of [run.from, run.to]) {
    if (end !== null && !doc.points.byId[end])
      return refuse('The point it ends on is no longer in the plan.');
  }
  if (run.from !== null && run.from === run.to) return refuse('A run goes from one point to another.');
  if (run.circuit !== null && !doc.circuits.byId[run.circuit])
    return refuse('That circuit is no longer in the plan.');
  if (!doc.cables.byId[run.cable]) return refuse('That cable is no longer in the catalogue.');
  const places = run.corners.length + (run.from === null ? 0 : 1) + (run.to === null ? 0 : 1);
  if (places < 2) return refuse('A run needs two ends.');
  for (const corner of run.corners) {
    const wrong = placeRefusal(doc, corner, null);
    if (wrong) return wrong;
  }
  for (const length of [run.depth, run.tailFrom, run.tailTo]) {
    if (length !== null && !(sound(length) && length >= 0)) return refuse('A depth or tail is 0 mm or more.');
  }
  return null;
}

/** Why a stated depth does not fit the walls a run's places are on; null when it does. */
function depthRefusal(doc: PlanDocument, run: Run): Refusal | null {
  const cable = doc.cables.byId[run.cable];
  const { depth } = run;
  if (depth === null || cable === undefined) return null;
  for (const place of runPath(doc, run)) {
    const wall = place?.on === 'face' ? doc.walls.byId[place.wall] : undefined;
    const frame = wall ? wallFrame(doc, wall) : null;
    if (frame === null) continue;
    const sides = [cable.width, cable.height];
    const half = (frame.buildUp.frame === 'masonry' ? Math.min(...sides) : Math.max(...sides)) / 2;
    if (depth - half < 0 || depth + half > frame.thickness) {
      return refuse(
        `At ${depth} mm its cable does not fit in a wall ${frame.thickness} mm thick: from ${half} to ${frame.thickness - half} mm.`,
      );
    }
  }
  return null;
}

function circuitOfEnds(doc: PlanDocument, from: Id | null, to: Id | null): Id | null {
  const a = doc.points.byId[from ?? '']?.circuit ?? null;
  const b = doc.points.byId[to ?? '']?.circuit ?? null;
  return a === null || b === null || a === b ? (a ?? b) : null;
}

function usualCable(doc: PlanDocument, end: Id | null): Id | undefined {
  const use = doc.points.byId[end ?? '']?.kind === 'data' ? 'data' : 'power';
  const cables = rows(doc.cables);
  return (cables.find((c) => c.use === use && (use === 'data' || c.csa === 2.5)) ?? cables[0])?.id;
}

function usualFixing(doc: PlanDocument, fields: NewRun): Run['fixing'] {
  const path: (Place | undefined)[] = [
    doc.points.byId[fields.from ?? '']?.place,
    ...fields.corners,
    doc.points.byId[fields.to ?? '']?.place,
  ];
  for (const place of path) {
    if (place?.on !== 'face') continue;
    const frame = doc.buildUps.byId[doc.walls.byId[place.wall]?.buildUp ?? '']?.frame;
    return frame === 'masonry' ? 'in-plaster' : 'in-stud';
  }
  return 'in-void';
}

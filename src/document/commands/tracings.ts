import type { Id, PlanDocument } from '../../engine/model/document.ts';
import { rows } from '../../engine/model/tables.ts';
import type { KnownLength, PictureType, StoreyTracing, Tracing } from '../../engine/model/tracing.ts';
import { liesOnStorey } from '../../engine/model/tracing.ts';
import type { Mm, PlanPoint, Radians } from '../../engine/model/units.ts';
import { fitScale, grainOfSource, knownLengthsProblem } from '../../engine/takeoff/calibration.ts';
import type { PlanDraft, Step } from '../transact.ts';
import { command, drop, nextId, patch, put, refuse } from '../transact.ts';
import type { Command, Refusal } from '../types.ts';
import { mapPlan } from './mapPlan.ts';
import { distance, sound } from './plane.ts';

/** A scale to start from: a picture as wide as a small house, until a length is known. */
export const GUESSED_WIDTH = 12000;
const WHOLE_TURN = 2 * Math.PI;

/** What must be said of a new tracing; the rest has usual values. */
export type NewTracing = Pick<Tracing, 'name' | 'lies' | 'source'> & Partial<Omit<Tracing, 'id'>>;

/** What must be said of a new picture under a storey; its place and scale have usual values. */
export interface NewPicture {
  readonly storey: Id;
  readonly name: string;
  readonly asset: string;
  readonly mediaType: PictureType;
  readonly width: number;
  readonly height: number;
  readonly x?: Mm;
  readonly y?: Mm;
}

/** Lays a picture under a storey. Its bytes are kept apart, by their SHA-256. */
export function addPicture({ storey, name, x = 0, y = 0, ...picture }: NewPicture): Command {
  return addTracing({
    name,
    lies: { on: 'storey', storey, x, y, rotation: 0 },
    source: { kind: 'picture', ...picture, straighten: null },
  });
}

/** Lays something to be traced under a storey, or on a wall. */
export function addTracing(fields: NewTracing): Command {
  return command('Add tracing', (draft, step) => {
    const { lies, source } = fields;
    if (lies.on === 'storey' && !step.doc.storeys.byId[lies.storey])
      return refuse('That storey is no longer in the plan.');
    if (lies.on === 'face' && !step.doc.walls.byId[lies.wall])
      return refuse('That wall is no longer in the plan.');
    if (!(source.width > 0 && source.height > 0)) return refuse('There is nothing in it.');
    const id = nextId(draft, 'tracings');
    put(draft, 'tracings', {
      scale: { mmPerUnit: GUESSED_WIDTH / source.width, known: [], stated: null },
      date: null,
      revision: '',
      opacity: 0.5,
      locked: false,
      visible: true,
      ...fields,
      id,
    });
    step.made(id);
  });
}

/** What may be changed of a tracing; its place only where it lies under a storey. */
export type TracingEdit = Partial<
  Pick<Tracing, 'name' | 'date' | 'revision' | 'opacity' | 'locked' | 'visible'> &
    Omit<StoreyTracing['lies'], 'on'>
>;

/** Moves, turns, dims, hides, locks or renames a tracing. A locked one is not moved or turned. */
export function editTracing(id: Id, edit: TracingEdit): Command {
  const { storey, x, y, rotation, ...fields } = edit;
  const moves = x !== undefined || y !== undefined || rotation !== undefined;
  const name = moves ? 'Move tracing' : edit.opacity !== undefined ? 'Dim tracing' : 'Edit tracing';
  return command(name, (draft, step) => {
    const now = step.doc.tracings.byId[id];
    if (!now) return refuse(GONE);
    if (moves && now.locked && fields.locked !== false) return refuse(LOCKED);
    if (!((fields.opacity ?? 0) >= 0 && (fields.opacity ?? 0) <= 1))
      return refuse('Opacity is between 0 and 1.');
    patch(draft, 'tracings', id, fields);
    if (!moves && storey === undefined) return;
    if (!liesOnStorey(now)) return refuse(ON_A_WALL);
    const lies = { ...now.lies, ...given({ storey, x, y, rotation }) };
    if (!sound(lies.x, lies.y, lies.rotation)) return refuse('That spot is not on the plan.');
    if (!step.doc.storeys.byId[lies.storey]) return refuse('That storey is no longer in the plan.');
    patch(draft, 'tracings', id, { lies: { ...lies, rotation: inTurn(lies.rotation) } });
  });
}

const GONE = 'That tracing is no longer in the plan.';
const LOCKED = 'The tracing is locked: unlock it first.';
const ON_A_WALL = 'That tracing lies on a wall.';

/** The fields that were given. */
function given<T extends object>(fields: T): { [K in keyof T]: Exclude<T[K], undefined> } {
  return Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== undefined)) as never;
}

/** Turns a tracing by an angle (radians, clockwise on screen) about a spot of the plan. */
export function turnTracing(id: Id, by: Radians, about: PlanPoint): Command {
  return command('Turn tracing', (draft, step) => {
    const now = movable(step.doc, id);
    if ('ok' in now) return now;
    if (!sound(by, about.x, about.y)) return refuse('That angle or spot cannot be used.');
    patch(draft, 'tracings', id, { lies: turnedAbout(now.lies, by, about) });
  });
}

/** Turns a tracing about `a` so that the line from a to b, which lies a little askew, is level or plumb. */
export function straightenTracing(id: Id, a: PlanPoint, b: PlanPoint): Command {
  return command('Straighten tracing', (draft, step) => {
    const now = movable(step.doc, id);
    if ('ok' in now) return now;
    if (!sound(a.x, a.y, b.x, b.y) || distance(a, b) < 1)
      return refuse('Draw the line from one spot to another.');
    const angle = Math.atan2(b.y - a.y, b.x - a.x);
    const quarter = Math.PI / 2;
    const by = Math.round(angle / quarter) * quarter - angle;
    patch(draft, 'tracings', id, { lies: turnedAbout(now.lies, by, a) });
  });
}

/** The tracing, if it lies under a storey and may be moved there. */
function movable(doc: PlanDocument, id: Id): StoreyTracing | Refusal {
  const now = doc.tracings.byId[id];
  if (!now) return refuse(GONE);
  if (now.locked) return refuse(LOCKED);
  return liesOnStorey(now) ? now : refuse(ON_A_WALL);
}

type OnStorey = StoreyTracing['lies'];

function turnedAbout(lies: OnStorey, by: Radians, about: PlanPoint): OnStorey {
  const cos = Math.cos(by);
  const sin = Math.sin(by);
  const dx = lies.x - about.x;
  const dy = lies.y - about.y;
  return {
    ...lies,
    x: about.x + dx * cos - dy * sin,
    y: about.y + dx * sin + dy * cos,
    rotation: inTurn(lies.rotation + by),
  };
}

const inTurn = (angle: Radians): Radians => ((angle % WHOLE_TURN) + WHOLE_TURN) % WHOLE_TURN;

/**
 * Marks the known lengths of a tracing and sets its scale by them. When it had none before and no other picture of the
 * storey has one, what is traced on the storey was drawn to a guess: it is scaled with the picture, about its corner.
 */
export function setKnownLengths(id: Id, known: readonly KnownLength[]): Command {
  return command('Set scale', (draft, step) => {
    const { doc } = step;
    const now = doc.tracings.byId[id];
    if (!now) return refuse(GONE);
    const { scale } = now;
    if (known.length === 0) {
      patch(draft, 'tracings', id, { scale: { ...scale, known } });
      if (scale.known.length > 0 && scale.stated === null)
        step.note('The scale is a guess again: metres are not given until a length is known.');
      return;
    }
    const fit = fitScale(known, grainOfSource(now.source));
    if (fit === null)
      return refuse(knownLengthsProblem(known, grainOfSource(now.source)) ?? 'These lengths give no scale.');
    const mmPerUnit = fit.mmPerPixel;
    if (!(mmPerUnit > 0 && mmPerUnit <= 1e6)) return refuse('These lengths give no usable scale.');
    patch(draft, 'tracings', id, { scale: { ...scale, known, mmPerUnit } });
    if (fit.single) step.note('Only one known length: mark a second, at right angles, to check it.');
    if (liesOnStorey(now) && scale.known.length === 0 && scale.stated === null)
      return scaleTraced(draft, step, now, mmPerUnit / scale.mmPerUnit);
  });
}

function scaleTraced(
  draft: PlanDraft,
  step: Step,
  { id, lies }: StoreyTracing,
  factor: number,
): Refusal | void {
  const { doc } = step;
  const { storey } = lies;
  if (factor === 1 || !isTraced(doc, storey)) return;
  const others = rows(doc.tracings).filter((u) => u.id !== id && liesOnStorey(u) && u.lies.storey === storey);
  if (others.some((u) => u.scale.known.length > 0)) return;
  const point = (p: PlanPoint) => ({
    x: lies.x + (p.x - lies.x) * factor,
    y: lies.y + (p.y - lies.y) * factor,
  });
  if (rows(doc.nodes).some((n) => n.storey === storey && !sound(point(n).x, point(n).y)))
    return refuse('What is traced would become too large.');
  mapPlan(draft, doc, { storeys: new Set([storey]), point, factor });
  step.note('What was already traced on this storey was scaled with the tracing.');
}

function isTraced(doc: PlanDocument, storey: Id): boolean {
  return (
    rows(doc.nodes).some((n) => n.storey === storey) ||
    rows(doc.roomTags).some((t) => t.storey === storey) ||
    rows(doc.points).some((p) => p.place.on !== 'face' && p.place.storey === storey)
  );
}

/** Takes a tracing away. What was traced over it stays. */
export function removeTracing(id: Id): Command {
  return command('Remove tracing', (draft, step) => {
    if (!step.doc.tracings.byId[id]) return refuse(GONE);
    drop(draft, 'tracings', id);
  });
}

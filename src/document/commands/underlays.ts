import type { Id, KnownLength, PlanDocument, Underlay } from '../../engine/model/document.ts';
import { rows } from '../../engine/model/tables.ts';
import type { PlanPoint, Radians } from '../../engine/model/units.ts';
import { fitScale, knownLengthsProblem } from '../../engine/takeoff/calibration.ts';
import { command, drop, nextId, patch, put, refuse } from '../transact.ts';
import type { Command } from '../types.ts';
import { mapPlan } from './mapPlan.ts';
import { distance, sound } from './plane.ts';

/** A scale to start from: a picture as wide as a small house, until a length is known. */
const GUESSED_WIDTH = 12000;
const WHOLE_TURN = 2 * Math.PI;

/** What must be said of a new picture; its place and scale have defaults. */
export type NewUnderlay = Pick<Underlay, 'storey' | 'name' | 'mediaType' | 'asset' | 'width' | 'height'> &
  Partial<Omit<Underlay, 'id'>>;

/** Lays a picture under a storey. Its bytes are kept apart, by their SHA-256. */
export function addUnderlay(fields: NewUnderlay): Command {
  return command('Add picture', (draft, step) => {
    if (!step.doc.storeys.byId[fields.storey]) return refuse('That storey is no longer in the plan.');
    if (!(fields.width >= 1 && fields.height >= 1)) return refuse('The picture is empty.');
    const id = nextId(draft, 'underlays');
    put(draft, 'underlays', {
      x: 0,
      y: 0,
      rotation: 0,
      mmPerPixel: GUESSED_WIDTH / fields.width,
      known: [],
      opacity: 0.5,
      locked: false,
      visible: true,
      ...fields,
      id,
    });
    step.made(id);
  });
}

/** Moves, turns, dims, hides, locks or renames a picture. A locked one is not moved or turned. */
export function editUnderlay(
  id: Id,
  fields: Partial<
    Pick<Underlay, 'name' | 'x' | 'y' | 'rotation' | 'opacity' | 'locked' | 'visible' | 'storey'>
  >,
): Command {
  const moves = fields.x !== undefined || fields.y !== undefined || fields.rotation !== undefined;
  const name = moves ? 'Move picture' : fields.opacity !== undefined ? 'Dim picture' : 'Edit picture';
  return command(name, (draft, step) => {
    const now = step.doc.underlays.byId[id];
    if (!now) return refuse('That picture is no longer in the plan.');
    if (moves && now.locked && fields.locked !== false)
      return refuse('The picture is locked: unlock it first.');
    const next = { ...now, ...fields };
    if (!sound(next.x, next.y, next.rotation)) return refuse('That spot is not on the plan.');
    if (!(next.opacity >= 0 && next.opacity <= 1)) return refuse('Opacity is between 0 and 1.');
    if (!step.doc.storeys.byId[next.storey]) return refuse('That storey is no longer in the plan.');
    patch(draft, 'underlays', id, { ...fields, rotation: inTurn(next.rotation) });
  });
}

/** Turns a picture by an angle (radians, clockwise on screen) about a spot of the plan. */
export function turnUnderlay(id: Id, by: Radians, about: PlanPoint): Command {
  return command('Turn picture', (draft, step) => {
    const now = step.doc.underlays.byId[id];
    if (!now) return refuse('That picture is no longer in the plan.');
    if (now.locked) return refuse('The picture is locked: unlock it first.');
    if (!sound(by, about.x, about.y)) return refuse('That angle or spot cannot be used.');
    patch(draft, 'underlays', id, turnedAbout(now, by, about));
  });
}

/** Turns a picture about `a` so that the line from a to b, which lies a little askew, is level or plumb. */
export function straightenUnderlay(id: Id, a: PlanPoint, b: PlanPoint): Command {
  return command('Straighten picture', (draft, step) => {
    const now = step.doc.underlays.byId[id];
    if (!now) return refuse('That picture is no longer in the plan.');
    if (now.locked) return refuse('The picture is locked: unlock it first.');
    if (!sound(a.x, a.y, b.x, b.y) || distance(a, b) < 1)
      return refuse('Draw the line from one spot to another.');
    const angle = Math.atan2(b.y - a.y, b.x - a.x);
    const quarter = Math.PI / 2;
    patch(draft, 'underlays', id, turnedAbout(now, Math.round(angle / quarter) * quarter - angle, a));
  });
}

function turnedAbout(u: Underlay, by: Radians, about: PlanPoint): Pick<Underlay, 'x' | 'y' | 'rotation'> {
  const cos = Math.cos(by);
  const sin = Math.sin(by);
  const dx = u.x - about.x;
  const dy = u.y - about.y;
  return {
    x: about.x + dx * cos - dy * sin,
    y: about.y + dx * sin + dy * cos,
    rotation: inTurn(u.rotation + by),
  };
}

const inTurn = (angle: Radians): Radians => ((angle % WHOLE_TURN) + WHOLE_TURN) % WHOLE_TURN;

/**
 * Marks the known lengths of a picture and sets its scale by them. When it had none before and no other picture of the
 * storey has one, what is traced on the storey was drawn to a guess: it is scaled with the picture, about its corner.
 */
export function setKnownLengths(id: Id, known: readonly KnownLength[]): Command {
  return command('Set scale', (draft, step) => {
    const { doc } = step;
    const now = doc.underlays.byId[id];
    if (!now) return refuse('That picture is no longer in the plan.');
    if (known.length === 0) {
      patch(draft, 'underlays', id, { known });
      if (now.known.length > 0)
        step.note('The scale is a guess again: metres are not given until a length is known.');
      return;
    }
    const fit = fitScale(known);
    if (fit === null) return refuse(knownLengthsProblem(known) ?? 'These lengths give no scale.');
    if (!(fit.mmPerPixel > 0 && fit.mmPerPixel <= 1e6)) return refuse('These lengths give no usable scale.');
    patch(draft, 'underlays', id, { known, mmPerPixel: fit.mmPerPixel });
    if (fit.single) step.note('Only one known length: mark a second, at right angles, to check it.');
    const factor = fit.mmPerPixel / now.mmPerPixel;
    if (now.known.length > 0 || !isTraced(doc, now.storey) || factor === 1) return;
    if (rows(doc.underlays).some((u) => u.id !== id && u.storey === now.storey && u.known.length > 0)) return;
    const point = (p: PlanPoint) => ({
      x: now.x + (p.x - now.x) * factor,
      y: now.y + (p.y - now.y) * factor,
    });
    if (rows(doc.nodes).some((n) => n.storey === now.storey && !sound(point(n).x, point(n).y)))
      return refuse('What is traced would become too large.');
    mapPlan(draft, doc, { storeys: new Set([now.storey]), point, factor });
    step.note('What was already traced on this storey was scaled with the picture.');
  });
}

function isTraced(doc: PlanDocument, storey: Id): boolean {
  return (
    rows(doc.nodes).some((n) => n.storey === storey) ||
    rows(doc.roomTags).some((t) => t.storey === storey) ||
    rows(doc.points).some((p) => p.place.on !== 'face' && p.place.storey === storey)
  );
}

/** Takes a picture away. What was traced over it stays. */
export function removeUnderlay(id: Id): Command {
  return command('Remove picture', (draft, step) => {
    if (!step.doc.underlays.byId[id]) return refuse('That picture is no longer in the plan.');
    drop(draft, 'underlays', id);
  });
}

import type { Id, KnownLength, PlanDocument, Tracing } from '../../engine/model/document.ts';
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
export type NewTracing = Pick<Tracing, 'storey' | 'name' | 'mediaType' | 'asset' | 'width' | 'height'> &
  Partial<Omit<Tracing, 'id'>>;

/** Lays a picture under a storey. Its bytes are kept apart, by their SHA-256. */
export function addTracing(fields: NewTracing): Command {
  return command('Add tracing', (draft, step) => {
    if (!step.doc.storeys.byId[fields.storey]) return refuse('That storey is no longer in the plan.');
    if (!(fields.width >= 1 && fields.height >= 1)) return refuse('The picture is empty.');
    const id = nextId(draft, 'tracings');
    put(draft, 'tracings', {
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

/** Moves, turns, dims, hides, locks or renames a tracing. A locked one is not moved or turned. */
export function editTracing(
  id: Id,
  fields: Partial<
    Pick<Tracing, 'name' | 'x' | 'y' | 'rotation' | 'opacity' | 'locked' | 'visible' | 'storey'>
  >,
): Command {
  const moves = fields.x !== undefined || fields.y !== undefined || fields.rotation !== undefined;
  const name = moves ? 'Move tracing' : fields.opacity !== undefined ? 'Dim tracing' : 'Edit tracing';
  return command(name, (draft, step) => {
    const now = step.doc.tracings.byId[id];
    if (!now) return refuse('That tracing is no longer in the plan.');
    if (moves && now.locked && fields.locked !== false)
      return refuse('The tracing is locked: unlock it first.');
    const next = { ...now, ...fields };
    if (!sound(next.x, next.y, next.rotation)) return refuse('That spot is not on the plan.');
    if (!(next.opacity >= 0 && next.opacity <= 1)) return refuse('Opacity is between 0 and 1.');
    if (!step.doc.storeys.byId[next.storey]) return refuse('That storey is no longer in the plan.');
    patch(draft, 'tracings', id, { ...fields, rotation: inTurn(next.rotation) });
  });
}

/** Turns a tracing by an angle (radians, clockwise on screen) about a spot of the plan. */
export function turnTracing(id: Id, by: Radians, about: PlanPoint): Command {
  return command('Turn tracing', (draft, step) => {
    const now = step.doc.tracings.byId[id];
    if (!now) return refuse('That tracing is no longer in the plan.');
    if (now.locked) return refuse('The tracing is locked: unlock it first.');
    if (!sound(by, about.x, about.y)) return refuse('That angle or spot cannot be used.');
    patch(draft, 'tracings', id, turnedAbout(now, by, about));
  });
}

/** Turns a tracing about `a` so that the line from a to b, which lies a little askew, is level or plumb. */
export function straightenTracing(id: Id, a: PlanPoint, b: PlanPoint): Command {
  return command('Straighten tracing', (draft, step) => {
    const now = step.doc.tracings.byId[id];
    if (!now) return refuse('That tracing is no longer in the plan.');
    if (now.locked) return refuse('The tracing is locked: unlock it first.');
    if (!sound(a.x, a.y, b.x, b.y) || distance(a, b) < 1)
      return refuse('Draw the line from one spot to another.');
    const angle = Math.atan2(b.y - a.y, b.x - a.x);
    const quarter = Math.PI / 2;
    patch(draft, 'tracings', id, turnedAbout(now, Math.round(angle / quarter) * quarter - angle, a));
  });
}

function turnedAbout(u: Tracing, by: Radians, about: PlanPoint): Pick<Tracing, 'x' | 'y' | 'rotation'> {
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
 * Marks the known lengths of a tracing and sets its scale by them. When it had none before and no other picture of the
 * storey has one, what is traced on the storey was drawn to a guess: it is scaled with the picture, about its corner.
 */
export function setKnownLengths(id: Id, known: readonly KnownLength[]): Command {
  return command('Set scale', (draft, step) => {
    const { doc } = step;
    const now = doc.tracings.byId[id];
    if (!now) return refuse('That tracing is no longer in the plan.');
    if (known.length === 0) {
      patch(draft, 'tracings', id, { known });
      if (now.known.length > 0)
        step.note('The scale is a guess again: metres are not given until a length is known.');
      return;
    }
    const fit = fitScale(known);
    if (fit === null) return refuse(knownLengthsProblem(known) ?? 'These lengths give no scale.');
    if (!(fit.mmPerPixel > 0 && fit.mmPerPixel <= 1e6)) return refuse('These lengths give no usable scale.');
    patch(draft, 'tracings', id, { known, mmPerPixel: fit.mmPerPixel });
    if (fit.single) step.note('Only one known length: mark a second, at right angles, to check it.');
    const factor = fit.mmPerPixel / now.mmPerPixel;
    if (now.known.length > 0 || !isTraced(doc, now.storey) || factor === 1) return;
    if (rows(doc.tracings).some((u) => u.id !== id && u.storey === now.storey && u.known.length > 0)) return;
    const point = (p: PlanPoint) => ({
      x: now.x + (p.x - now.x) * factor,
      y: now.y + (p.y - now.y) * factor,
    });
    if (rows(doc.nodes).some((n) => n.storey === now.storey && !sound(point(n).x, point(n).y)))
      return refuse('What is traced would become too large.');
    mapPlan(draft, doc, { storeys: new Set([now.storey]), point, factor });
    step.note('What was already traced on this storey was scaled with the tracing.');
  });
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
    if (!step.doc.tracings.byId[id]) return refuse('That tracing is no longer in the plan.');
    drop(draft, 'tracings', id);
  });
}

import type { Id, Opening, PlanDocument } from '../../engine/model/document.ts';
import { rows } from '../../engine/model/tables.ts';
import { command, drop, nextId, patch, put, refuse } from '../transact.ts';
import type { Command, Refusal } from '../types.ts';
import { sound, topAt, wallLength } from './plane.ts';

/** A door, window or plain opening in a wall. Refused where it would overlap another or leave the wall. */
export function addOpening(fields: Omit<Opening, 'id'>): Command {
  return command(`Add ${fields.kind}`, (draft, step) => {
    const wrong = openingRefusal(step.doc, fields, null);
    if (wrong) return wrong;
    const id = nextId(draft, 'openings');
    put(draft, 'openings', { ...fields, id });
    step.made(id);
  });
}

/** Moves, resizes or changes an opening: along the wall, its width, sill, head, kind, or to another wall. */
export function editOpening(id: Id, fields: Partial<Omit<Opening, 'id'>>): Command {
  return command(fields.width === undefined ? 'Move opening' : 'Resize opening', (draft, step) => {
    const now = step.doc.openings.byId[id];
    if (!now) return refuse('That opening is no longer in the plan.');
    const wrong = openingRefusal(step.doc, { ...now, ...fields }, id);
    if (wrong) return wrong;
    patch(draft, 'openings', id, fields);
  });
}

/** Closes openings up again. */
export function removeOpenings(ids: readonly Id[]): Command {
  return command(ids.length === 1 ? 'Remove opening' : 'Remove openings', (draft, step) => {
    if (ids.some((id) => !step.doc.openings.byId[id]))
      return refuse('That opening is no longer in the plan.');
    for (const id of ids) drop(draft, 'openings', id);
  });
}

/** Why an opening may not stand so, or null. `own` is its id when it is already in the plan. */
export function openingRefusal(doc: PlanDocument, o: Omit<Opening, 'id'>, own: Id | null): Refusal | null {
  const wall = doc.walls.byId[o.wall];
  if (!wall) return refuse('That wall is no longer in the plan.');
  if (!sound(o.along, o.width, o.sill, o.head)) return refuse('A size or position is not a usable length.');
  if (o.width <= 0 || o.head <= o.sill) return refuse('An opening must have a width and a height.');
  if (o.sill < 0) return refuse('A sill cannot be below the floor.');
  const length = wallLength(doc, o.wall);
  if (o.width > length + 0.5) return refuse(`The wall is only ${Math.round(length)} mm long.`);
  if (o.along < -0.5 || o.along + o.width > length + 0.5)
    return refuse('The opening would reach past the end of the wall.');
  if (o.head > Math.max(topAt(doc, wall, o.along), topAt(doc, wall, o.along + o.width)) + 0.5)
    return refuse('The opening would be higher than the wall.');
  const clash = rows(doc.openings).find(
    (b) =>
      b.id !== own &&
      b.wall === o.wall &&
      b.along < o.along + o.width - 0.5 &&
      o.along < b.along + b.width - 0.5 &&
      b.sill < o.head &&
      o.sill < b.head,
  );
  return clash ? refuse(`It would overlap the ${clash.kind} already in this wall.`) : null;
}

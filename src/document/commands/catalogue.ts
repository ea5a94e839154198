import type { Box, Cable, Id } from '../../engine/model/document.ts';
import { rows } from '../../engine/model/tables.ts';
import { command, drop, nextId, patch, put, refuse } from '../transact.ts';
import type { Command, Refusal } from '../types.ts';

/** A new cable type in the catalogue. */
export function addCable(fields: Omit<Cable, 'id'>): Command {
  return command('Add cable', (draft, step) => {
    const wrong = cableRefusal(fields);
    if (wrong) return wrong;
    const id = nextId(draft, 'cables');
    put(draft, 'cables', { ...fields, id });
    step.made(id);
  });
}

/** Changes a cable type: sizes, drums and prices, lengths already owned. */
export function editCable(id: Id, fields: Partial<Omit<Cable, 'id'>>): Command {
  return command('Edit cable', (draft, step) => {
    const now = step.doc.cables.byId[id];
    if (!now) return refuse('That cable is no longer in the catalogue.');
    const wrong = cableRefusal({ ...now, ...fields });
    if (wrong) return wrong;
    patch(draft, 'cables', id, fields);
  });
}

/** Takes a cable out of the catalogue. Refused while a circuit or run uses it. */
export function removeCable(id: Id): Command {
  return command('Remove cable', (draft, step) => {
    const { doc } = step;
    const cable = doc.cables.byId[id];
    if (!cable) return refuse('That cable is no longer in the catalogue.');
    const users = [
      ...rows(doc.circuits).filter((c) => c.cable === id || c.cable3 === id),
      ...rows(doc.runs).filter((r) => r.cable === id),
    ].map((r) => r.label);
    if (users.length > 0) return refuse(`${cable.name} is used by ${listed(users)}.`);
    drop(draft, 'cables', id);
  });
}

/** A new back box in the catalogue. */
export function addBox(fields: Omit<Box, 'id'>): Command {
  return command('Add box', (draft, step) => {
    const wrong = boxRefusal(fields);
    if (wrong) return wrong;
    const id = nextId(draft, 'boxes');
    put(draft, 'boxes', { ...fields, id });
    step.made(id);
  });
}

/** Changes a back box. */
export function editBox(id: Id, fields: Partial<Omit<Box, 'id'>>): Command {
  return command('Edit box', (draft, step) => {
    const now = step.doc.boxes.byId[id];
    if (!now) return refuse('That box is no longer in the catalogue.');
    const wrong = boxRefusal({ ...now, ...fields });
    if (wrong) return wrong;
    patch(draft, 'boxes', id, fields);
  });
}

/** Takes a back box out of the catalogue. Refused while a point has it. */
export function removeBox(id: Id): Command {
  return command('Remove box', (draft, step) => {
    const { doc } = step;
    const box = doc.boxes.byId[id];
    if (!box) return refuse('That box is no longer in the catalogue.');
    const users = rows(doc.points)
      .filter((p) => p.box?.box === id)
      .map((p) => p.label);
    if (users.length > 0) return refuse(`${box.name} is used by ${listed(users)}.`);
    drop(draft, 'boxes', id);
  });
}

/** A few names in a sentence, and how many more. */
export function listed(names: readonly string[], most = 8): string {
  const more = names.length - most;
  return more > 0 ? `${names.slice(0, most).join(', ')} and ${more} more` : names.join(', ');
}

const positive = (v: number): boolean => Number.isFinite(v) && v > 0 && v <= 1e7;

function cableRefusal(c: Omit<Cable, 'id'>): Refusal | null {
  if (!Number.isInteger(c.cores) || c.cores < 1 || c.cores > 1000)
    return refuse('A cable has at least one core.');
  if (!positive(c.csa) || !(c.cpc >= 0 && c.cpc <= 1e7))
    return refuse('Conductor sizes are more than 0 mm².');
  if (!positive(c.width) || !positive(c.height)) return refuse('A cable is wider and higher than 0 mm.');
  if (c.drums.some((d) => !positive(d.length) || (d.price !== null && !(d.price >= 0 && d.price <= 1e7))))
    return refuse('A drum has a length above 0 m, and a price of 0 or more or none.');
  if (c.remnants.some((r) => !positive(r))) return refuse('A length already owned is more than 0 m.');
  return null;
}

function boxRefusal(b: Omit<Box, 'id'>): Refusal | null {
  return positive(b.depth) ? null : refuse('A box is deeper than 0 mm.');
}

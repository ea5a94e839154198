import type { BuildUp, Id } from '../../engine/model/document.ts';
import { rows } from '../../engine/model/tables.ts';
import { command, drop, nextId, patch, put, refuse } from '../transact.ts';
import type { Command, Refusal } from '../types.ts';

/** A new wall build-up. Its layers run from the left side of the wall to the right. */
export function addBuildUp(fields: Omit<BuildUp, 'id'>): Command {
  return command('Add build-up', (draft, step) => {
    const wrong = unsound(fields);
    if (wrong) return wrong;
    const id = nextId(draft, 'buildUps');
    put(draft, 'buildUps', { ...fields, id });
    step.made(id);
  });
}

/** Changes a build-up, and with it every wall made of it. */
export function editBuildUp(id: Id, fields: Partial<Omit<BuildUp, 'id'>>): Command {
  return command('Edit build-up', (draft, step) => {
    const now = step.doc.buildUps.byId[id];
    if (!now) return refuse('That build-up is no longer in the list.');
    const wrong = unsound({ ...now, ...fields });
    if (wrong) return wrong;
    patch(draft, 'buildUps', id, fields);
  });
}

/** Takes a build-up out of the list. Refused while a wall is made of it. */
export function removeBuildUp(id: Id): Command {
  return command('Remove build-up', (draft, step) => {
    if (!step.doc.buildUps.byId[id]) return refuse('That build-up is no longer in the list.');
    const users = rows(step.doc.walls).filter((w) => w.buildUp === id).length;
    if (users > 0)
      return refuse(`${users === 1 ? 'One wall is' : `${users} walls are`} made of this build-up.`);
    if (step.doc.buildUps.order.length === 1) return refuse('The list needs at least one build-up.');
    drop(draft, 'buildUps', id);
  });
}

function unsound(b: Omit<BuildUp, 'id'>): Refusal | null {
  if (b.layers.length === 0) return refuse('A build-up needs at least one layer.');
  if (b.layers.some((l) => !Number.isFinite(l.thickness) || l.thickness <= 0 || l.thickness > 2000))
    return refuse('Each layer must be more than 0 and at most 2000 mm thick.');
  const held = (n: number) => Number.isInteger(n) && n >= 0 && n < b.layers.length;
  if (!held(b.cableLayer.left) || !held(b.cableLayer.right))
    return refuse('The layer that holds the cables must be one of the layers.');
  return null;
}

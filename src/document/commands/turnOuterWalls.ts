import { current } from 'immer';
import type { Id, PlanDocument } from '../../engine/model/document.ts';
import type { PlanDraft, Step } from '../transact.ts';
import { patch } from '../transact.ts';
import { turnedOut } from './insideOut.ts';

/** Turns outer walls round whose weather side looks into a room that the command has closed, and says so. */
export function turnOuterWalls(draft: PlanDraft, step: Step, storey: Id): void {
  const turned = turnedOut(step.doc, current(draft) as PlanDocument, storey);
  for (const id of turned) patch(draft, 'walls', id, { flipped: !draft.walls.byId[id]?.flipped });
  if (turned.length > 0)
    step.note(
      turned.length === 1
        ? 'Room closed. One outer wall was turned round, so that its inside faces the room.'
        : `Room closed. ${turned.length} outer walls were turned round, so that their inside faces the room.`,
    );
}

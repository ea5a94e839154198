import { removeCircuits } from '../document/commands/circuits.ts';
import { editJob } from '../document/commands/job.ts';
import { removeOpenings } from '../document/commands/openings.ts';
import { removePoints } from '../document/commands/points.ts';
import { removeRoomTags, removeThings } from '../document/commands/rooms.ts';
import { removeCorner } from '../document/commands/runCorners.ts';
import { removeRuns } from '../document/commands/runs.ts';
import { removeUnderlay } from '../document/commands/underlays.ts';
import { removeWalls } from '../document/commands/walls.ts';
import { refuse, together } from '../document/transact.ts';
import type { Command } from '../document/types.ts';
import type { Id, TableName } from '../engine/model/document.ts';
import type { Ref } from '../tools/types.ts';

/** Gives the plan another title. */
export function renameJob(title: string): Command {
  return editJob({ title });
}

/**
 * Removes what is selected in one step of undo: runs before points, points before walls, so that nothing refuses for the
 * sake of something that goes as well. A corner of a run is taken out of it; a wall's corner alone cannot go.
 */
export function deleteSelection(refs: readonly Ref[]): Command {
  const ids = (table: TableName): Id[] => [
    ...new Set(refs.filter((ref) => ref.table === table && ref.part === null).map((ref) => ref.id)),
  ];
  const only = refs.length === 1 ? refs[0] : undefined;
  if (only?.table === 'runs' && only.part?.startsWith('corner:'))
    return removeCorner(only.id, Number(only.part.slice('corner:'.length)));
  const runs = [...new Set(refs.filter((ref) => ref.table === 'runs').map((ref) => ref.id))];
  const steps: Command[] = [];
  const step = (some: readonly Id[], make: (ids: readonly Id[]) => Command): void => {
    if (some.length > 0) steps.push(make(some));
  };
  step(runs, removeRuns);
  step(ids('points'), removePoints);
  step(ids('circuits'), removeCircuits);
  step(ids('things'), removeThings);
  step(ids('roomTags'), removeRoomTags);
  // Openings of walls that go go with them.
  const walls = ids('walls');
  step(ids('openings'), removeOpenings);
  step(walls, (some) => removeWalls(some));
  steps.push(...ids('underlays').map((id) => removeUnderlay(id)));
  const [first] = steps;
  if (!first)
    return {
      name: 'Remove',
      apply: () => refuse('This cannot be removed by itself: remove the walls that meet here.'),
    };
  return steps.length === 1 ? first : together('Remove', steps);
}

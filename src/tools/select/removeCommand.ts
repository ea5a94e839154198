import { removeCircuits } from '../../document/commands/circuits.ts';
import { removeOpenings } from '../../document/commands/openings.ts';
import { removePoints } from '../../document/commands/points.ts';
import { removeRoomTags, removeThings } from '../../document/commands/rooms.ts';
import { removeRuns } from '../../document/commands/runs.ts';
import { removeTracing } from '../../document/commands/tracings.ts';
import { removeWalls } from '../../document/commands/walls.ts';
import { together } from '../../document/transact.ts';
import type { Command } from '../../document/types.ts';
import type { Ref } from '../types.ts';

/**
 * One command that takes the selected records out, or null when none of them can be. Order matters: runs before the
 * points they end on, openings before their walls. `withContents`: walls go with what is on them.
 */
export function removeCommand(selection: readonly Ref[], withContents: boolean): Command | null {
  const ids = (table: Ref['table']) => [
    ...new Set(selection.filter((r) => r.table === table).map((r) => r.id)),
  ];
  const parts: Command[] = [];
  const add = (table: Ref['table'], make: (ids: string[]) => Command) => {
    const own = ids(table);
    if (own.length > 0) parts.push(make(own));
  };
  add('runs', removeRuns);
  add('points', removePoints);
  add('openings', removeOpenings);
  add('circuits', removeCircuits);
  add('things', removeThings);
  add('roomTags', removeRoomTags);
  add('walls', (walls) => removeWalls(walls, withContents));
  for (const id of ids('tracings')) parts.push(removeTracing(id));
  const [only] = parts;
  if (!only) return null;
  return parts.length === 1 ? only : together('Remove', parts);
}

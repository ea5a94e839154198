import { removeCorner } from '../document/commands/runCorners.ts';
import { refuse } from '../document/transact.ts';
import type { Command } from '../document/types.ts';
import { removeCommand } from '../tools/select/removeCommand.ts';
import type { Ref } from '../tools/types.ts';

/** Removes what is selected, as the select tool does; a picked corner of a run is taken out of it. Refuses with a reason. */
export function deleteSelection(refs: readonly Ref[]): Command {
  const only = refs.length === 1 ? refs[0] : undefined;
  if (only?.table === 'runs' && only.part?.startsWith('corner:'))
    return removeCorner(only.id, Number(only.part.slice('corner:'.length)));
  return (
    removeCommand(refs, false) ?? {
      name: 'Remove',
      apply: () => refuse('This cannot be removed by itself: remove the walls that meet here.'),
    }
  );
}

import type { App } from '../tools/app.ts';
import { perform } from './program.ts';

/** Removes what is selected. What does so is fetched when it is first asked for. */
export async function removeSelected(program: App): Promise<void> {
  const { selection } = program.session.getState();
  if (selection.length === 0) return;
  const { deleteSelection } = await import('./edits.ts');
  if (perform(program, deleteSelection(selection)).ok) program.session.set({ selection: [] });
}

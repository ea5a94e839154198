import type { Refusal, Done, Command } from '../document/types.ts';
import type { App } from '../tools/app.ts';
import type { LateDrawings } from './drawings/late.ts';
import type { Question } from './question.ts';
import type { Ref } from '../tools/types.ts';
import type { DeriveClient } from '../workers/deriveClient.ts';
import type { KeptPlans } from './keptPlans.ts';
import type { Files, Saving } from './types.ts';
import type { Update } from './update.ts';
import type { PictureWork } from '../workers/pictureClient.ts';
import type { Suggestions } from './suggest/suggestions.ts';

/** The app with what only the panels need. */
export interface Program extends App {
  /** Whether what was derived is of the plan as it is. */
  readonly checking: DeriveClient;
  readonly files: Files;
  readonly drawings: LateDrawings;
  readonly saving: Saving;
  readonly update: Update;
  readonly keptPlans: KeptPlans;
  readonly leaving: Question;
  readonly suggestions: Suggestions;
  /** Straightening, finding of a sheet's corners and of walls, off the page's own thread. */
  readonly pictures: PictureWork;
  /** Today as YYYY-MM-DD. */
  readonly today: () => string;
  /** True while a sample is open that nobody has changed: the strip offers a plan of one's own. */
  readonly isSample: () => boolean;
}

/** Says one line to the person, and to screen readers. */
export function say(program: App, text: string, tone: 'plain' | 'bad' | 'good' = 'plain'): void {
  program.session.set({ notice: { text, tone, at: Date.now() } });
}

/** Does a command from a panel; a refusal is said and given back. */
export function perform(program: App, command: Command): Done | Refusal {
  const outcome = program.store.dispatch(command);
  if (!outcome.ok) say(program, outcome.reason, 'bad');
  else if (outcome.note !== null) say(program, outcome.note);
  return outcome;
}

/** Selects one record, as a click on it would. */
export function pick(program: App, table: Ref['table'], id: string): void {
  program.session.set({ selection: [{ table, id, part: null }] });
}

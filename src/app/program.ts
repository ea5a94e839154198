import type { Refusal, Done, Command } from '../document/types.ts';
import type { PlanDocument } from '../engine/model/document.ts';
import type { App } from '../tools/app.ts';
import type { Question } from './question.ts';
import type { Ref } from '../tools/types.ts';
import type { DeriveClient } from '../workers/deriveClient.ts';
import type { KeptPlans } from './keptPlans.ts';
import type { Update } from './update.ts';
import type { Suggestions } from './suggest/suggestions.ts';

/** Whether the plan is on this device's disk. */
export interface SaveState {
  readonly state: 'saved' | 'saving' | 'not-saved' | 'read-only' | 'none';
  readonly text: string;
}

export interface SampleInfo {
  readonly file: string;
  readonly title: string;
  readonly about: string;
}

/** What the shell can do with whole files. Each answers a located problem as text, or null when it is done. */
export interface Files {
  newPlan(): Promise<string | null>;
  open(file: File): Promise<string | null>;
  /** Opens a plan kept on this device. Nothing is asked: the open one is, or will be, in the same list. */
  openKept(doc: PlanDocument): void;
  saveCopy(): Promise<string | null>;
  openSample(sample: SampleInfo): Promise<string | null>;
  addPicture(file: File): Promise<string | null>;
  readonly samples: readonly SampleInfo[];
}

export interface Saving {
  get(): SaveState;
  subscribe(listener: () => void): () => void;
  /** Writes here from now on, where another tab holds the plan. */
  takeOver(): void;
  /** A kept plan of a newer version, which is left alone: its text, to be saved as a file. */
  readonly newer: string | null;
}

/** The app with what only the panels need. */
export interface Program extends App {
  /** Whether what was derived is of the plan as it is. */
  readonly checking: DeriveClient;
  readonly files: Files;
  readonly saving: Saving;
  readonly update: Update;
  readonly keptPlans: KeptPlans;
  readonly leaving: Question;
  readonly suggestions: Suggestions;
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

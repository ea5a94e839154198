import type { PlanDocument } from '../engine/model/document.ts';

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

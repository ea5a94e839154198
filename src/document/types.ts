import type { Id, PlanDocument, TableName } from '../engine/model/document.ts';
import type { Touched } from '../engine/derive/types.ts';

/** Why a command may not be done: shown to the person as it is. */
export interface Refusal {
  readonly ok: false;
  readonly reason: string;
}

/** What a command makes of a document. `made` are the ids of new records, for selecting them. */
export interface Done {
  readonly ok: true;
  readonly doc: PlanDocument;
  readonly made: readonly Id[];
  /** One plain sentence worth telling, or null. */
  readonly note: string | null;
}

/** "May I?" and "do it" in one pure function: no clock, no randomness, the given document untouched. */
export interface Command {
  /** Shown behind Undo: "Move socket". */
  readonly name: string;
  readonly apply: (doc: PlanDocument) => Done | Refusal;
}

/** Before and after of what a transaction touched, by reference. Undo puts back `before`, redo `after`. */
export interface Change {
  readonly name: string;
  readonly job: { readonly before: PlanDocument['job']; readonly after: PlanDocument['job'] } | null;
  readonly counters: {
    readonly before: PlanDocument['counters'];
    readonly after: PlanDocument['counters'];
  } | null;
  readonly tables: readonly TableChange[];
}

export interface TableChange {
  readonly table: TableName;
  readonly orderBefore: readonly Id[];
  readonly orderAfter: readonly Id[];
  /** undefined where the record does not exist on that side. */
  readonly records: readonly { readonly id: Id; readonly before: unknown; readonly after: unknown }[];
}

export interface DocumentState {
  readonly doc: PlanDocument;
  /** Goes up by one with each change, undo and redo. */
  readonly rev: number;
  readonly canUndo: string | null;
  readonly canRedo: string | null;
}

/** How a change came about. */
export type Cause = 'dispatch' | 'amend' | 'undo' | 'redo' | 'replace';

/** The open plan. Subscribers hear of each change once, with what was touched. */
export interface DocumentStore {
  getState(): DocumentState;
  /** Does a command; a refusal changes nothing. */
  dispatch(command: Command): Done | Refusal;
  /**
   * Does a command as part of the last change, so that one undo takes both back. Refused when something else has
   * happened since revision `rev`.
   */
  amend(command: Command, rev: number): Done | Refusal;
  undo(): void;
  redo(): void;
  /** Opens another document: history starts afresh. */
  replace(doc: PlanDocument): void;
  subscribe(
    listener: (state: DocumentState, touched: Touched | 'all', change: Change | null, cause: Cause) => void,
  ): () => void;
}

/** A located error of a file: path as in `runs.r12.corners[3].z`, line where the text itself is broken. */
export interface FileProblem {
  readonly path: string;
  readonly line: number | null;
  readonly message: string;
}

export type Decoded =
  | {
      readonly ok: true;
      readonly doc: PlanDocument;
      readonly assets: ReadonlyMap<string, Uint8Array>;
      /** One sentence when something of the file had to be changed to be read; else null. */
      readonly said: string | null;
    }
  | { readonly ok: false; readonly problem: FileProblem };

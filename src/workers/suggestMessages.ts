import type { Change } from '../document/types.ts';
import type { Id } from '../engine/model/document.ts';
import type { Mm } from '../engine/model/units.ts';
import type { WayCompared } from '../engine/routing/compare.ts';
import type { Followed } from '../engine/routing/follow.ts';
import type { Route, CircuitPlan, Replaces } from '../engine/routing/types.ts';
import type { DrumChange } from '../engine/takeoff/sensitivity.ts';

/** What the page asks the worker that looks for ways. One question at a time; to cancel, the worker is ended. */
export type Question =
  | { readonly kind: 'run'; readonly from: Id; readonly to: Id; readonly circuit: Id | null }
  | { readonly kind: 'compare'; readonly circuit: Id; readonly replaces: Replaces }
  /** Null: every circuit that has points and no run. */
  | { readonly kind: 'circuits'; readonly circuits: readonly Id[] | null }
  /** `was`: metres of each run before the change, mm, as far as they are known. */
  | { readonly kind: 'follow'; readonly runs: readonly Id[]; readonly was: Readonly<Record<Id, Mm>> }
  | { readonly kind: 'sensitivity' };

/** The worker keeps a copy of the plan: pieces bring it up to date, then comes the question. */
export type ToSuggester = { readonly kind: 'part'; readonly change: Change } | Question;

/** What each question is answered with. */
export interface Answers {
  readonly run: Route;
  readonly compare: readonly WayCompared[];
  readonly circuits: readonly CircuitPlan[];
  readonly follow: Followed;
  readonly sensitivity: readonly DrumChange[];
}

export type FromSuggester =
  | { readonly kind: 'progress'; readonly done: number; readonly total: number; readonly what: string }
  | { readonly kind: 'answer'; readonly answer: Answers[keyof Answers] }
  | { readonly kind: 'failed'; readonly message: string };

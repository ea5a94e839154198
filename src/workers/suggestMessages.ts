import type { CircuitPlan } from '../engine/routing/circuitPlan.ts';
import type { WayCompared } from '../engine/routing/compare.ts';
import type { Followed } from '../engine/routing/follow.ts';
import type { Route } from '../engine/routing/types.ts';
import type { Id, PlanDocument } from '../engine/model/document.ts';

/** What the page asks the worker that looks for ways. One question at a time; to cancel, the worker is ended. */
export type ToSuggester =
  | {
      readonly kind: 'run';
      readonly doc: PlanDocument;
      readonly from: Id;
      readonly to: Id;
      readonly circuit: Id | null;
    }
  | { readonly kind: 'compare'; readonly doc: PlanDocument; readonly circuit: Id }
  | { readonly kind: 'circuits'; readonly doc: PlanDocument; readonly circuits: readonly Id[] | null }
  | {
      readonly kind: 'follow';
      readonly before: PlanDocument;
      readonly doc: PlanDocument;
      readonly runs: readonly Id[];
    };

/** What each question is answered with. */
export interface Answers {
  readonly run: Route;
  readonly compare: readonly WayCompared[];
  readonly circuits: readonly CircuitPlan[];
  readonly follow: Followed;
}

export type FromSuggester =
  | { readonly kind: 'progress'; readonly done: number; readonly total: number; readonly what: string }
  | { readonly kind: 'answer'; readonly answer: Answers[keyof Answers] }
  | { readonly kind: 'failed'; readonly message: string };

import type { Change } from '../document/types.ts';
import type { SubjectKind } from '../engine/checks/rule.ts';
import type { Delta } from '../engine/derive/delta.ts';
import type { Id, PlanDocument } from '../engine/model/document.ts';

/**
 * What the page tells the worker that derives: a plan to begin with, then each change of it, in order. `careful`: each
 * part of the plan is named before it is worked on, so that the one a check hangs at is known; else one now and then.
 */
export type ToDeriver =
  | { readonly kind: 'open'; readonly rev: number; readonly doc: PlanDocument; readonly careful: boolean }
  | { readonly kind: 'change'; readonly rev: number; readonly change: Change };

/** A part of the plan, by the table or the face it stands for. */
export interface PlanPart {
  readonly kind: SubjectKind;
  readonly id: Id;
}

/**
 * What the worker answers. Deltas come in the order of the changes; several changes may be answered as one. `summed`: the
 * sums over the whole plan are those of this revision too.
 */
export type FromDeriver =
  | { readonly kind: 'delta'; readonly rev: number; readonly delta: Delta; readonly summed: boolean }
  | {
      readonly kind: 'at';
      readonly rev: number;
      readonly part: PlanPart;
      readonly done: number;
      readonly total: number;
    }
  | {
      readonly kind: 'failed';
      readonly rev: number;
      readonly message: string;
      readonly part: PlanPart | null;
    };

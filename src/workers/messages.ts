import type { Change } from '../document/types.ts';
import type { Delta } from '../engine/derive/delta.ts';
import type { PlanDocument } from '../engine/model/document.ts';

/** What the page tells the worker that derives: a plan to begin with, then each change of it, in order. */
export type ToDeriver =
  | { readonly kind: 'open'; readonly rev: number; readonly doc: PlanDocument }
  | { readonly kind: 'change'; readonly rev: number; readonly change: Change };

/** What the worker answers. Deltas come in the order of the changes; several changes may be answered as one. */
export type FromDeriver =
  | { readonly kind: 'delta'; readonly rev: number; readonly delta: Delta }
  | { readonly kind: 'failed'; readonly rev: number; readonly message: string };

import type { PlanPart } from './messages.ts';

/** Where a check under way is; null until the worker has said so. */
export interface CheckProgress {
  readonly part: PlanPart;
  readonly done: number;
  readonly total: number;
}

/**
 * Whether what is shown is of the plan as it is. `checking`: not yet, and `long` says whether to show how far it is or to
 * offer to go on without. `stopped`: it will not be, until something changes or the person asks again.
 */
export type CheckState =
  | { readonly state: 'done' }
  | {
      readonly state: 'checking';
      readonly long: 'no' | 'show' | 'offer';
      readonly progress: CheckProgress | null;
      /** The worker was started anew: what it was at when it died or hung. */
      readonly again: PlanPart | 'anew' | null;
    }
  | {
      readonly state: 'stopped';
      /** It failed on the plan, would not come to an end, could not be started, or the person ended it. */
      readonly why: 'failed' | 'hung' | 'not-started' | 'asked';
      readonly part: PlanPart | null;
      readonly message: string;
    };

export const DONE: CheckState = { state: 'done' };
export const JUST_BEGUN: Extract<CheckState, { state: 'checking' }> = {
  state: 'checking',
  long: 'no',
  progress: null,
  again: null,
};

/** ms: until it is shown how far a check is, until going on without is offered, and without a sign until it hangs. */
export const PATIENCE = { show: 5000, offer: 20_000, hung: 30_000 } as const;

/** ms until a worker that could not be started is tried again, each time. */
export const START_AGAIN = [1000, 4000, 15_000] as const;

import type { DocumentStore } from '../document/types.ts';
import type { Kept, Plans } from '../io/storage/plans.ts';
import { planPicture } from './planPicture.ts';

/** ms of rest before changes go into the list of plans. */
const KEEP_AFTER = 1000;

/** The plan of the list that is open. */
export interface OpenPlan {
  id(): string;
  /** The next plan the store is given is this one of the list, not a new one. */
  next(id: string): void;
}

const newId = (): string => crypto.randomUUID();

/** The start of today where the person is, ms since 1970. */
export function midnightOf(now: Date): number {
  return new Date(now.getFullYear(), now.getMonth(), now.getDate()).getTime();
}

/**
 * Puts every change of a store into the list of plans, from the first on: what was merely opened is not listed. The list
 * is no part of keeping the plan; when the device refuses, later changes are tried again.
 */
export function keepPlans(
  store: DocumentStore,
  plans: Plans,
  start: string | null,
  mayWrite: () => boolean,
): OpenPlan {
  let id = start ?? newId();
  let after: string | null = null;
  let waiting: Kept[] = [];
  let timer: ReturnType<typeof setTimeout> | null = null;
  const write = async (): Promise<void> => {
    timer = null;
    const now = waiting;
    waiting = [];
    await plans.keep(now).catch(() => undefined);
  };
  store.subscribe((state, _touched, change) => {
    if (!mayWrite()) return;
    if (change === null) {
      id = after ?? newId();
      after = null;
      return;
    }
    const at = new Date();
    waiting.push({
      id,
      doc: state.doc,
      change,
      picture: '',
      at: at.getTime(),
      midnight: midnightOf(at),
    });
    timer ??= setTimeout(() => {
      const last = waiting.at(-1);
      // Drawn once for all that waits: only the last picture is seen.
      if (last) waiting[waiting.length - 1] = { ...last, picture: planPicture(last.doc) };
      void write();
    }, KEEP_AFTER);
  });
  return {
    id: () => id,
    next: (wanted) => (after = wanted),
  };
}

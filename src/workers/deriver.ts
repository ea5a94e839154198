import { applyChange, touchedBy } from '../document/change.ts';
import type { PlanDocument } from '../engine/model/document.ts';
import { sumsOnly, wholeDelta, type Delta } from '../engine/derive/delta.ts';
import { deriveAll } from '../engine/derive/deriveAll.ts';
import { deriveChange } from '../engine/derive/deriveChange.ts';
import type { DerivedIndex } from '../engine/derive/derivedIndex.ts';
import type { Tell } from '../engine/derive/part.ts';
import type { FromDeriver, PlanPart, ToDeriver } from './messages.ts';

/** Keeps a copy of the plan and everything derived from it, fed by messages. */
export interface Deriver {
  /** Takes one message in and answers what it changes, without the sums over the whole plan. */
  take(message: ToDeriver): FromDeriver;
  /** The sums, if any change came since they were last given; else null. O(runs), so for when nothing waits. */
  sums(): FromDeriver | null;
}

/** How often the page is told where the work is, ms; it costs the page a little each time. */
const TELL_EVERY = 100;

/**
 * The worker's own part, apart from the worker so that it can be tested where it runs. A failure is answered, never
 * thrown; the next `open` starts afresh. `post` sends word of how far it is, while it works.
 */
export function createDeriver(
  post: (message: FromDeriver) => void = () => undefined,
  now: () => number = () => performance.now(),
): Deriver {
  let doc: PlanDocument | null = null;
  let index: DerivedIndex | null = null;
  let rev = 0;
  let owed = false;
  let careful = false;
  let part: PlanPart | null = null;

  /** Parts are told as they come; how many there will be is known for a whole plan only, roughly for a change. */
  function teller(of: PlanDocument): Tell {
    const total =
      of.storeys.order.length * 2 +
      of.runs.order.length * 2 +
      of.points.order.length +
      of.circuits.order.length +
      of.tracings.order.length;
    let done = 0;
    let told = now();
    return (kind, id) => {
      part = { kind, id };
      if (kind !== 'face') done = Math.min(total, done + 1);
      const at = now();
      if (!careful && at - told < TELL_EVERY) return;
      told = at;
      post({ kind: 'at', rev, part, done, total });
    };
  }

  function derive(message: ToDeriver): Delta {
    rev = message.rev;
    owed = true;
    part = null;
    if (message.kind === 'open') {
      ({ doc, careful } = message);
      index = deriveAll(doc, teller(doc));
      return wholeDelta(index);
    }
    if (!doc || !index) throw new Error('a change came before the plan it belongs to');
    doc = applyChange(doc, message.change, 'after');
    const { next, delta } = deriveChange(index, doc, touchedBy(message.change), teller(doc));
    index = next;
    return delta;
  }

  const failed = (error: unknown): FromDeriver => {
    index = null;
    owed = false;
    return { kind: 'failed', rev, part, message: error instanceof Error ? error.message : String(error) };
  };

  return {
    take(message) {
      try {
        return { kind: 'delta', rev: message.rev, delta: derive(message), summed: false };
      } catch (error) {
        return failed(error);
      }
    },
    sums() {
      if (!owed || !index) return null;
      owed = false;
      part = null;
      try {
        return { kind: 'delta', rev, delta: sumsOnly(index), summed: true };
      } catch (error) {
        return failed(error);
      }
    },
  };
}

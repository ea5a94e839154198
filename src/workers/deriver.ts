import { applyChange, touchedBy } from '../document/change.ts';
import type { PlanDocument } from '../engine/model/document.ts';
import { sumsOnly, wholeDelta, type Delta } from '../engine/derive/delta.ts';
import { deriveAll } from '../engine/derive/deriveAll.ts';
import { deriveChange } from '../engine/derive/deriveChange.ts';
import type { DerivedIndex } from '../engine/derive/derivedIndex.ts';
import type { FromDeriver, ToDeriver } from './messages.ts';

/** Keeps a copy of the plan and everything derived from it, fed by messages. */
export interface Deriver {
  /** Takes one message in and answers what it changes, without the sums over the whole plan. */
  take(message: ToDeriver): FromDeriver;
  /** The sums, if any change came since they were last given; else null. O(runs), so for when nothing waits. */
  sums(): FromDeriver | null;
}

/**
 * The worker's own part, apart from the worker so that it can be tested where it runs. A failure is answered, never
 * thrown; the next `open` starts afresh.
 */
export function createDeriver(): Deriver {
  let doc: PlanDocument | null = null;
  let index: DerivedIndex | null = null;
  let rev = 0;
  let owed = false;

  function derive(message: ToDeriver): Delta {
    rev = message.rev;
    owed = true;
    if (message.kind === 'open') {
      doc = message.doc;
      index = deriveAll(doc);
      return wholeDelta(index);
    }
    if (!doc || !index) throw new Error('a change came before the plan it belongs to');
    doc = applyChange(doc, message.change, 'after');
    const { next, delta } = deriveChange(index, doc, touchedBy(message.change));
    index = next;
    return delta;
  }

  const failed = (error: unknown): FromDeriver => {
    index = null;
    owed = false;
    return { kind: 'failed', rev, message: error instanceof Error ? error.message : String(error) };
  };

  return {
    take(message) {
      try {
        return { kind: 'delta', rev: message.rev, delta: derive(message) };
      } catch (error) {
        return failed(error);
      }
    },
    sums() {
      if (!owed || !index) return null;
      owed = false;
      try {
        return { kind: 'delta', rev, delta: sumsOnly(index) };
      } catch (error) {
        return failed(error);
      }
    },
  };
}

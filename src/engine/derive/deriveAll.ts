import type { PlanDocument } from '../model/document.ts';
import { DerivedIndex } from './derivedIndex.ts';
import { Ledger } from './ledger.ts';
import type { Tell } from './part.ts';
import { Patched } from './patched.ts';

/**
 * Everything derived from a document, from nothing. O(plan); `deriveChange` does the rest of the time. `tell` hears each
 * part of the plan before it is worked on.
 */
export function deriveAll(doc: PlanDocument, tell?: Tell): DerivedIndex {
  const ledger = new Ledger(doc, tell);
  const { fabrics, zones, runs, lengths, buckets } = ledger.takeNews();
  const parts = {
    doc,
    fabrics: present(fabrics),
    zones: Patched.over(present(zones)),
    runs: Patched.over(present(runs)),
    lengths: Patched.over(present(lengths)),
    buckets: Patched.over(present(buckets)),
  };
  return new DerivedIndex(parts, ledger);
}

function present<K, V>(news: ReadonlyMap<K, V | undefined>): Map<K, V> {
  const there = new Map<K, V>();
  for (const [key, value] of news) if (value !== undefined) there.set(key, value);
  return there;
}

import type { Fabric } from '../fabric/types.ts';
import type { Id, PlanDocument } from '../model/document.ts';
import { wholeDelta, type Changed, type Delta } from './delta.ts';
import { deriveAll } from './deriveAll.ts';
import { DerivedIndex } from './derivedIndex.ts';
import type { Tell } from './part.ts';
import type { Patched } from './patched.ts';
import type { Touched } from './types.ts';

/**
 * The index after a change of the document, and what changed. `touched` must name every record added, changed or
 * removed since `prev`. Exactly what read something that came out different is worked out again. `prev` stays good, but
 * what it was worked out of goes on with the new index: a second change of the same `prev` is worked out from nothing.
 * The outcome equals `deriveAll` of the new document.
 */
export function deriveChange(
  prev: DerivedIndex,
  doc: PlanDocument,
  touched: Touched | 'all',
  tell?: Tell,
): { readonly next: DerivedIndex; readonly delta: Delta } {
  const ledger = prev.followed;
  if (touched === 'all' || ledger === null) {
    const next = deriveAll(doc, tell);
    return { next, delta: wholeDelta(next) };
  }
  ledger.follow(doc, touched, tell);
  const news = ledger.takeNews();
  const { parts } = prev;
  const next = new DerivedIndex(
    {
      doc,
      fabrics: fabricsAfter(parts.fabrics, news.fabrics, doc),
      zones: after(parts.zones, news.zones),
      runs: after(parts.runs, news.runs),
      lengths: after(parts.lengths, news.lengths),
      buckets: after(parts.buckets, news.buckets),
    },
    ledger,
  );
  const delta: Delta = {
    whole: false,
    fabrics: changed(parts.fabrics, news.fabrics),
    zones: changed(parts.zones, news.zones),
    runs: changed(parts.runs, news.runs),
    buckets: changed(parts.buckets, news.buckets),
    takeOff: null,
    drums: null,
  };
  return { next, delta };
}

function after<K, V>(map: Patched<K, V>, news: ReadonlyMap<K, V | undefined>): Patched<K, V> {
  if (news.size === 0) return map;
  const next = map.copy();
  for (const [key, value] of news) {
    if (value === undefined) next.delete(key);
    else next.set(key, value);
  }
  return next;
}

/** In the order of the storeys, as they are from nothing. */
function fabricsAfter(
  before: ReadonlyMap<Id, Fabric>,
  news: ReadonlyMap<Id, Fabric | undefined>,
  doc: PlanDocument,
): ReadonlyMap<Id, Fabric> {
  return new Map(
    doc.storeys.order.flatMap((id): [Id, Fabric][] => {
      const fabric = news.has(id) ? news.get(id) : before.get(id);
      return fabric === undefined ? [] : [[id, fabric]];
    }),
  );
}

function changed<K, V>(before: ReadonlyMap<K, V>, news: ReadonlyMap<K, V | undefined>): Changed<K, V> {
  const set: [K, V][] = [];
  const gone: K[] = [];
  for (const [key, value] of news) {
    if (value !== undefined) set.push([key, value]);
    else if (before.has(key)) gone.push(key);
  }
  return { set, gone };
}

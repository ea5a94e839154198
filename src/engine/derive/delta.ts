import type { Finding } from '../checks/types.ts';
import type { Fabric, FaceId } from '../fabric/types.ts';
import type { Id } from '../model/document.ts';
import type { DrumPlan, TakeOff } from '../takeoff/types.ts';
import type { RunCheck, Zone } from '../zones/types.ts';
import { findingsInOrder, type BucketKey } from './buckets.ts';
import type { DerivedIndex } from './derivedIndex.ts';
import { Patched } from './patched.ts';
import type { Derived } from './types.ts';

/** Entries that are new or different, and keys that are gone. Plain data: it can be posted from a worker. */
export interface Changed<K, V> {
  readonly set: readonly (readonly [K, V])[];
  readonly gone: readonly K[];
}

/** What one change of the document changes in everything derived from it. */
export interface Delta {
  /** True when all was worked out afresh: then what is not in `set` is gone. */
  readonly whole: boolean;
  readonly fabrics: Changed<Id, Fabric>;
  readonly zones: Changed<FaceId, readonly Zone[]>;
  readonly runs: Changed<Id, RunCheck>;
  readonly buckets: Changed<BucketKey, readonly Finding[]>;
  /** Sums over the whole plan; null when they were not asked for (see `withSums`), then the old ones stand. */
  readonly takeOff: TakeOff | null;
  readonly drums: readonly DrumPlan[] | null;
}

/** Derived data as the page holds it: what the worker derived, kept up by deltas. */
export class DerivedView implements Derived {
  readonly fabrics: Patched<Id, Fabric>;
  readonly zones: Patched<FaceId, readonly Zone[]>;
  readonly runs: Patched<Id, RunCheck>;
  readonly buckets: Patched<BucketKey, readonly Finding[]>;
  readonly takeOff: TakeOff;
  readonly drums: readonly DrumPlan[];
  private allFindings: readonly Finding[] | null = null;

  constructor(parts: Omit<DerivedView, 'findings'>) {
    this.fabrics = parts.fabrics;
    this.zones = parts.zones;
    this.runs = parts.runs;
    this.buckets = parts.buckets;
    this.takeOff = parts.takeOff;
    this.drums = parts.drums;
  }

  get findings(): readonly Finding[] {
    this.allFindings ??= findingsInOrder(this.buckets);
    return this.allFindings;
  }
}

const none = <K, V>(): Patched<K, V> => Patched.over(new Map<K, V>());

/** Nothing derived yet: the page starts with it. */
export function emptyView(): DerivedView {
  return new DerivedView({
    fabrics: none(),
    zones: none(),
    runs: none(),
    buckets: none(),
    takeOff: { scale: { state: 'typed' }, runs: new Map(), cables: [], sundries: [] },
    drums: [],
  });
}

function patch<K, V>(map: Patched<K, V>, { set, gone }: Changed<K, V>, whole: boolean): Patched<K, V> {
  if (whole) return Patched.over(new Map(set));
  if (set.length === 0 && gone.length === 0) return map;
  const next = map.copy();
  for (const key of gone) next.delete(key);
  for (const [key, value] of set) next.set(key, value);
  return next;
}

/** The view after a delta. What the delta leaves alone stays the same by reference. */
export function applyDelta(view: DerivedView, delta: Delta): DerivedView {
  return new DerivedView({
    fabrics: patch(view.fabrics, delta.fabrics, delta.whole),
    zones: patch(view.zones, delta.zones, delta.whole),
    runs: patch(view.runs, delta.runs, delta.whole),
    buckets: patch(view.buckets, delta.buckets, delta.whole),
    takeOff: delta.takeOff ?? view.takeOff,
    drums: delta.drums ?? view.drums,
  });
}

/** All of an index as one delta, sums left out. */
export function wholeDelta({ parts }: DerivedIndex): Delta {
  const all = <K, V>(map: Iterable<readonly [K, V]>): Changed<K, V> => ({ set: [...map], gone: [] });
  return {
    whole: true,
    fabrics: all(parts.fabrics),
    zones: all(parts.zones),
    runs: all(parts.runs),
    buckets: all(parts.buckets),
    takeOff: null,
    drums: null,
  };
}

/** The delta with the take-off and the drums of the index in it: O(runs), so best once no further change waits. */
export function withSums(index: DerivedIndex, delta: Delta): Delta {
  return { ...delta, takeOff: index.takeOff, drums: index.drums };
}

/** Nothing changed but the sums. */
export function sumsOnly(index: DerivedIndex): Delta {
  const nothing = { set: [], gone: [] };
  return withSums(index, {
    whole: false,
    fabrics: nothing,
    zones: nothing,
    runs: nothing,
    buckets: nothing,
    takeOff: null,
    drums: null,
  });
}

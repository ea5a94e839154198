/**
 * A value worked out of an owner (a plan, a storey's fabric, what rules may look up) for one key. `work` may read the
 * owner and ask for other derived values, and nothing else: no state of its own, so that who asks first does not matter.
 */
export interface Derivation<O extends object, V> {
  /** For messages: what is derived. */
  readonly name: string;
  /** `before` is what came out the last time, so that parts that came out the same can be kept as they are. */
  readonly work: (owner: O, key: string, before: V | undefined) => V;
  /** When two outcomes are the same, so that their readers can be left alone. Content, where nothing is said. */
  readonly equal?: (a: V, b: V) => boolean;
}

/** Answers a derivation for an owner that is followed, and notes that it was asked. */
export type Recall<O extends object> = <V>(what: Derivation<O, V>, key: string) => V;

/**
 * Where an owner that is followed keeps its `Recall`. Not enumerable: a spread copy of the owner is another one, with
 * other content perhaps, and is not followed.
 */
export const RECALL: unique symbol = Symbol('recall');

/** Makes `owner` one that is followed. */
export function setRecall<O extends object>(owner: O, recall: Recall<O>): O {
  return Object.defineProperty(owner, RECALL, { value: recall });
}

// Owners that are not followed never change, so what was derived of them stands as long as they live.
const known = new WeakMap<object, Map<object, Map<string, unknown>>>();

/**
 * A derived value: worked out at the first asking, and again when something it was worked out of has changed. This is
 * the only way to keep what was worked out: a table of one's own would hide from a reader what it hangs on.
 */
export function ask<O extends object, V>(owner: O, what: Derivation<O, V>, key = ''): V {
  const recall = (owner as { readonly [RECALL]?: Recall<O> })[RECALL];
  if (recall !== undefined) return recall(what, key);
  let derived = known.get(owner);
  if (derived === undefined) known.set(owner, (derived = new Map()));
  let values = derived.get(what) as Map<string, V> | undefined;
  if (values === undefined) derived.set(what, (values = new Map<string, V>()));
  const value = values.get(key);
  if (value !== undefined || values.has(key)) return value as V;
  const made = what.work(owner, key, undefined);
  values.set(key, made);
  return made;
}

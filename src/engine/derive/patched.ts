/** A key is gone when its change is this. */
const GONE = Symbol('gone');

/**
 * A map that is a base and a few changes, so that the next of a thousand records costs no copy of the rest. A copy may
 * be changed until it is handed on; the map it came from never changes. Order: that of the base, then of adding.
 */
export class Patched<K, V> implements ReadonlyMap<K, V> {
  private readonly base: ReadonlyMap<K, V>;
  private readonly changes: Map<K, V | typeof GONE>;
  private count: number;

  private constructor(base: ReadonlyMap<K, V>, changes: Map<K, V | typeof GONE>, count: number) {
    this.base = base;
    this.changes = changes;
    this.count = count;
  }

  /** A map with a plain base, which must not be changed any more. */
  static over<K, V>(base: ReadonlyMap<K, V>): Patched<K, V> {
    return new Patched(base, new Map(), base.size);
  }

  /** A copy to change. Once there are many changes they are merged into a new base. */
  copy(): Patched<K, V> {
    if (this.changes.size > 64 + this.base.size / 16) return Patched.over(new Map(this));
    return new Patched(this.base, new Map(this.changes), this.count);
  }

  get size(): number {
    return this.count;
  }

  get(key: K): V | undefined {
    const change = this.changes.get(key);
    if (change === undefined && !this.changes.has(key)) return this.base.get(key);
    return change === GONE ? undefined : (change as V);
  }

  has(key: K): boolean {
    return this.changes.has(key) ? this.changes.get(key) !== GONE : this.base.has(key);
  }

  set(key: K, value: V): void {
    if (!this.has(key)) this.count++;
    this.changes.set(key, value);
  }

  delete(key: K): void {
    if (!this.has(key)) return;
    this.count--;
    if (this.base.has(key)) this.changes.set(key, GONE);
    else this.changes.delete(key);
  }

  *entries(): MapIterator<[K, V]> {
    for (const [key, value] of this.base) {
      if (!this.changes.has(key)) {
        yield [key, value];
      } else {
        const change = this.changes.get(key);
        if (change !== GONE) yield [key, change as V];
      }
    }
    for (const [key, value] of this.changes) {
      if (value !== GONE && !this.base.has(key)) yield [key, value as V];
    }
  }

  *keys(): MapIterator<K> {
    for (const [key] of this.entries()) yield key;
  }

  *values(): MapIterator<V> {
    for (const [, value] of this.entries()) yield value;
  }

  [Symbol.iterator](): MapIterator<[K, V]> {
    return this.entries();
  }

  forEach(each: (value: V, key: K, map: ReadonlyMap<K, V>) => void): void {
    for (const [key, value] of this.entries()) each(value, key, this);
  }
}

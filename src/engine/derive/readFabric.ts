import type { Derivation } from '../memo/derivation.ts';
import { ask } from '../memo/derivation.ts';
import type { Graph } from '../memo/graph.ts';
import type { Fabric, Face, FaceId, Room, RoomId } from '../fabric/types.ts';
import type { Id } from '../model/document.ts';

/** Maps with the very same entries. */
export function sameEntries<K, V>(a: ReadonlyMap<K, V>, b: ReadonlyMap<K, V>): boolean {
  if (a.size !== b.size) return false;
  for (const [key, value] of a) if (b.get(key) !== value) return false;
  return true;
}

const FACE: Derivation<ReadFabric, Face | undefined> = {
  name: 'face',
  work: (fabric, id) => fabric.whole().faces.get(id),
  equal: Object.is,
};
const ROOM: Derivation<ReadFabric, Room | undefined> = {
  name: 'room',
  work: (fabric, id) => fabric.whole().rooms.get(id),
  equal: Object.is,
};
const FACES: Derivation<ReadFabric, ReadonlyMap<FaceId, Face>> = {
  name: 'faces',
  work: (fabric) => fabric.whole().faces,
  equal: sameEntries,
};
const ROOMS: Derivation<ReadFabric, ReadonlyMap<RoomId, Room>> = {
  name: 'rooms',
  work: (fabric) => fabric.whole().rooms,
  equal: sameEntries,
};
const OUTSIDE: Derivation<ReadFabric, Fabric['outside']> = {
  name: 'outside',
  work: (fabric) => fabric.whole().outside,
};

/** A map of which each entry is noted by itself, and all of it where it is gone through. */
export class ReadMap<V> implements ReadonlyMap<string, V> {
  private readonly one: (key: string) => V | undefined;
  private readonly all: () => ReadonlyMap<string, V>;

  constructor(one: (key: string) => V | undefined, all: () => ReadonlyMap<string, V>) {
    this.one = one;
    this.all = all;
  }

  get(key: string): V | undefined {
    return this.one(key);
  }

  has(key: string): boolean {
    return this.one(key) !== undefined;
  }

  get size(): number {
    return this.all().size;
  }

  entries(): MapIterator<[string, V]> {
    return this.all().entries();
  }

  keys(): MapIterator<string> {
    return this.all().keys();
  }

  values(): MapIterator<V> {
    return this.all().values();
  }

  [Symbol.iterator](): MapIterator<[string, V]> {
    return this.all().entries();
  }

  forEach(each: (value: V, key: string, map: ReadonlyMap<string, V>) => void): void {
    this.all().forEach(each);
  }
}

/** A storey's fabric as those see it who derive from it: faces and rooms one by one. */
export class ReadFabric implements Fabric {
  readonly storey: Id;
  /** The fabric as it was built. */
  readonly whole: () => Fabric;
  readonly faces: ReadonlyMap<FaceId, Face>;
  readonly rooms: ReadonlyMap<RoomId, Room>;

  constructor(graph: Graph, storey: Id, whole: () => Fabric) {
    this.storey = storey;
    this.whole = whole;
    this.faces = new ReadMap(
      (id) => ask(this, FACE, id),
      () => ask(this, FACES),
    );
    this.rooms = new ReadMap(
      (id) => ask(this, ROOM, id),
      () => ask(this, ROOMS),
    );
    graph.follow<ReadFabric>(this);
  }

  get outside(): Fabric['outside'] {
    return ask<ReadFabric, Fabric['outside']>(this, OUTSIDE);
  }
}

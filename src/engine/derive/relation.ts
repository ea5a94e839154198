import type { Cell } from '../memo/cell.ts';
import type { Derivation } from '../memo/derivation.ts';
import type { Graph } from '../memo/graph.ts';
import type { Id } from '../model/document.ts';
import type { Lookup } from '../zones/surfaces.ts';
import { listsOf, withId } from './idList.ts';

const NONE: readonly Id[] = [];

/** The keys a record is filed under: the face a point lies on, the squares a run lies in. */
export type Keys<O extends object> = Derivation<O, readonly string[]>;

/**
 * Ids filed under keys that are themselves worked out, and each list noted by itself: who asks for the points of a face
 * hangs on that list, and on no other face's. Undefined for a key with none. Filed when first asked for.
 */
export class Relation<O extends object> implements Lookup<string, readonly Id[]> {
  private readonly graph: Graph;
  private readonly owner: () => O;
  private readonly keys: Keys<O>;
  private readonly members: () => Iterable<Id>;
  private readonly cells = new Map<string, Cell>();
  private lists: Map<string, readonly Id[]> | null = null;
  private height = 0;

  constructor(graph: Graph, owner: () => O, keys: Keys<O>, members: () => Iterable<Id>) {
    this.graph = graph;
    this.owner = owner;
    this.keys = keys;
    this.members = members;
  }

  get(key: string): readonly Id[] | undefined {
    const lists = (this.lists ??= this.graph.apart(() => this.fill()));
    const list = this.graph.read(
      this.cells.get(key) ?? this.graph.source(this.cells, key, lists.get(key) ?? NONE, this.height),
    ) as readonly Id[];
    return list.length === 0 ? undefined : list;
  }

  /** A record that came. */
  add(id: Id): void {
    if (this.lists === null) return;
    for (const key of this.graph.apart(() => this.file(id))) this.put(key, withId(this.at(key), id));
  }

  /** A record that went, after all that hangs on it was worked out again: nothing is filed for it any more. */
  drop(id: Id): void {
    this.graph.hold(this.graph.cell(this.owner(), this.keys, id), false);
  }

  private fill(): Map<string, readonly Id[]> {
    const pairs: [string, Id][] = [];
    for (const id of this.members()) for (const key of this.file(id)) pairs.push([key, id]);
    return listsOf(pairs);
  }

  private file(id: Id): readonly string[] {
    const cell = this.graph.cell(this.owner(), this.keys, id);
    cell.onChange = null;
    this.graph.hold(cell, true);
    const keys = this.graph.read(cell) as readonly string[];
    cell.onChange = (now, before) => this.move(id, before as readonly string[], now as readonly string[]);
    this.height = Math.max(this.height, cell.height + 1);
    return keys;
  }

  private move(id: Id, before: readonly string[], now: readonly string[]): void {
    const [gone, come] = [new Set(before), new Set(now)];
    for (const key of gone) if (!come.has(key)) this.put(key, without(this.at(key), id));
    for (const key of come) if (!gone.has(key)) this.put(key, withId(this.at(key), id));
  }

  private at(key: string): readonly Id[] {
    return this.lists?.get(key) ?? NONE;
  }

  private put(key: string, list: readonly Id[]): void {
    if (list.length === 0) this.lists?.delete(key);
    else this.lists?.set(key, list);
    const cell = this.cells.get(key);
    if (cell !== undefined) this.graph.put(cell, list);
  }
}

const without = (list: readonly Id[], id: Id): readonly Id[] => list.filter((x) => x !== id);

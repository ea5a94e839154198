import type { Cell } from '../memo/cell.ts';
import type { Graph } from '../memo/graph.ts';
import type { Id, Table } from '../model/document.ts';
import { ROWS, rows } from '../model/tables.ts';

/** Fields of a record, or records by id, each noted by itself as it is read. */
export class ReadFields<T> {
  /** The record as those see it who read it. */
  readonly view: Readonly<Record<string, T>>;
  private readonly cells = new Map<string, Cell>();
  private readonly graph: Graph;
  private now: Readonly<Record<string, T>>;
  private readonly whole: Cell;

  constructor(graph: Graph, now: Readonly<Record<string, T>>) {
    this.graph = graph;
    this.now = now;
    this.whole = graph.source(new Map(), 'keys', 0);
    graph.hold(this.whole, true);
    this.view = this.proxy();
  }

  /** Other content; `touched` names what may differ. */
  put(now: Readonly<Record<string, T>>, touched: Iterable<string>): void {
    const before = this.now;
    this.now = now;
    let keys = this.whole.version;
    for (const key of touched) {
      const cell = this.cells.get(key);
      if (cell !== undefined) this.graph.put(cell, this.own(key));
      if (Object.hasOwn(before, key) !== Object.hasOwn(now, key)) keys = this.whole.version + 1;
    }
    this.graph.put(this.whole, keys);
  }

  private own(key: string): T | undefined {
    return Object.hasOwn(this.now, key) ? this.now[key] : undefined;
  }

  private read(key: string): T | undefined {
    const cell = this.cells.get(key) ?? this.graph.source(this.cells, key, this.own(key));
    return this.graph.read(cell) as T | undefined;
  }

  private proxy(): Readonly<Record<string, T>> {
    return new Proxy({} as Record<string, T>, {
      get: (_, key) => (typeof key === 'string' ? this.read(key) : undefined),
      has: (_, key) => typeof key === 'string' && this.read(key) !== undefined,
      ownKeys: () => {
        this.graph.read(this.whole);
        return Object.keys(this.now);
      },
      getOwnPropertyDescriptor: (_, key) => {
        const value = typeof key === 'string' ? this.read(key) : undefined;
        return value === undefined
          ? undefined
          : { value, enumerable: true, configurable: true, writable: true };
      },
      set: () => false,
      deleteProperty: () => false,
      defineProperty: () => false,
    });
  }
}

/** A table of the plan whose reader is noted: by record, by the order of its rows, or by all of them at once. */
export class ReadTable<T> {
  readonly view: Table<T>;
  private readonly records: ReadFields<T>;
  private readonly graph: Graph;
  private readonly order: Cell;
  private readonly all: Cell;
  private now: Table<T>;

  constructor(graph: Graph, now: Table<T>) {
    this.graph = graph;
    this.now = now;
    this.records = new ReadFields(graph, now.byId);
    this.order = graph.source(new Map(), 'order', now.order);
    this.all = graph.source(new Map(), 'rows', rows(now));
    for (const cell of [this.order, this.all]) graph.hold(cell, true);
    this.view = this.table();
  }

  put(now: Table<T>, touched: Iterable<Id>): void {
    if (now === this.now) return;
    this.now = now;
    this.records.put(now.byId, touched);
    this.graph.put(this.order, now.order);
    this.graph.put(this.all, rows(now));
  }

  private table(): Table<T> {
    const { graph, order, all } = this;
    const view = {
      byId: this.records.view,
      get order() {
        return graph.read(order) as readonly Id[];
      },
    };
    return Object.defineProperty(view, ROWS, { value: () => graph.read(all) as readonly T[] });
  }
}

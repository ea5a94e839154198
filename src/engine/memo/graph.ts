import { Cell } from './cell.ts';
import { setRecall, type Derivation } from './derivation.ts';
import { same } from './same.ts';

type Home = Map<string, Cell>;
/** Cells by derivation and key. */
type Homes = Map<object, Home>;

const NOBODY = {};

function homeIn(homes: Homes, what: object): Home {
  let home = homes.get(what);
  if (home === undefined) homes.set(what, (home = new Map<string, Cell>()));
  return home;
}

/** A cell hands its own owner to its own derivation, so that they fit each other. */
function cellIn<O extends object, V>(home: Home, owner: O, what: Derivation<O, V>, key: string): Cell {
  return (
    home.get(key) ?? new Cell(home, key, what as unknown as Derivation<object, unknown>, owner, undefined)
  );
}

/**
 * Values and what they were worked out of, noted as it is read. When sources change, exactly the readers of what came
 * out different are worked out again, lowest first; where a value comes out the same, nothing above it is touched.
 */
export class Graph {
  /** Which piece of work reads are noted for; 0 for none. */
  private mark = 0;
  private marks = 0;
  /** What has been read so far, innermost work last, with the version seen. */
  private readonly noted: Cell[] = [];
  private readonly seen: number[] = [];
  private readonly queue: Cell[][] = [];
  private lowest = 0;
  private readonly unread: Cell[] = [];
  private readonly homes = new WeakMap<object, Homes>();
  /** Hears of each cell before it is worked out. */
  onWork: ((cell: Cell) => void) | null = null;

  /** A value put in from outside; `height` above what it comes from, where it comes from other cells. */
  source(home: Home, key: string, value: unknown, height = 0): Cell {
    const cell = new Cell(home, key, null, NOBODY, value);
    cell.height = height;
    return cell;
  }

  /** Puts another value into a source. Its readers are worked out by the next `settle`. */
  put(source: Cell, value: unknown): void {
    this.take(source, value, same(source.value, value));
  }

  /** Makes the owner one whose derived values are cells of this graph. */
  follow<O extends object>(owner: O): O {
    const homes: Homes = new Map();
    this.homes.set(owner, homes);
    return setRecall<O>(
      owner,
      <V>(what: Derivation<O, V>, key: string) =>
        this.read(cellIn(homeIn(homes, what), owner, what, key)) as V,
    );
  }

  /** The cell of a derived value of an owner that is followed here. It may not be worked out yet. */
  cell<O extends object, V>(owner: O, what: Derivation<O, V>, key: string): Cell {
    const homes = this.homes.get(owner);
    if (homes === undefined) throw new Error(`${what.name}: its owner is not followed here`);
    return cellIn(homeIn(homes, what), owner, what, key);
  }

  /** The value of a cell, up to date; whoever is being worked out is noted as its reader. */
  read(cell: Cell): unknown {
    if (cell.state !== 'fresh') this.work(cell);
    if (this.mark !== 0 && cell.noted !== this.mark) {
      cell.noted = this.mark;
      this.noted.push(cell);
      this.seen.push(cell.version);
    }
    return cell.value;
  }

  /** Does something on nobody's behalf: what it reads is not noted. */
  apart<T>(act: () => T): T {
    const { mark } = this;
    this.mark = 0;
    try {
      return act();
    } finally {
      this.mark = mark;
    }
  }

  /** Works out all that hangs on what has changed, then forgets what nobody reads any more. */
  settle(): void {
    while (this.lowest < this.queue.length) {
      const cell = this.queue[this.lowest]?.pop();
      if (cell === undefined) this.lowest++;
      else if (cell.state === 'queued') this.work(cell);
    }
    this.forget();
  }

  /** Keeps a cell though nothing reads it, or lets go of it. */
  hold(cell: Cell, held: boolean): void {
    cell.held = held;
    if (!held && cell.readers.none) this.unread.push(cell);
  }

  private work(cell: Cell): void {
    const { what } = cell;
    if (what === null) throw new Error(`${cell.name} is not there any more`);
    if (cell.state === 'working') throw new Error(`${cell.name} is worked out of itself`);
    const first = cell.state === 'new';
    const [outer, base] = [this.mark, this.noted.length];
    this.mark = ++this.marks;
    cell.state = 'working';
    this.onWork?.(cell);
    try {
      const value = what.work(cell.owner, cell.key, cell.value);
      cell.state = 'fresh';
      this.link(cell, base);
      this.take(cell, value, !first && (what.equal ?? same)(cell.value, value));
    } catch (error) {
      cell.state = first ? 'new' : 'queued';
      throw error;
    } finally {
      this.mark = outer;
      this.noted.length = base;
      this.seen.length = base;
    }
  }

  private take(cell: Cell, value: unknown, equal: boolean): void {
    if (equal) return;
    const before = cell.value;
    cell.value = value;
    cell.version++;
    cell.readers.each((reader) => this.enqueue(reader));
    cell.onChange?.(value, before);
  }

  private enqueue(cell: Cell): void {
    if (cell.state !== 'fresh') return;
    cell.state = 'queued';
    (this.queue[cell.height] ??= []).push(cell);
    if (cell.height < this.lowest) this.lowest = cell.height;
  }

  /** Notes the cell as reader of what was read since `base`. Most read the same each time: then nothing need be done. */
  private link(cell: Cell, base: number): void {
    const { noted, seen } = this;
    let late = false;
    for (let i = base; i < noted.length; i++) if (noted[i]?.version !== seen[i]) late = true;
    if (!this.readsTheSame(cell, base)) this.relink(cell, noted.slice(base));
    // What it read was put right while it was working on: once more.
    if (late) this.enqueue(cell);
  }

  private readsTheSame({ reads }: Cell, base: number): boolean {
    const { noted } = this;
    if (reads.length !== noted.length - base) return false;
    for (let i = 0; i < reads.length; i++) if (reads[i] !== noted[base + i]) return false;
    return true;
  }

  private relink(cell: Cell, reads: readonly Cell[]): void {
    const old = cell.reads;
    cell.reads = reads;
    const [before, now] = [++this.marks, ++this.marks];
    for (const read of old) read.noted = before;
    let height = 0;
    for (const read of reads) {
      if (read.noted !== before && read.noted !== now) read.readers.add(cell);
      read.noted = now;
      if (read.height > height) height = read.height;
    }
    cell.height = height + 1;
    for (const read of old) if (read.noted === before) this.unlink(cell, read);
  }

  private unlink(cell: Cell, read: Cell): void {
    read.readers.delete(cell);
    if (read.readers.none) this.unread.push(read);
  }

  private forget(): void {
    for (let cell = this.unread.pop(); cell !== undefined; cell = this.unread.pop()) {
      if (cell.held || !cell.readers.none || cell.state === 'gone') continue;
      cell.state = 'gone';
      cell.home.delete(cell.key);
      for (const read of cell.reads) this.unlink(cell, read);
    }
  }
}

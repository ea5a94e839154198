import type { Derivation } from './derivation.ts';
import { Readers } from './readers.ts';

/** Fresh: its value stands. Queued: something it read came out different. Working: it is being worked out. */
export type CellState = 'new' | 'fresh' | 'queued' | 'working' | 'gone';

const NOTHING: readonly Cell[] = [];

/** One value and who hangs on it. A source has no derivation: its value is put in from outside. */
export class Cell {
  state: CellState;
  value: unknown;
  /** Counts the different values there have been. */
  version = 0;
  /** Above everything it read, so that what it hangs on is worked out before it. */
  height = 0;
  reads: readonly Cell[] = NOTHING;
  readonly readers = new Readers<Cell>();
  /** Wanted from outside, so kept though nothing reads it. */
  held = false;
  /** Marks of the graph: by whom it was noted last. */
  noted = 0;
  /** Told each time the value came out different. */
  onChange: ((now: unknown, before: unknown) => void) | null = null;

  readonly key: string;
  readonly what: Derivation<object, unknown> | null;
  readonly owner: object;
  /** The table it is found in, to be taken out of when nobody wants it any more. */
  readonly home: Map<string, Cell>;

  constructor(
    home: Map<string, Cell>,
    key: string,
    what: Derivation<object, unknown> | null,
    owner: object,
    value: unknown,
  ) {
    this.home = home;
    this.key = key;
    this.what = what;
    this.owner = owner;
    this.value = value;
    this.state = what === null ? 'fresh' : 'new';
    home.set(key, this);
  }

  get name(): string {
    return `${this.what?.name ?? 'source'} ${this.key}`;
  }
}

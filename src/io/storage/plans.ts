import { decodeFile, encodeDocument } from '../../document/codec/file.ts';
import type { Change } from '../../document/types.ts';
import { assetsOf } from '../../engine/model/assets.ts';
import type { PlanDocument } from '../../engine/model/document.ts';
import type { Patience } from './database.ts';
import { applyEntry, entryOf } from './entry.ts';
import { toThinOut } from './thin.ts';
import { within } from './within.ts';

/** A plan kept on this device, as the list shows it. */
export interface KeptPlan {
  readonly id: string;
  readonly title: string;
  /** When it was last changed, ms since 1970. */
  readonly at: number;
  /** Size of its text, bytes as good as. */
  readonly size: number;
  /** Small drawing of it: the data of an SVG path in a box of 120 by 80. */
  readonly picture: string;
  /** When the person removed it; null while it is in the list. */
  readonly removed: number | null;
  /** SHA-256 of the pictures any of its kept states needs. */
  readonly assets: readonly string[];
}

/** A state of a plan that can be looked at and brought back. */
export interface KeptState {
  readonly seq: number;
  readonly at: number;
  /** What was last done, as undo names it. */
  readonly change: string;
}

interface StateRecord extends KeptState {
  readonly plan: string;
  /** The whole plan; null: it follows on the state before by `entry`. */
  readonly text: string | null;
  readonly entry: string | null;
}

/** The list has this many plans; those longest untouched leave it. */
export const PLANS_KEPT = 10;
/** After so many changes the whole plan is kept again, so that no state needs more than these to be worked out. */
const CHANGES_PER_WHOLE = 200;

const NAME = 'zonewright-plans';
const STORES = ['plans', 'states'];

/** A change on its way into the list. */
export interface Kept {
  readonly id: string;
  readonly doc: PlanDocument;
  /** Null: the plan was opened just now. */
  readonly change: Change | null;
  readonly picture: string;
  readonly at: number;
  readonly midnight: number;
}

/** The plans of this device and their earlier states, in a database of their own: opening the page never waits for it. */
export class Plans {
  private opening: Promise<IDBDatabase> | null = null;
  private since = new Map<string, { count: number; hour: number }>();

  constructor(
    private readonly factory: IDBFactory | null,
    private readonly patience: Patience,
  ) {}

  /** Keeps changes in their order. Rejects when the device does not take them. */
  async keep(all: readonly Kept[]): Promise<void> {
    const db = await this.open();
    for (const each of all) await this.keepOne(db, each);
  }

  private async keepOne(db: IDBDatabase, kept: Kept): Promise<void> {
    const { id, doc, change, at } = kept;
    const hour = Math.floor(at / 3_600_000);
    const so = this.since.get(id);
    const whole = change === null || so === undefined || so.count >= CHANGES_PER_WHOLE || so.hour !== hour;
    const text = whole ? encodeDocument(doc) : null;
    await this.transact(db, 'readwrite', (plans, states) => {
      const known = plans.get(id);
      const range = IDBKeyRange.bound([id, 0], [id, Infinity]);
      const last = states.openKeyCursor(range, 'prev');
      last.onsuccess = () => {
        const was = known.result as KeptPlan | undefined;
        const seq = last.result === null ? 1 : (last.result.key as [string, number])[1] + 1;
        const record: StateRecord = {
          plan: id,
          seq,
          at,
          change: change?.name ?? 'Opened',
          text,
          entry: whole ? null : JSON.stringify(entryOf(change as Change)),
        };
        states.put(record);
        const plan: KeptPlan = {
          id,
          title: doc.job.title,
          at,
          size: text?.length ?? was?.size ?? 0,
          picture: kept.picture,
          removed: null,
          assets: [...new Set([...(was?.assets ?? []), ...assetsOf(doc).keys()])],
        };
        plans.put(plan);
      };
    });
    this.since.set(id, whole ? { count: 0, hour } : { count: (so?.count ?? 0) + 1, hour });
    if (whole) await this.thin(db, id, kept.midnight);
  }

  /** The plans of the list, the last changed first; removed ones too, marked. */
  async list(): Promise<KeptPlan[]> {
    const db = await this.open();
    let all: KeptPlan[] = [];
    await this.transact(db, 'readonly', (plans) => {
      const request = plans.getAll();
      request.onsuccess = () => (all = request.result as KeptPlan[]);
    });
    return all.sort((a, b) => b.at - a.at);
  }

  /** States of a plan, the newest first. */
  async states(id: string): Promise<KeptState[]> {
    const records = await this.records(id);
    return records.map(({ seq, at, change }) => ({ seq, at, change })).reverse();
  }

  /** The plan as it was at a state; the newest when none is named. Null when it cannot be worked out. */
  async read(id: string, seq = Infinity): Promise<PlanDocument | null> {
    const upTo = (await this.records(id)).filter((each) => each.seq <= seq);
    const from = upTo.findLastIndex((each) => each.text !== null);
    const base = upTo[from];
    if (base === undefined || base.text === null) return null;
    let raw = JSON.parse(base.text) as Readonly<Record<string, unknown>>;
    for (const { entry } of upTo.slice(from + 1)) {
      const after = applyEntry(raw, JSON.parse(entry ?? 'null'));
      if (after === null) return null;
      raw = after;
    }
    const decoded = decodeFile(JSON.stringify(raw));
    return decoded.ok ? decoded.doc : null;
  }

  /** Takes a plan out of the list, or back into it. It is gone for good when the list is next full. */
  async setRemoved(id: string, removed: number | null): Promise<void> {
    const db = await this.open();
    await this.transact(db, 'readwrite', (plans) => {
      const request = plans.get(id);
      request.onsuccess = () => {
        const plan = request.result as KeptPlan | undefined;
        if (plan !== undefined) plans.put({ ...plan, removed });
      };
    });
  }

  private async records(id: string): Promise<StateRecord[]> {
    const db = await this.open();
    let all: StateRecord[] = [];
    await this.transact(db, 'readonly', (_plans, states) => {
      const request = states.getAll(IDBKeyRange.bound([id, 0], [id, Infinity]));
      request.onsuccess = () => (all = request.result as StateRecord[]);
    });
    return all;
  }

  /** Thins the states of one plan out, and lets plans beyond the list go. */
  private async thin(db: IDBDatabase, id: string, midnight: number): Promise<void> {
    const records = await this.records(id);
    const gone = toThinOut(
      records.map(({ seq, at, text }) => ({ seq, at, whole: text !== null })),
      midnight,
    );
    const plans = await this.list();
    const kept = plans.filter((each) => each.removed === null).slice(0, PLANS_KEPT);
    const removed = plans.filter((each) => each.removed !== null && each.removed >= midnight);
    const stay = new Set([id, ...kept.map((each) => each.id), ...removed.map((each) => each.id)]);
    await this.transact(db, 'readwrite', (planStore, states) => {
      for (const seq of gone) states.delete([id, seq]);
      for (const { id: other } of plans) {
        if (stay.has(other)) continue;
        planStore.delete(other);
        states.delete(IDBKeyRange.bound([other, 0], [other, Infinity]));
      }
    });
  }

  private open(): Promise<IDBDatabase> {
    const { factory } = this;
    if (factory === null)
      return Promise.reject(new Error('this browser does not let the page store anything'));
    this.opening ??= within(
      this.patience.open,
      'the list of plans did not open',
      new Promise<IDBDatabase>((resolve, reject) => {
        const request = factory.open(NAME, 1);
        request.onupgradeneeded = () => {
          request.result.createObjectStore('plans', { keyPath: 'id' });
          request.result.createObjectStore('states', { keyPath: ['plan', 'seq'] });
        };
        request.onsuccess = () => {
          request.result.onversionchange = () => request.result.close();
          request.result.onclose = () => (this.opening = null);
          resolve(request.result);
        };
        request.onerror = () => reject(request.error ?? new Error('the list of plans did not open'));
      }),
    ).catch((error: unknown) => {
      this.opening = null;
      throw error;
    });
    return this.opening;
  }

  private transact(
    db: IDBDatabase,
    mode: IDBTransactionMode,
    body: (plans: IDBObjectStore, states: IDBObjectStore) => void,
  ): Promise<void> {
    const tx = db.transaction(STORES, mode);
    const done = new Promise<void>((resolve, reject) => {
      tx.oncomplete = () => resolve();
      tx.onabort = () => reject(tx.error ?? new Error('the list of plans was not written'));
      tx.onerror = (event) => reject((event.target as IDBRequest).error as Error);
    });
    body(tx.objectStore('plans'), tx.objectStore('states'));
    return within(
      mode === 'readonly' ? this.patience.read : this.patience.write,
      'the list of plans did not answer',
      done,
    );
  }
}

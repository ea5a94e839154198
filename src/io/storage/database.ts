import { within } from './within.ts';

/** Stores of the database, and what is under which key. */
export const STORES = ['meta', 'journal', 'snapshots', 'assets', 'session'] as const;
export type StoreName = (typeof STORES)[number];

const NAME = 'zonewright';
/**
 * Raised whenever what is kept here can no longer be read by the program before: a tab that still runs it is then told by
 * the browser, and can neither open the database nor write into it. 2: plans of format version 2.
 */
const VERSION = 2;

export interface Opened {
  readonly db: IDBDatabase;
  /** The browser says it threw data away. */
  readonly lost: boolean;
}

/** How long the browser may take over one answer before it counts as failed, ms. */
export interface Patience {
  readonly open: number;
  readonly read: number;
  readonly write: number;
}

/**
 * Opens the database, making its stores when it is new. Only the tab that writes brings it up to this version: whoever
 * just looks leaves an older tab at its work. Rejects when storage is blocked or was made by a newer version.
 */
export async function openDatabase(
  factory: IDBFactory,
  patience: Patience,
  asWriter: boolean,
): Promise<Opened> {
  const opened = await open(factory, patience, asWriter ? VERSION : undefined);
  if (opened.db.version <= VERSION) return opened;
  opened.db.close();
  throw new DOMException('the database is newer than this program', 'VersionError');
}

function open(factory: IDBFactory, patience: Patience, version: number | undefined): Promise<Opened> {
  let given = false;
  const opening = new Promise<Opened>((resolve, reject) => {
    const request = factory.open(NAME, version);
    let lost = false;
    request.onupgradeneeded = (event) => {
      // Chromium only: it starts again with an empty database when a block is bad.
      const loss = (event as unknown as { dataLoss?: string }).dataLoss;
      lost = loss !== undefined && loss !== 'none';
      for (const name of STORES) {
        if (request.result.objectStoreNames.contains(name)) continue;
        request.result.createObjectStore(name, name === 'journal' ? { keyPath: ['line', 'rev'] } : undefined);
      }
    };
    request.onsuccess = () => {
      // One that comes after it was given up must not stay open: it would hold up whoever opens the next.
      if (given) request.result.close();
      else resolve({ db: request.result, lost });
    };
    request.onerror = () => reject(request.error ?? new Error('the database did not open'));
    request.onblocked = () => reject(new Error('another tab with an older version is holding the database'));
  });
  return within(patience.open, 'the database did not open', opening).catch((error: unknown) => {
    given = true;
    throw error;
  });
}

/** The writer was replaced by another tab. */
export class Fenced extends Error {}

/** What was in the database is gone while it was open: what is written now would stand on nothing. */
export class Cleared extends Error {}

/**
 * Settles with the transaction: done, refused, or given up. A browser that takes a database away in the middle of a
 * transaction may send it an error and nothing more, or nothing at all.
 */
function settled(db: IDBDatabase, tx: IDBTransaction, patience: number, why: () => unknown): Promise<void> {
  let closed = (): void => undefined;
  const ended = new Promise<void>((resolve, reject) => {
    const fail = (error: unknown): void =>
      reject((why() ?? error ?? new Error('the database broke off')) as Error);
    closed = () => fail(new Error('the database was closed'));
    tx.oncomplete = () => resolve();
    tx.onabort = () => fail(tx.error);
    // A request that fails says so here first, and a transaction whose database is gone says so here only.
    tx.onerror = (event) => fail((event.target as IDBRequest | IDBTransaction).error);
    db.addEventListener('close', closed);
  });
  return within(patience, 'the device did not answer', ended).finally(() =>
    db.removeEventListener('close', closed),
  );
}

/**
 * One readwrite transaction. `body` issues its writes at once. With an `epoch`, they only count while it is still the
 * one of the last writer: a tab that was taken over from cannot write any more, and a database that was cleared is
 * noticed.
 */
export function write(
  db: IDBDatabase,
  stores: readonly StoreName[],
  epoch: number | null,
  durability: IDBTransactionDurability,
  patience: Patience,
  body: (store: (name: StoreName) => IDBObjectStore) => void,
): Promise<void> {
  const tx = db.transaction(['meta', ...stores], 'readwrite', { durability });
  let failed: unknown = null;
  const done = settled(db, tx, patience.write, () => failed);
  try {
    body((name) => tx.objectStore(name));
    if (epoch !== null) {
      const held = tx.objectStore('meta').get('epoch');
      held.onsuccess = () => {
        if (held.result === epoch) return;
        failed =
          held.result === undefined
            ? new Cleared('what was kept here has been cleared')
            : new Fenced('another tab has taken over');
        tx.abort();
      };
    }
  } catch (error) {
    failed = error;
    tx.abort();
  }
  return done;
}

/** Reads with a body that issues requests and returns a way to their results. */
export async function read<T>(
  db: IDBDatabase,
  stores: readonly StoreName[],
  patience: Patience,
  body: (store: (name: StoreName) => IDBObjectStore) => () => T,
): Promise<T> {
  const tx = db.transaction([...stores], 'readonly');
  const done = settled(db, tx, patience.read, () => null);
  done.catch(() => undefined);
  const result = body((name) => tx.objectStore(name));
  await done;
  return result();
}

/** Becomes the one writer: raises the epoch and returns it. */
export async function raiseEpoch(db: IDBDatabase, patience: Patience): Promise<number> {
  const tx = db.transaction(['meta'], 'readwrite', { durability: 'strict' });
  const done = settled(db, tx, patience.write, () => null);
  let epoch = 0;
  const held = tx.objectStore('meta').get('epoch');
  held.onsuccess = () => {
    epoch = (typeof held.result === 'number' ? held.result : 0) + 1;
    tx.objectStore('meta').put(epoch, 'epoch');
  };
  await done;
  return epoch;
}

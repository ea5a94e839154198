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

/**
 * Opens the database, making its stores when it is new. Only the tab that writes brings it up to this version: whoever
 * just looks leaves an older tab at its work. Rejects when storage is blocked or was made by a newer version.
 */
export async function openDatabase(factory: IDBFactory, asWriter: boolean): Promise<Opened> {
  const opened = await open(factory, asWriter ? VERSION : undefined);
  if (opened.db.version <= VERSION) return opened;
  opened.db.close();
  throw new DOMException('the database is newer than this program', 'VersionError');
}

function open(factory: IDBFactory, version: number | undefined): Promise<Opened> {
  return new Promise((resolve, reject) => {
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
    request.onsuccess = () => resolve({ db: request.result, lost });
    request.onerror = () => reject(request.error ?? new Error('the database did not open'));
    request.onblocked = () => reject(new Error('another tab with an older version is holding the database'));
  });
}

/** The writer was replaced by another tab. */
export class Fenced extends Error {}

/**
 * One readwrite transaction. `body` issues its writes at once. With an `epoch`, they only count while it is still the
 * one of the last writer: a tab that was taken over from cannot write any more.
 */
export function write(
  db: IDBDatabase,
  stores: readonly StoreName[],
  epoch: number | null,
  durability: IDBTransactionDurability,
  body: (store: (name: StoreName) => IDBObjectStore) => void,
): Promise<void> {
  return new Promise((resolve, reject) => {
    const tx = db.transaction(['meta', ...stores], 'readwrite', { durability });
    let fenced = false;
    let failed: unknown = null;
    tx.oncomplete = () => resolve();
    tx.onabort = () =>
      reject(
        fenced
          ? new Fenced('another tab has taken over')
          : (failed ?? tx.error ?? new Error('the write was aborted')),
      );
    tx.onerror = (event) => {
      failed = (event.target as IDBRequest).error;
    };
    try {
      body((name) => tx.objectStore(name));
      if (epoch !== null) {
        const held = tx.objectStore('meta').get('epoch');
        held.onsuccess = () => {
          if (held.result === epoch) return;
          fenced = true;
          tx.abort();
        };
      }
    } catch (error) {
      failed = error;
      tx.abort();
    }
  });
}

/** Reads with a body that issues requests and returns a way to their results. */
export function read<T>(
  db: IDBDatabase,
  stores: readonly StoreName[],
  body: (store: (name: StoreName) => IDBObjectStore) => () => T,
): Promise<T> {
  return new Promise((resolve, reject) => {
    const tx = db.transaction([...stores], 'readonly');
    const result = body((name) => tx.objectStore(name));
    tx.oncomplete = () => resolve(result());
    tx.onabort = () => reject(tx.error ?? new Error('the read was aborted'));
  });
}

/** Becomes the one writer: raises the epoch and returns it. */
export function raiseEpoch(db: IDBDatabase): Promise<number> {
  return new Promise((resolve, reject) => {
    const tx = db.transaction(['meta'], 'readwrite', { durability: 'strict' });
    let epoch = 0;
    const held = tx.objectStore('meta').get('epoch');
    held.onsuccess = () => {
      epoch = (typeof held.result === 'number' ? held.result : 0) + 1;
      tx.objectStore('meta').put(epoch, 'epoch');
    };
    tx.oncomplete = () => resolve(epoch);
    tx.onabort = () => reject(tx.error ?? new Error('the write was aborted'));
  });
}

import 'fake-indexeddb/auto';
import { IDBFactory } from 'fake-indexeddb';
import type { FileStore, VaultPorts } from '../../../src/io/storage/ports.ts';

/** Files of the second copy, in memory. */
export class MemoryFiles implements FileStore {
  readonly files = new Map<string, Uint8Array>();
  failing = false;
  private check(): void {
    if (this.failing) throw new DOMException('no files today', 'NotAllowedError');
  }
  async read(name: string): Promise<Uint8Array | null> {
    this.check();
    return Promise.resolve(this.files.get(name) ?? null);
  }
  async write(name: string, bytes: Uint8Array): Promise<void> {
    this.check();
    this.files.set(name, bytes.slice());
    return Promise.resolve();
  }
  async remove(name: string): Promise<void> {
    this.files.delete(name);
    return Promise.resolve();
  }
  async names(): Promise<string[]> {
    return Promise.resolve([...this.files.keys()]);
  }
}

/** Locks as the Web Locks standard has them, for one exclusive name: ifAvailable, and steal. */
export class MemoryLocks {
  private holder: { reject: (error: unknown) => void } | null = null;

  request(
    _name: string,
    options: { ifAvailable?: boolean; steal?: boolean },
    callback: (lock: object | null) => unknown,
  ): Promise<unknown> {
    if (this.holder && !options.steal) return Promise.resolve(callback(null));
    this.holder?.reject(new DOMException('stolen', 'AbortError'));
    return new Promise((resolve, reject) => {
      const holder = { reject };
      this.holder = holder;
      void Promise.resolve(callback({})).then((value) => {
        if (this.holder === holder) this.holder = null;
        resolve(value);
      });
    });
  }
}

/** A device: everything that outlives a tab. */
export class Device {
  factory: IDBFactory = new IDBFactory();
  readonly files = new MemoryFiles();
  readonly locks = new MemoryLocks();
  readonly local = new Map<string, string>();
  private readonly leaveListeners = new Set<() => void>();

  /** What one tab is given. Its page-leaving listeners can be called with `leave`. */
  ports(change: Partial<VaultPorts> = {}): VaultPorts {
    return {
      indexedDB: this.factory,
      files: this.files,
      locks: this.locks as unknown as LockManager,
      canary: {
        getItem: (key) => this.local.get(key) ?? null,
        setItem: (key, value) => void this.local.set(key, value),
      },
      onLeave: (listener) => {
        this.leaveListeners.add(listener);
        return () => void this.leaveListeners.delete(listener);
      },
      writeAfter: 2,
      snapshotAfter: 1_000_000,
      retryAfter: [1_000_000],
      secondAfter: 1_000_000,
      patience: { open: 500, read: 500, write: 500, lock: 100, files: 100 },
      ...change,
    };
  }

  leave(): void {
    for (const listener of this.leaveListeners) listener();
  }

  /** The database is lost, silently, as after a damaged block. */
  wipe(): void {
    this.factory = new IDBFactory();
  }

  /** Every record of the database as [store, key, value]. */
  async records(): Promise<[string, IDBValidKey, unknown][]> {
    const db = await this.open();
    const out: [string, IDBValidKey, unknown][] = [];
    for (const name of ['snapshots', 'journal'] as const) {
      const store = db.transaction(name).objectStore(name);
      const keys = await done(store.getAllKeys());
      for (const key of keys) out.push([name, key, await done(store.get(key) as IDBRequest<unknown>)]);
    }
    db.close();
    return out;
  }

  /** Puts a record back changed, or takes it out with undefined. */
  async set(name: string, key: IDBValidKey, value: unknown): Promise<void> {
    const db = await this.open();
    const store = db.transaction(name, 'readwrite').objectStore(name);
    if (value === undefined) await done(store.delete(key));
    else await done(store.keyPath === null ? store.put(value, key) : store.put(value));
    db.close();
  }

  /** The database as version 1 of the program made it, empty. */
  async make(): Promise<void> {
    const request = this.factory.open('zonewright', 1);
    request.onupgradeneeded = () => {
      for (const name of ['meta', 'journal', 'snapshots', 'assets', 'session'])
        request.result.createObjectStore(name, name === 'journal' ? { keyPath: ['line', 'rev'] } : undefined);
    };
    (await done(request)).close();
  }

  private open(): Promise<IDBDatabase> {
    return done(this.factory.open('zonewright'));
  }
}

function done<T>(request: IDBRequest<T>): Promise<T> {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error ?? new Error('failed'));
  });
}

/**
 * Makes the n-th storage call from now on fail (opening, starting a transaction, get, put, delete), and all after it while
 * `lasting`. Undo it with `restore`. Returns how many calls there have been.
 */
export function failAt(n: number, lasting: boolean): { count: () => number; restore: () => void } {
  let calls = 0;
  const undo: (() => void)[] = [];
  const wrap = (proto: object, method: string): void => {
    const target = proto as Record<string, (...args: unknown[]) => unknown>;
    const original = target[method] as (...args: unknown[]) => unknown;
    target[method] = function (this: unknown, ...args: unknown[]) {
      calls++;
      if (calls === n || (lasting && calls > n)) throw new DOMException('made to fail', 'QuotaExceededError');
      return original.apply(this, args);
    };
    undo.push(() => (target[method] = original));
  };
  wrap(globalThis.IDBFactory.prototype, 'open');
  wrap(globalThis.IDBDatabase.prototype, 'transaction');
  for (const method of ['get', 'put', 'delete']) wrap(globalThis.IDBObjectStore.prototype, method);
  return { count: () => calls, restore: () => undo.forEach((each) => each()) };
}

import type { Patience } from './database.ts';
import { within } from './within.ts';

/** Small files in a place of their own, apart from the database: the second copy. */
export interface FileStore {
  /** Null when there is no such file. */
  read(name: string): Promise<Uint8Array | null>;
  /** Replaces the file whole: after a crash it is the old one or the new one. */
  write(name: string, bytes: Uint8Array): Promise<void>;
  remove(name: string): Promise<void>;
  names(): Promise<string[]>;
}

/** What the vault needs of the browser; given whole in tests. */
export interface VaultPorts {
  readonly indexedDB: IDBFactory | null;
  readonly files: FileStore | null;
  readonly locks: LockManager | null;
  /** Written at once, unlike the others. */
  readonly canary: Pick<Storage, 'getItem' | 'setItem'> | null;
  /** Calls back when the page may be going away; returns how to stop listening. */
  readonly onLeave: (listener: () => void) => () => void;
  /** ms until a change is written, until a snapshot is taken, and between attempts after a failure. */
  readonly writeAfter: number;
  readonly snapshotAfter: number;
  readonly retryAfter: readonly number[];
  /** ms of rest after the last change until the second copy is brought up to date. */
  readonly secondAfter: number;
  /** ms a call may take before it counts as failed: nothing the browser does not answer may hold the page up. */
  readonly patience: Patience & { readonly lock: number; readonly files: number };
}

/** The ports of a browser page. What a browser refuses (private mode, blocked storage) is null. */
export function browserPorts(): VaultPorts {
  return {
    indexedDB: allowed(() => globalThis.indexedDB ?? null),
    files: allowed(() => (typeof navigator.storage?.getDirectory === 'function' ? opfs('zonewright') : null)),
    locks: allowed(() => navigator.locks ?? null),
    canary: allowed(() => globalThis.localStorage ?? null),
    onLeave: (listener) => {
      const hidden = (): void => {
        if (document.visibilityState === 'hidden') listener();
      };
      document.addEventListener('visibilitychange', hidden);
      window.addEventListener('pagehide', listener);
      return () => {
        document.removeEventListener('visibilitychange', hidden);
        window.removeEventListener('pagehide', listener);
      };
    },
    writeAfter: 150,
    snapshotAfter: 30_000,
    retryAfter: [1000, 2000, 4000, 10_000],
    secondAfter: 3000,
    patience: { open: 6000, read: 10_000, write: 20_000, lock: 3000, files: 5000 },
  };
}

/** The same files, of which no call is waited for longer than so many ms. */
export function patient(files: FileStore, ms: number): FileStore {
  const limited = <T>(work: Promise<T>): Promise<T> => within(ms, 'the private files did not answer', work);
  return {
    read: (name) => limited(files.read(name)),
    write: (name, bytes) => limited(files.write(name, bytes)),
    remove: (name) => limited(files.remove(name)),
    names: () => limited(files.names()),
  };
}

function allowed<T>(get: () => T | null): T | null {
  try {
    return get();
  } catch {
    return null;
  }
}

/** A folder of the origin's private file system. */
function opfs(folder: string): FileStore {
  const home = async (): Promise<FileSystemDirectoryHandle> =>
    (await navigator.storage.getDirectory()).getDirectoryHandle(folder, { create: true });
  const missing = (error: unknown): boolean =>
    error instanceof DOMException && error.name === 'NotFoundError';
  return {
    async read(name) {
      try {
        const file = await (await (await home()).getFileHandle(name)).getFile();
        return new Uint8Array(await file.arrayBuffer());
      } catch (error) {
        if (missing(error)) return null;
        throw error;
      }
    },
    async write(name, bytes) {
      const handle = await (await home()).getFileHandle(name, { create: true });
      // Written beside the file and put in its place on close.
      const writable = await handle.createWritable();
      try {
        await writable.write(new Uint8Array(bytes));
      } catch (error) {
        await writable.abort().catch(() => undefined);
        throw error;
      }
      await writable.close();
    },
    async remove(name) {
      try {
        await (await home()).removeEntry(name);
      } catch (error) {
        if (!missing(error)) throw error;
      }
    },
    async names() {
      const found: string[] = [];
      for await (const [name] of (await home()).entries()) found.push(name);
      return found;
    },
  };
}

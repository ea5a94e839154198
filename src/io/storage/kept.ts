import { openDatabase, raiseEpoch, read } from './database.ts';
import type { Patience } from './database.ts';
import type { VaultPorts } from './ports.ts';
import { patient } from './ports.ts';
import type { Canary, Restored, Snapshot } from './restore.ts';
import { asSnapshot, restore } from './restore.ts';

export const CANARY = 'zonewright-canary';
export const SECOND_COPY = 'second-copy.json';
export const SLOTS = ['a', 'b'] as const;
export type Slot = (typeof SLOTS)[number];

/** What was found on the device. `db` is null when storage is blocked, full or newer; `why` then says so. */
export interface Kept {
  readonly db: IDBDatabase | null;
  readonly why: string | null;
  /** The database was not read whole: it may hold more than was found. */
  readonly unread: boolean;
  /** This tab's number as the writer, once raised. */
  readonly epoch: number | null;
  readonly restored: Restored;
  /** What stands in the two slots of snapshots; null when that is not known. */
  readonly slots: Readonly<Record<Slot, Pick<Snapshot, 'line' | 'rev'> | null>> | null;
  /** The highest number of a line there ever was. */
  readonly lastLine: number;
  /** SHA-256 of every picture any kept state may need. */
  readonly pictures: ReadonlySet<string>;
  readonly session: unknown;
}

/**
 * Opens the device's storage and finds the newest state that is whole. As the writer it first shuts out whoever wrote
 * before, so that nothing is written after it has read; a device too full even for that is still read. Never rejects.
 */
export async function openKept(ports: VaultPorts, asWriter: boolean): Promise<Kept> {
  const canary = readCanary(ports);
  const second = await readSecond(ports);
  const found = nothingFound();
  let db: IDBDatabase | null = null;
  let why: string | null = null;
  let epoch: number | null = null;
  // A read that fails closes the database; what was read before is kept, and the next attempt may find the rest.
  for (let attempt = 0; attempt < ATTEMPTS && db === null; attempt++) {
    let opened: IDBDatabase | null = null;
    try {
      if (ports.indexedDB === null) throw new Error('this browser does not let the page store anything');
      // A device too full to bring the database up to this version lets it be read as it is.
      opened = (await openDatabase(ports.indexedDB, ports.patience, asWriter && attempt === 0)).db;
      why = null;
      if (asWriter) {
        epoch = await raiseEpoch(opened, ports.patience).catch((error: unknown) => {
          why = reasonOf(error);
          return null;
        });
      }
      await readAll(opened, found, ports.patience);
      db = opened;
    } catch (error) {
      opened?.close();
      why = reasonOf(error);
    }
  }
  const snapshots = [...found.snapshots.values()];
  const restored = await restore({ snapshots, second, journal: found.journal, canary });
  const newest = snapshots.map(asSnapshot).reduce((top, s) => Math.max(top, s?.line ?? 0), 0);
  return {
    db,
    why,
    unread: db === null,
    epoch,
    restored,
    slots:
      db === null
        ? null
        : { a: asSnapshot(found.snapshots.get('a')), b: asSnapshot(found.snapshots.get('b')) },
    lastLine: Math.max(newest, canary?.line ?? 0, restored.line),
    pictures: picturesIn([...snapshots, second, ...found.journal]),
    session: found.session,
  };
}

const ATTEMPTS = 2;

/** Records as they stand in the database. */
export interface Found {
  readonly snapshots: Map<string, unknown>;
  journal: unknown[];
  session: unknown;
}

export const nothingFound = (): Found => ({ snapshots: new Map(), journal: [], session: null });

/** Reads one thing at a time, the most important first; what was read before a failure stays in `found`. */
export async function readAll(db: IDBDatabase, found: Found, patience: Patience): Promise<void> {
  const one = (store: 'snapshots' | 'session', key: IDBValidKey): Promise<unknown> =>
    read(db, [store], patience, (of) => {
      const request = of(store).get(key);
      return () => request.result as unknown;
    });
  const keys = await read(db, ['snapshots'], patience, (of) => {
    const request = of('snapshots').getAllKeys();
    return () => request.result;
  });
  for (const key of keys) found.snapshots.set(String(key), await one('snapshots', key));
  const journal = await read(db, ['journal'], patience, (of) => {
    const request = of('journal').getAll();
    return () => request.result as unknown[];
  }).catch(() => oneByOne(db, patience));
  if (journal.length >= found.journal.length) found.journal = journal;
  found.session = await one('session', 'session');
}

/** A sentence for the person from whatever the browser threw. */
export function reasonOf(error: unknown): string {
  const name = error instanceof Error || error instanceof DOMException ? error.name : '';
  if (name === 'QuotaExceededError') return 'There is no space left for this page on the device.';
  if (name === 'VersionError') return 'What is kept on this device was made by a newer Zonewright.';
  const text = error instanceof Error || error instanceof DOMException ? error.message : String(error);
  // What a full disk looks like from inside the browser: blobs that could not be written, or an abort without a reason.
  if (name === 'AbortError' || /write blobs|IOError|disk|space/i.test(text))
    return 'The device did not keep it. It may be full: make room, and it is tried again by itself.';
  return `The device did not keep it: ${(text || name).replace(/\.+$/, '')}.`;
}

async function oneByOne(db: IDBDatabase, patience: Patience): Promise<unknown[]> {
  const keys = await read(db, ['journal'], patience, (of) => {
    const request = of('journal').getAllKeys();
    return () => request.result;
  });
  const found: unknown[] = [];
  for (const key of keys) {
    try {
      found.push(
        await read(db, ['journal'], patience, (of) => {
          const request = of('journal').get(key);
          return () => request.result as unknown;
        }),
      );
    } catch {
      break;
    }
  }
  return found;
}

function readCanary(ports: VaultPorts): Canary | null {
  try {
    const value = JSON.parse(ports.canary?.getItem(CANARY) ?? 'null') as Canary | null;
    return value !== null && Number.isSafeInteger(value.line) && Number.isSafeInteger(value.rev)
      ? value
      : null;
  } catch {
    return null;
  }
}

/** Null when there is no second copy; something that is no snapshot when it is damaged. */
async function readSecond(ports: VaultPorts): Promise<unknown> {
  try {
    const { files } = ports;
    const bytes = files === null ? null : await patient(files, ports.patience.files).read(SECOND_COPY);
    return bytes === null ? null : (JSON.parse(new TextDecoder().decode(bytes)) as unknown);
  } catch {
    return 'damaged';
  }
}

/**
 * SHA-256 of every asset that kept states and entries name in their text, without reading them as plans: also those of an
 * older or newer version. What `assetsOf` tells of a plan is among them.
 */
export function picturesIn(kept: readonly unknown[]): Set<string> {
  const found = new Set<string>();
  for (const each of kept) {
    const text = (each as { text?: unknown } | null | undefined)?.text;
    if (typeof text !== 'string') continue;
    for (const match of text.matchAll(/"asset":"([0-9a-f]{64})"/g)) found.add(match[1] as string);
  }
  return found;
}

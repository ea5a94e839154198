import type { DocumentStore } from '../../document/types.ts';
import { Fenced, openDatabase, raiseEpoch, read, write } from './database.ts';
import type { Kept } from './kept.ts';
import { CANARY, openKept, reasonOf } from './kept.ts';
import { holdLock } from './lock.ts';
import type { VaultPorts } from './ports.ts';
import { browserPorts } from './ports.ts';
import type { Restored } from './restore.ts';
import { sha256 } from './sha256.ts';
import { pictureName, Writer } from './writer.ts';

export type VaultStatus = 'saved' | 'saving' | 'not-saved' | 'read-only';

/** The plan as it is kept on this device. Whatever storage does, editing goes on. */
export interface Vault {
  /** The newest state that could be proven whole. `doc` is null when there was nothing. */
  load(): Restored;
  /** Keeps every change of a store from now on. Returns how to stop. */
  follow(store: DocumentStore): () => void;
  status(): VaultStatus;
  /** Why it is not saved or read-only, in one sentence; else null. */
  reason(): string | null;
  subscribe(listener: () => void): () => void;
  /** Writes what waits now; true when everything is on disk. */
  flush(): Promise<boolean>;
  /** Makes this tab the one that writes. The store should then be given the newly loaded plan. */
  takeOver(): Promise<Restored>;
  readonly assets: {
    /** Keeps a picture and returns its SHA-256. */
    put(bytes: Uint8Array, mediaType: string): Promise<string>;
    get(hash: string): Promise<Uint8Array | null>;
  };
  /** Where the person was, to come back to: any plain data. */
  readonly session: { put(value: unknown): void; get(): unknown };
  close(): Promise<void>;
}

const ELSEWHERE = 'This plan is open in another tab: here it can only be looked at.';
const TAKEN = 'Another tab has taken this plan over: here it can only be looked at.';

/** Opens the device's storage. Never rejects: where nothing can be kept, the status says so. */
export async function openVault(ports: VaultPorts = browserPorts()): Promise<Vault> {
  const vault = new OpenVault(ports);
  await vault.open(false);
  return vault;
}

class OpenVault implements Vault {
  private kept!: Kept;
  private writer!: Writer;
  private db: IDBDatabase | null = null;
  private epoch: number | null = null;
  private release: () => void = () => undefined;
  private mayWrite = false;
  private why: string | null = null;
  private failures = 0;
  private working: Promise<void> | null = null;
  private again = false;
  private writeTimer: ReturnType<typeof setTimeout> | null = null;
  private snapshotTimer: ReturnType<typeof setTimeout> | null = null;
  private snapshotNow = false;
  private closed = false;
  private sessionValue: unknown = null;
  private followed: DocumentStore | null = null;
  private told = '';
  private readonly listeners = new Set<() => void>();
  private readonly stopLeave: () => void;

  constructor(private readonly ports: VaultPorts) {
    this.stopLeave = ports.onLeave(() => this.leaving());
  }

  async open(steal: boolean): Promise<void> {
    const held = await holdLock(this.ports.locks, steal, () => this.lose(TAKEN));
    this.release = held?.release ?? (() => undefined);
    this.mayWrite = held !== null;
    this.why = held === null ? ELSEWHERE : null;
    this.kept = await openKept(this.ports, this.mayWrite);
    this.writer = new Writer(this.kept);
    this.sessionValue = this.kept.session;
    this.adopt(this.kept.db);
    this.epoch = this.kept.epoch;
    if (this.kept.restored.newer !== null) this.lose(this.kept.restored.note ?? ELSEWHERE);
    if (this.mayWrite && this.kept.why !== null) this.fail(this.kept.why);
    this.tell();
  }

  private adopt(db: IDBDatabase | null): void {
    this.db = db;
    this.epoch = null;
    if (db === null) return;
    db.onversionchange = () => {
      db.close();
      this.lose('A newer Zonewright was opened in another tab: reload this one.');
    };
    db.onclose = () => {
      if (this.db === db) this.db = null;
    };
  }

  load(): Restored {
    return this.kept.restored;
  }

  follow(store: DocumentStore): () => void {
    if (this.followed !== null) throw new Error('the vault already follows a store');
    this.followed = store;
    const start = store.getState();
    this.writer.begin(start.doc, start.rev);
    const stop = store.subscribe((state, _touched, change) => {
      if (!this.mayWrite) return;
      if (change === null) this.writer.begin(state.doc, state.rev);
      else this.writer.add(change, state.doc, state.rev);
      this.schedule();
    });
    if (this.mayWrite) {
      void this.dropUnusedPictures();
      if (this.writer.hasWork()) this.schedule();
    }
    return () => {
      stop();
      this.followed = null;
    };
  }

  status(): VaultStatus {
    if (!this.mayWrite) return 'read-only';
    if (this.why !== null) return 'not-saved';
    return this.writer.isBehind() ? 'saving' : 'saved';
  }

  reason(): string | null {
    return this.why;
  }

  subscribe(listener: () => void): () => void {
    this.listeners.add(listener);
    return () => void this.listeners.delete(listener);
  }

  async flush(): Promise<boolean> {
    if (!this.mayWrite) return false;
    await this.work();
    return this.status() === 'saved';
  }

  async takeOver(): Promise<Restored> {
    this.release();
    this.db?.close();
    await this.open(true);
    if (this.followed !== null) {
      const { doc, rev } = this.followed.getState();
      this.writer.begin(this.kept.restored.doc ?? doc, this.kept.restored.doc ? this.kept.restored.rev : rev);
    }
    return this.kept.restored;
  }

  readonly assets = {
    put: async (bytes: Uint8Array, mediaType: string): Promise<string> => {
      const copy = new Uint8Array(bytes);
      const hash = await sha256(copy);
      this.writer.addPicture(hash, { bytes: copy, mediaType });
      if (this.mayWrite) this.schedule();
      return hash;
    },
    get: async (hash: string): Promise<Uint8Array | null> => {
      const waiting = this.writer.waitingPicture(hash);
      if (waiting) return waiting.bytes;
      for (const find of [
        () => this.pictureInDatabase(hash),
        () => this.ports.files?.read(pictureName(hash)),
      ]) {
        const bytes = await Promise.resolve(find()).catch(() => null);
        if (bytes && (await sha256(bytes)) === hash) return bytes;
      }
      return null;
    },
  };

  private async pictureInDatabase(hash: string): Promise<Uint8Array | null> {
    if (this.db === null) return null;
    const found = await read(this.db, ['assets'], (store) => {
      const request = store('assets').get(hash);
      return () => request.result as { readonly bytes?: unknown } | undefined;
    });
    return found?.bytes instanceof Uint8Array ? found.bytes : null;
  }

  readonly session = {
    put: (value: unknown): void => {
      this.sessionValue = value;
      if (!this.mayWrite) return;
      this.writer.setSession(value);
      this.schedule();
    },
    get: (): unknown => this.sessionValue,
  };

  async close(): Promise<void> {
    await this.flush();
    this.closed = true;
    for (const timer of [this.writeTimer, this.snapshotTimer]) if (timer !== null) clearTimeout(timer);
    this.stopLeave();
    this.db?.close();
    this.release();
  }

  private schedule(): void {
    if (this.snapshotTimer === null && !this.closed) {
      this.snapshotTimer = setTimeout(() => {
        this.snapshotTimer = null;
        this.snapshotNow = true;
        void this.work();
      }, this.ports.snapshotAfter);
    }
    // After a failure the retry has its own pace; a new change does not hurry it.
    if (this.writeTimer === null && !this.closed) this.later(this.ports.writeAfter);
    this.tell();
  }

  private later(ms: number): void {
    if (this.writeTimer !== null) clearTimeout(this.writeTimer);
    this.writeTimer = setTimeout(() => {
      this.writeTimer = null;
      void this.work();
    }, ms);
  }

  /** One write at a time; what comes meanwhile is written next. */
  private work(): Promise<void> {
    this.again = true;
    this.working ??= this.rounds().finally(() => (this.working = null));
    return this.working;
  }

  private async rounds(): Promise<void> {
    while (this.again && this.mayWrite && !this.closed) {
      this.again = false;
      try {
        await this.round();
        this.failures = 0;
        this.why = null;
      } catch (error) {
        if (error instanceof Fenced) this.lose(TAKEN);
        else this.fail(reasonOf(error));
      }
      this.tell();
    }
  }

  private async round(): Promise<void> {
    const wanted = this.writer.snapshotDue(this.snapshotNow);
    if (this.db === null) {
      // No database: the second copy still gets what it can.
      if (wanted && this.failures > 0)
        await this.writer.writeSnapshot(null, null, this.ports.files).catch(() => undefined);
      if (this.ports.indexedDB === null) throw new Error('this browser does not let the page store anything');
      this.adopt((await openDatabase(this.ports.indexedDB, true)).db);
    }
    const db = this.db as IDBDatabase | null;
    if (db === null) throw new Error('the database closed');
    try {
      this.epoch ??= await raiseEpoch(db);
      await this.writer.writeWaiting(db, this.epoch, this.ports.files);
      this.canary();
      if (!wanted) {
        this.snapshotNow = false;
        return;
      }
      await this.writer.writeSnapshot(db, this.epoch, this.ports.files);
      this.snapshotNow = false;
      this.canary();
    } catch (error) {
      // After some failures a connection is dead for good: the next attempt opens a new one.
      if (!(error instanceof Fenced) && this.db === db) {
        db.close();
        this.db = null;
      }
      throw error;
    }
  }

  private canary(): void {
    if (this.writer.isBehind()) return;
    this.setCanary();
  }

  private setCanary(): void {
    try {
      this.ports.canary?.setItem(CANARY, JSON.stringify(this.writer.reached()));
    } catch {
      // Without it only a silent wipe goes unnoticed.
    }
  }

  private leaving(): void {
    if (!this.mayWrite || this.db === null || !this.writer.hasWork()) return;
    try {
      this.writer.writeLeaving(this.db);
      this.setCanary();
    } catch {
      void this.work();
    }
  }

  private fail(why: string): void {
    this.why = why;
    const { retryAfter } = this.ports;
    const wait = retryAfter[Math.min(this.failures, retryAfter.length - 1)] ?? 10_000;
    this.failures++;
    if (!this.closed) this.later(wait);
    this.tell();
  }

  private lose(why: string): void {
    this.mayWrite = false;
    this.why = why;
    this.tell();
  }

  private tell(): void {
    const now = `${this.writer ? this.status() : ''} ${this.why ?? ''}`;
    if (now === this.told) return;
    this.told = now;
    for (const listener of [...this.listeners]) listener();
  }

  /** Pictures no kept state and not the open plan mentions. */
  private async dropUnusedPictures(): Promise<void> {
    const db = this.db;
    if (db === null) return;
    const used = new Set(this.kept.pictures);
    const open = this.followed?.getState().doc.tracings.byId ?? {};
    for (const tracing of Object.values(open)) used.add(tracing.asset);
    try {
      const keys = await read(db, ['assets'], (store) => {
        const request = store('assets').getAllKeys();
        return () => request.result;
      });
      const unused = keys.filter((key) => !used.has(String(key)) && !this.writer.waitingPicture(String(key)));
      if (unused.length === 0) return;
      await write(db, ['assets'], this.epoch, 'relaxed', (store) => {
        for (const key of unused) store('assets').delete(key);
      });
      for (const key of unused) await this.ports.files?.remove(pictureName(String(key)));
    } catch {
      // They only take up room; the next visit tries again.
    }
  }
}

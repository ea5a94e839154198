import { assetsOf } from '../../engine/model/assets.ts';
import type { DocumentStore } from '../../document/types.ts';
import { Cleared, Fenced, openDatabase, raiseEpoch, read, write } from './database.ts';
import type { Kept } from './kept.ts';
import { CANARY, openKept, reasonOf } from './kept.ts';
import { holdLock } from './lock.ts';
import type { FileStore, VaultPorts } from './ports.ts';
import { browserPorts, patient } from './ports.ts';
import { rescueUnread } from './rescue.ts';
import type { Restored } from './restore.ts';
import { sha256 } from './sha256.ts';
import { pictureName, Writer } from './writer.ts';

export type VaultStatus = 'saved' | 'saving' | 'not-saved' | 'read-only';

/** `cleared`: the pictures of the plan must be put again too. */
export interface News {
  readonly kind: 'cleared' | 'found';
  readonly text: string;
}

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
  /** Calls back with a sentence for the person when something has happened to what is kept. */
  onNews(listener: (news: News) => void): () => void;
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

const CLEARED: News = {
  kind: 'cleared',
  text: 'What this browser kept was cleared while the plan was open. The plan has been written again.',
};
const FOUND: News = {
  kind: 'found',
  text: 'A plan that could not be read at the start can be read now: it is among the kept plans.',
};

const ELSEWHERE = 'This plan is open in another tab: here it can only be looked at.';
const TAKEN = 'Another tab has taken this plan over: here it can only be looked at.';

/**
 * Opens the device's storage. `alsoUsed` names pictures that something besides the plan needs; while it fails none is
 * dropped. Never rejects: where nothing can be kept, the status says so.
 */
export async function openVault(
  ports: VaultPorts = browserPorts(),
  alsoUsed: () => Promise<Iterable<string>> = () => Promise.resolve([]),
): Promise<Vault> {
  const vault = new OpenVault(ports, alsoUsed);
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
  private secondTimer: ReturnType<typeof setTimeout> | null = null;
  private snapshotNow = false;
  private secondNow = false;
  /** The connection is new, and what stands behind it not yet looked at. */
  private unproven = false;
  private unread = false;
  private closed = false;
  private sessionValue: unknown = null;
  private followed: DocumentStore | null = null;
  private told = '';
  private readonly listeners = new Set<() => void>();
  private readonly newsListeners = new Set<(news: News) => void>();
  private readonly stopLeave: () => void;
  private readonly files: FileStore | null;

  constructor(
    private readonly ports: VaultPorts,
    private readonly alsoUsed: () => Promise<Iterable<string>>,
  ) {
    this.files = ports.files === null ? null : patient(ports.files, ports.patience.files);
    this.stopLeave = ports.onLeave(() => this.leaving());
  }

  async open(steal: boolean): Promise<void> {
    const held = await holdLock(this.ports.locks, steal, this.ports.patience.lock, () => this.lose(TAKEN));
    this.release = held?.release ?? (() => undefined);
    this.mayWrite = held !== null;
    this.why = held === null ? ELSEWHERE : null;
    this.kept = await openKept(this.ports, this.mayWrite);
    this.unread = this.kept.unread;
    this.writer = new Writer(this.kept, this.files, this.ports.patience);
    this.sessionValue = this.kept.session;
    this.adopt(this.kept.db);
    this.epoch = this.kept.epoch;
    if (this.kept.restored.newer !== null) this.lose(this.kept.restored.note ?? ELSEWHERE);
    if (this.mayWrite && this.kept.why !== null) this.fail(this.kept.why);
    this.tell();
  }

  private adopt(db: IDBDatabase | null): void {
    this.db = db;
    if (db === null) return;
    db.onversionchange = () => {
      db.close();
      this.lose('A newer Zonewright was opened in another tab: reload this one.');
    };
    db.onclose = () => {
      if (this.db !== db) return;
      this.db = null;
      // Taken away by the browser: perhaps with everything in it, so it is looked at again at once.
      if (this.mayWrite && !this.closed) void this.work();
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
      this.scheduleSecond();
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

  onNews(listener: (news: News) => void): () => void {
    this.newsListeners.add(listener);
    return () => void this.newsListeners.delete(listener);
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
      for (const find of [() => this.pictureInDatabase(hash), () => this.files?.read(pictureName(hash))]) {
        const bytes = await Promise.resolve(find()).catch(() => null);
        if (bytes && (await sha256(bytes)) === hash) return bytes;
      }
      return null;
    },
  };

  private async pictureInDatabase(hash: string): Promise<Uint8Array | null> {
    if (this.db === null) return null;
    const found = await read(this.db, ['assets'], this.ports.patience, (store) => {
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
    for (const timer of [this.writeTimer, this.snapshotTimer, this.secondTimer])
      if (timer !== null) clearTimeout(timer);
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

  /** Soon after the person rests, so that what a torn database loses is seconds. */
  private scheduleSecond(): void {
    if (this.secondTimer !== null) clearTimeout(this.secondTimer);
    if (this.closed) return;
    this.secondTimer = setTimeout(() => {
      this.secondTimer = null;
      this.secondNow = true;
      void this.work();
    }, this.ports.secondAfter);
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
        else if (error instanceof Cleared) this.startAgain();
        else this.fail(reasonOf(error));
      }
      this.tell();
    }
  }

  private async round(): Promise<void> {
    try {
      const db = this.db ?? (await this.reopen());
      await this.prove(db);
      const wanted = this.writer.snapshotDue(this.snapshotNow);
      await this.writer.writeWaiting(db, this.epoch);
      this.canary();
      if (wanted) {
        await this.writer.writeSnapshot(db, this.epoch);
        this.canary();
      } else if (this.secondNow) await this.writer.writeSecond();
      this.snapshotNow = false;
      this.secondNow = false;
    } catch (error) {
      // After some failures a connection is dead for good: the next attempt opens a new one.
      if (!(error instanceof Fenced) && !(error instanceof Cleared)) {
        this.db?.close();
        this.db = null;
      }
      throw error;
    }
  }

  private async reopen(): Promise<IDBDatabase> {
    // No database: the second copy still gets what it can.
    if (this.failures > 0 && this.writer.snapshotDue(this.snapshotNow))
      await this.writer.writeSnapshot(null, null).catch(() => undefined);
    const { indexedDB, patience } = this.ports;
    if (indexedDB === null) throw new Error('this browser does not let the page store anything');
    const { db } = await openDatabase(indexedDB, patience, true);
    this.adopt(db);
    this.unproven = true;
    return db;
  }

  /** Before anything is written: that this tab is the writer, and that what it has written is still there. */
  private async prove(db: IDBDatabase): Promise<void> {
    if (this.unread) {
      const found = await rescueUnread(db, this.ports.patience);
      this.unread = false;
      if (found !== null) {
        this.writer.rebase(found.line);
        if (found.further(this.kept.restored)) this.news(FOUND);
      }
    }
    if (this.epoch === null) this.epoch = await raiseEpoch(db, this.ports.patience);
    else if (this.unproven) await write(db, [], this.epoch, 'relaxed', this.ports.patience, () => undefined);
    this.unproven = false;
  }

  /** The database was emptied under the open plan: everything is written anew, on a line of its own. */
  private startAgain(): void {
    this.epoch = null;
    this.unproven = false;
    this.writer.rebase();
    this.again = true;
    this.news(CLEARED);
  }

  private news(news: News): void {
    for (const listener of [...this.newsListeners]) listener(news);
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
    const open = this.followed?.getState().doc;
    if (open) for (const hash of assetsOf(open).keys()) used.add(hash);
    try {
      for (const hash of await this.alsoUsed()) used.add(hash);
      const keys = await read(db, ['assets'], this.ports.patience, (store) => {
        const request = store('assets').getAllKeys();
        return () => request.result;
      });
      const unused = keys.filter((key) => !used.has(String(key)) && !this.writer.waitingPicture(String(key)));
      if (unused.length === 0) return;
      await write(db, ['assets'], this.epoch, 'relaxed', this.ports.patience, (store) => {
        for (const key of unused) store('assets').delete(key);
      });
      for (const key of unused) await this.files?.remove(pictureName(String(key)));
    } catch {
      // They only take up room; the next visit tries again.
    }
  }
}

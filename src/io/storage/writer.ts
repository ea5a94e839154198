import type { Change } from '../../document/types.ts';
import type { PlanDocument } from '../../engine/model/document.ts';
import { write } from './database.ts';
import { entryOf } from './entry.ts';
import type { Kept, Slot } from './kept.ts';
import { SECOND_COPY } from './kept.ts';
import type { FileStore, VaultPorts } from './ports.ts';
import type { JournalRecord, Snapshot } from './restore.ts';
import { asSnapshot, journalHash, snapshotBytes } from './restore.ts';
import { sha256, sha256Now, sha256Text } from './sha256.ts';

/** A snapshot is due after so many entries, whatever the time. */
const ENTRIES_PER_SNAPSHOT = 200;

/** Plans that were open before keep their last snapshot on a shelf of this many. */
const SHELF = 10;
const SHELVED = 'before-';

/** A picture waiting to be written. */
export interface WaitingPicture {
  readonly bytes: Uint8Array;
  readonly mediaType: string;
}

/**
 * What is still to be written, and how. It keeps its queue whatever fails: only what a transaction has completed is taken
 * off. Knows nothing of timers, locks or status.
 */
export class Writer {
  private line: number;
  private chain: string;
  private rev = 0;
  private doc: PlanDocument | null = null;
  private queue: JournalRecord[] = [];
  private slots: Kept['slots'];
  private sinceSnapshot = 0;
  /** What the second copy holds, as far as this visit has written it. */
  private second: { readonly line: number; readonly rev: number } | null = null;
  /** The line has no snapshot on disk yet, so that its journal alone would be worth nothing. */
  private baseMissing = false;
  private readonly pictures = new Map<string, WaitingPicture>();
  private session: { readonly value: unknown } | null = null;

  constructor(
    private readonly kept: Kept,
    private readonly files: FileStore | null,
    private readonly patience: VaultPorts['patience'],
  ) {
    this.line = kept.lastLine;
    this.chain = kept.restored.chain;
    this.slots = kept.slots;
  }

  /** Starts on a document: carries the journal on where it is the very state that was restored, else begins anew. */
  begin(doc: PlanDocument, rev: number): void {
    const { restored } = this.kept;
    if (this.doc === null && restored.clean && restored.doc === doc && restored.rev === rev) {
      this.line = restored.line;
      this.chain = restored.chain;
      this.doc = doc;
      this.rev = rev;
      return;
    }
    this.doc = doc;
    this.rev = rev;
    this.rebase();
  }

  /**
   * Begins a new line with what is open now, above every line there may be on the device: what is on disk has nothing of
   * this plan any more, or something that must not be carried on.
   */
  rebase(above = 0): void {
    this.line = Math.max(this.line, above) + 1;
    this.chain = sha256Text(`line ${this.line}`);
    this.queue = [];
    this.baseMissing = this.doc !== null;
  }

  /** Takes a change into the journal. */
  add(change: Change, doc: PlanDocument, rev: number): void {
    const text = JSON.stringify(entryOf(change));
    const hash = journalHash(this.line, rev, this.chain, text);
    this.queue.push({ line: this.line, rev, prev: this.chain, hash, text });
    this.chain = hash;
    this.doc = doc;
    this.rev = rev;
    this.sinceSnapshot++;
  }

  addPicture(hash: string, picture: WaitingPicture): void {
    this.pictures.set(hash, picture);
  }

  waitingPicture(hash: string): WaitingPicture | null {
    return this.pictures.get(hash) ?? null;
  }

  setSession(value: unknown): void {
    this.session = { value };
  }

  /** True while something the person did is not on disk. */
  isBehind(): boolean {
    return this.queue.length > 0 || this.pictures.size > 0 || this.baseMissing;
  }

  hasWork(): boolean {
    return this.isBehind() || this.session !== null || this.snapshotDue(false);
  }

  /** Due by count, or (when it has been long enough) by any change since the last. */
  snapshotDue(longEnough: boolean): boolean {
    return this.baseMissing || this.sinceSnapshot >= (longEnough ? 1 : ENTRIES_PER_SNAPSHOT);
  }

  reached(): { readonly line: number; readonly rev: number } {
    return { line: this.line, rev: this.rev };
  }

  /** Writes the journal, pictures and session that wait, in one transaction. Rejects with what the browser said. */
  async writeWaiting(db: IDBDatabase, epoch: number | null): Promise<void> {
    const entries = this.queue.slice();
    const pictures = [...this.pictures];
    const session = this.session;
    if (entries.length === 0 && pictures.length === 0 && session === null) return;
    await write(db, ['journal', 'assets', 'session'], epoch, 'relaxed', this.patience, (store) => {
      for (const entry of entries) store('journal').put(entry);
      for (const [hash, picture] of pictures) store('assets').put(picture, hash);
      if (session) store('session').put(session.value, 'session');
    });
    this.queue = this.queue.filter((entry) => !entries.includes(entry));
    for (const [hash, picture] of pictures) {
      if (this.pictures.get(hash) === picture) this.pictures.delete(hash);
      await this.files?.write(pictureName(hash), picture.bytes).catch(() => undefined);
    }
    if (this.session === session) this.session = null;
  }

  /**
   * Takes a snapshot into the slot that does not hold the newest one, drops the journal both slots no longer need, and
   * writes the second copy, also when the database refuses. The last snapshot of a line before goes to a shelf.
   */
  async writeSnapshot(db: IDBDatabase | null, epoch: number | null): Promise<void> {
    const count = this.sinceSnapshot;
    const snapshot = await this.snapshot();
    if (snapshot === null) return;
    const second = this.putSecond(snapshot);
    try {
      if (db === null) throw new Error('the database is not open');
      await write(db, ['snapshots', 'journal'], epoch, 'strict', this.patience, (store) =>
        this.putSnapshot(store, snapshot),
      );
    } finally {
      await second;
    }
    this.sinceSnapshot -= count;
    if (snapshot.line === this.line) this.baseMissing = false;
  }

  /** Brings the second copy up to date, if a change came since. */
  async writeSecond(): Promise<void> {
    if (this.second?.line === this.line && this.second.rev === this.rev) return;
    const snapshot = await this.snapshot();
    if (snapshot !== null) await this.putSecond(snapshot);
  }

  private async snapshot(): Promise<Snapshot | null> {
    if (this.doc === null) return null;
    const bare = { line: this.line, rev: this.rev, chain: this.chain, text: JSON.stringify(this.doc) };
    return { ...bare, sha256: await sha256(snapshotBytes(bare)) };
  }

  private async putSecond(snapshot: Snapshot): Promise<void> {
    await this.files
      ?.write(SECOND_COPY, new TextEncoder().encode(JSON.stringify(snapshot)))
      .then(() => (this.second = { line: snapshot.line, rev: snapshot.rev }))
      .catch(() => undefined);
  }

  /** What stands in the slots is looked up in the same transaction: the newest is never written over, whoever wrote it. */
  private putSnapshot(store: (name: 'snapshots' | 'journal') => IDBObjectStore, snapshot: Snapshot): void {
    const shelf = store('snapshots');
    const inA = shelf.get('a');
    const inB = shelf.get('b');
    const keys = shelf.getAllKeys();
    keys.onsuccess = () => {
      const slots = { a: asSnapshot(inA.result), b: asSnapshot(inB.result) };
      const slot = freeSlot(slots);
      const other = slots[slot === 'a' ? 'b' : 'a'];
      const shelved = new Set(keys.result.map(String).filter((key) => key.startsWith(SHELVED)));
      if (other !== null && other.line < snapshot.line) {
        const key = shelvedKey(other.line);
        // One carried on along its journal is already further than the snapshot it began with.
        if (!shelved.has(key)) shelf.put(other, key);
        shelved.add(key);
      }
      for (const key of [...shelved].sort().slice(0, -SHELF)) shelf.delete(key);
      shelf.put(snapshot, slot);
      const keep = other !== null && older(other, snapshot) ? other : snapshot;
      store('journal').delete(IDBKeyRange.upperBound([keep.line, keep.rev]));
      this.slots = { ...slots, [slot]: snapshot };
    };
  }

  /**
   * The page may be going: issues everything that waits at once and does not wait for it. Small by design; a line without
   * a snapshot gets one here.
   */
  writeLeaving(db: IDBDatabase): void {
    const tx = db.transaction(['journal', 'session', 'snapshots', 'assets'], 'readwrite', {
      durability: 'relaxed',
    });
    for (const entry of this.queue) tx.objectStore('journal').put(entry);
    if (this.session) tx.objectStore('session').put(this.session.value, 'session');
    if (this.baseMissing && this.doc !== null && this.slots !== null) {
      const bare = { line: this.line, rev: this.rev, chain: this.chain, text: JSON.stringify(this.doc) };
      tx.objectStore('snapshots').put(
        { ...bare, sha256: sha256Now(snapshotBytes(bare)) },
        freeSlot(this.slots),
      );
    }
    for (const [hash, picture] of this.pictures) tx.objectStore('assets').put(picture, hash);
    tx.commit();
  }
}

/** The slot that does not hold the newest snapshot. */
function freeSlot({ a, b }: NonNullable<Kept['slots']>): Slot {
  if (a === null) return 'a';
  return b === null || older(b, a) ? 'b' : 'a';
}

/** Where the last state of a line stands on the shelf. */
export function shelvedKey(line: number): string {
  return `${SHELVED}${String(line).padStart(12, '0')}`;
}

/** File of a picture's second copy. */
export function pictureName(hash: string): string {
  return `picture-${hash}`;
}

function older(a: Pick<Snapshot, 'line' | 'rev'>, b: Pick<Snapshot, 'line' | 'rev'>): boolean {
  return a.line < b.line || (a.line === b.line && a.rev < b.rev);
}

import type { Patience } from './database.ts';
import { write } from './database.ts';
import { nothingFound, readAll } from './kept.ts';
import type { Restored, Snapshot } from './restore.ts';
import { restore, snapshotBytes } from './restore.ts';
import { sha256 } from './sha256.ts';
import { shelvedKey } from './writer.ts';

/** What a database held that could not be read when the page was opened. */
export interface Rescued {
  /** The highest line in it. */
  readonly line: number;
  /** True when it had come further than what was opened instead. */
  further(opened: Restored): boolean;
}

/**
 * A database that would not be read at the start opens now. Its newest whole state is put on the shelf, before a new line
 * is begun that would in time drop its journal. Null when it holds nothing. Rejects when it still cannot be read.
 */
export async function rescueUnread(db: IDBDatabase, patience: Patience): Promise<Rescued | null> {
  const found = nothingFound();
  await readAll(db, found, patience);
  const snapshots = [...found.snapshots.values()];
  const restored = await restore({ snapshots, second: null, journal: found.journal, canary: null });
  const { doc, line, rev, chain, newer } = restored;
  if (newer !== null) throw new Error('what is kept here was made by a newer Zonewright');
  if (doc === null) return null;
  const bare = { line, rev, chain, text: JSON.stringify(doc) };
  const snapshot: Snapshot = { ...bare, sha256: await sha256(snapshotBytes(bare)) };
  await write(db, ['snapshots'], null, 'strict', patience, (store) => {
    store('snapshots').put(snapshot, shelvedKey(line));
  });
  return {
    line,
    further: (opened) => line > opened.line || (line === opened.line && rev > opened.rev),
  };
}

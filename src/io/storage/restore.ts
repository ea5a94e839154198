import { decodeFile, problemText } from '../../document/codec/file.ts';
import type { Plain } from '../../document/codec/migrations/plain.ts';
import { VERSION } from '../../document/codec/planFile.ts';
import type { PlanDocument } from '../../engine/model/document.ts';
import { applyEntry } from './entry.ts';
import { sha256, sha256Text } from './sha256.ts';

/** A whole document as it was at `rev`. A line is one stretch of work on one plan, from opening to opening. */
export interface Snapshot {
  readonly line: number;
  readonly rev: number;
  /** Hash the journal had reached: the next entry names it as its `prev`. */
  readonly chain: string;
  readonly text: string;
  /** Of everything above. */
  readonly sha256: string;
}

/** One change, chained to the one before. */
export interface JournalRecord {
  readonly line: number;
  readonly rev: number;
  readonly prev: string;
  readonly hash: string;
  readonly text: string;
}

/** What the last visit had reached, kept where a wiped database cannot take it along. */
export interface Canary {
  readonly line: number;
  readonly rev: number;
}

export interface Restored {
  readonly doc: PlanDocument | null;
  readonly line: number;
  readonly rev: number;
  /** One sentence when something of it had to be changed to be read; else null. */
  readonly said: string | null;
  readonly how: 'journal' | 'snapshot' | 'second-copy' | 'nothing';
  /** One plain sentence when something is not as it was left, else null. */
  readonly note: string | null;
  /** Hash the journal has reached at `rev`. */
  readonly chain: string;
  /** Nothing is damaged, left over or of an older format: the journal of this line may simply be carried on. */
  readonly clean: boolean;
  /** Text of a plan that must be left alone (made by a newer version): to be offered as a file, never written over. */
  readonly newer: string | null;
}

/** What a snapshot's hash is taken of. */
export function snapshotBytes(s: Omit<Snapshot, 'sha256'>): Uint8Array {
  return new TextEncoder().encode(`${s.line}\n${s.rev}\n${s.chain}\n${s.text}`);
}

/** Hash of a journal entry: of all before it and its own text. */
export function journalHash(line: number, rev: number, prev: string, text: string): string {
  return sha256Text(`${prev}\n${line}\n${rev}\n${text}`);
}

/** The form of a snapshot, if that is what this is. Its hash is still to be checked. */
export function asSnapshot(value: unknown): Snapshot | null {
  if (typeof value !== 'object' || value === null) return null;
  const s = value as Snapshot;
  const sound =
    Number.isSafeInteger(s.line) &&
    Number.isSafeInteger(s.rev) &&
    [s.chain, s.text, s.sha256].every((t) => typeof t === 'string');
  return sound ? s : null;
}

function asRecord(value: unknown): JournalRecord | null {
  if (typeof value !== 'object' || value === null) return null;
  const r = value as JournalRecord;
  const sound =
    Number.isSafeInteger(r.line) &&
    Number.isSafeInteger(r.rev) &&
    [r.prev, r.hash, r.text].every((t) => typeof t === 'string');
  return sound ? r : null;
}

/**
 * The newest state that can be proven whole: each undamaged snapshot is carried forward along the unbroken part of the
 * journal, and the furthest wins. Nothing is guessed: the result is a state that once was, or nothing.
 */
export async function restore(kept: {
  readonly snapshots: readonly unknown[];
  readonly second: unknown;
  readonly journal: readonly unknown[];
  readonly canary: Canary | null;
}): Promise<Restored> {
  const entries = kept.journal.map(asRecord).filter((r) => r !== null);
  const bases = [...kept.snapshots.map((s) => [s, false] as const), [kept.second, true] as const];
  const reached: { at: Restored; steps: number }[] = [];
  let damaged = false;
  for (const [value, isSecond] of bases) {
    if (value === null || value === undefined) continue;
    const snapshot = asSnapshot(value);
    if (snapshot === null || (await sha256(snapshotBytes(snapshot))) !== snapshot.sha256) {
      damaged = true;
      continue;
    }
    const at = carry(snapshot, entries, isSecond);
    if (at === null) damaged = true;
    else reached.push(at);
  }
  const newer = reached.find((r) => r.at.newer !== null);
  if (newer) return newer.at;
  const last = (r: Restored): number => (r.how === 'second-copy' ? 1 : 0);
  reached.sort(
    (p, q) => q.at.line - p.at.line || q.at.rev - p.at.rev || last(p.at) - last(q.at) || p.steps - q.steps,
  );
  const best = reached[0]?.at;
  const canary = kept.canary;
  if (!best) {
    const note =
      damaged || canary !== null
        ? 'What was kept on this device could not be read. Open your plan from a file.'
        : null;
    return { ...NOTHING, line: canary?.line ?? 0, note };
  }
  const note = noteOn(best, canary, damaged);
  const leftOver = entries.some((e) => e.line > best.line || (e.line === best.line && e.rev > best.rev));
  return {
    ...best,
    note,
    clean: best.clean && note === null && !damaged && !leftOver && best.how !== 'second-copy',
  };
}

const NOTHING: Restored = {
  doc: null,
  line: 0,
  rev: 0,
  how: 'nothing',
  said: null,
  note: null,
  chain: '',
  clean: false,
  newer: null,
};

function noteOn(best: Restored, canary: Canary | null, damaged: boolean): string | null {
  if (canary !== null && canary.line > best.line)
    return 'The plan last open could not be read: this is the one before it.';
  const lost = canary !== null && canary.line === best.line ? canary.rev - best.rev : 0;
  if (lost > 0)
    return `The last ${lost === 1 ? 'change' : `${lost} changes`} could not be read: look the plan over.`;
  if (best.how === 'second-copy')
    return 'The plan was restored from its second copy: look the last changes over.';
  return damaged ? 'One copy of the plan was damaged and has been replaced.' : null;
}

function carry(
  base: Snapshot,
  entries: readonly JournalRecord[],
  isSecond: boolean,
): { at: Restored; steps: number } | null {
  const start = decodeFile(base.text);
  const how = isSecond ? 'second-copy' : 'snapshot';
  if (!start.ok) {
    if (!/newer Zonewright/.test(start.problem.message)) return null;
    const note = `The plan kept on this device is left alone: ${problemText(start.problem)}.`;
    return {
      at: { ...NOTHING, line: base.line, rev: base.rev, note, newer: base.text },
      steps: 0,
    };
  }
  const byRev = new Map(entries.filter((e) => e.line === base.line).map((e) => [e.rev, e]));
  const kept = JSON.parse(base.text) as Plain;
  let raw = kept;
  let { rev, chain } = base;
  for (let next = byRev.get(rev + 1); next !== undefined; next = byRev.get(rev + 1)) {
    if (next.prev !== chain || next.hash !== journalHash(next.line, next.rev, next.prev, next.text)) break;
    const after = applyEntry(raw, JSON.parse(next.text));
    if (after === null) break;
    raw = after;
    rev = next.rev;
    chain = next.hash;
  }
  const steps = rev - base.rev;
  const checked = steps === 0 ? start : decodeFile(JSON.stringify(raw));
  const whole = checked.ok
    ? { doc: checked.doc, said: checked.said, rev, chain, steps }
    : { doc: start.doc, said: start.said, rev: base.rev, chain: base.chain, steps: 0 };
  return {
    at: {
      doc: whole.doc,
      said: whole.said,
      line: base.line,
      rev: whole.rev,
      chain: whole.chain,
      clean: kept['version'] === VERSION,
      how: whole.steps > 0 && !isSecond ? 'journal' : how,
      note: null,
      newer: null,
    },
    steps: whole.steps,
  };
}

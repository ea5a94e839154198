import { current, isDraft, original, produce } from 'immer';
import type { Draft } from 'immer';
import type { Id, PlanDocument, Table, TableName, Tables } from '../engine/model/document.ts';
import { RECORDS } from '../engine/model/records.ts';
import { tableOf } from '../engine/model/tables.ts';
import { unsavable } from './codec/check.ts';
import type { Command, Done, Refusal } from './types.ts';

export type PlanDraft = Draft<PlanDocument>;

/** What a recipe is told, and what it may say besides the change itself. */
export interface Step {
  /** The document as it was before the command: plain, safe to hand to the engine. */
  readonly doc: PlanDocument;
  /** Names a new record, for selecting it. */
  made(id: Id): void;
  /** One plain sentence worth telling; several are joined. */
  note(text: string): void;
}

/** A reason, in one plain sentence, why a command may not be done. */
export function refuse(reason: string): Refusal {
  return { ok: false, reason };
}

/**
 * A command from a recipe that writes into a draft. The recipe returns a refusal to leave the document untouched, or
 * nothing. What the file format could not hold (a number that is none, a text without end) is refused here for all commands.
 * Throws only where the recipe itself is broken.
 */
export function command(name: string, recipe: (draft: PlanDraft, step: Step) => Refusal | void): Command {
  return { name, apply: (doc) => transact(doc, recipe) };
}

function transact(
  doc: PlanDocument,
  recipe: (draft: PlanDraft, step: Step) => Refusal | void,
): Done | Refusal {
  const made: Id[] = [];
  const notes: string[] = [];
  const step: Step = { doc, made: (id) => made.push(id), note: (text) => notes.push(text) };
  let refusal = undefined as Refusal | void;
  const next = produce(doc, (draft) => {
    refusal = recipe(draft, step);
  });
  if (refusal) return refusal;
  const wrong = unsavable(doc, next);
  if (wrong !== null) return refuse(`This cannot be kept in a plan: ${wrong}.`);
  return { ok: true, doc: next, made, note: notes.length === 0 ? null : notes.join(' ') };
}

/** Several commands as one step of undo: all of them, or none with the first reason. */
export function together(name: string, commands: readonly Command[]): Command {
  return {
    name,
    apply: (doc) => {
      const made: Id[] = [];
      const notes: string[] = [];
      let now = doc;
      for (const each of commands) {
        const result = each.apply(now);
        if (!result.ok) return result;
        now = result.doc;
        made.push(...result.made);
        if (result.note !== null) notes.push(result.note);
      }
      return { ok: true, doc: now, made, note: notes.length === 0 ? null : notes.join(' ') };
    },
  };
}

interface WritableTable<T> {
  order: Id[];
  byId: Record<Id, T>;
}

/** The named table of a draft, writable. */
export function draftTable<K extends TableName>(draft: PlanDraft, name: K): WritableTable<Draft<Tables[K]>> {
  return tableOf(draft as unknown as PlanDocument, name) as unknown as WritableTable<Draft<Tables[K]>>;
}

/** Adds a record at the end of its table. Throws when the id is taken. */
export function put<K extends TableName>(draft: PlanDraft, name: K, record: Tables[K]): void {
  const table = draftTable(draft, name);
  if (Object.hasOwn(table.byId, record.id)) throw new Error(`${name}.${record.id} already exists`);
  table.order.push(record.id);
  table.byId[record.id] = record as Draft<Tables[K]>;
}

/** Takes a record out of its table; nothing happens when it is not there. */
export function drop<K extends TableName>(draft: PlanDraft, name: K, id: Id): void {
  const table = draftTable(draft, name);
  if (!Object.hasOwn(table.byId, id)) return;
  table.order.splice(table.order.indexOf(id), 1);
  delete table.byId[id];
}

/** Writes the fields of a patch into a record; fields given as undefined are left alone. */
export function patch<K extends TableName>(
  draft: PlanDraft,
  name: K,
  id: Id,
  fields: Partial<Omit<Tables[K], 'id'>>,
): void {
  const record = draftTable(draft, name).byId[id];
  if (record === undefined) throw new Error(`${name}.${id} does not exist`);
  assign(record as Record<string, unknown>, fields as Record<string, unknown>);
}

/** Writes only what differs, so that a patch with nothing new is no change at all. */
export function assign(target: Record<string, unknown>, fields: Readonly<Record<string, unknown>>): void {
  // Compared with plain data: reading through a draft would make a draft of all that is read.
  const now = isDraft(target) ? current(target) : target;
  for (const [key, value] of Object.entries(fields)) {
    if (value !== undefined && !sameValue(now[key], value)) target[key] = value;
  }
}

/** Deep equality of plain JSON values. */
export function sameValue(a: unknown, b: unknown): boolean {
  if (Object.is(a, b)) return true;
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return false;
  const left = Object.entries(a);
  if (Array.isArray(a) !== Array.isArray(b) || left.length !== Object.keys(b).length) return false;
  return left.every(([k, v]) => Object.hasOwn(b, k) && sameValue(v, (b as Record<string, unknown>)[k]));
}

/** The next id of a table, from its counter. Numbers are never given out twice, whatever was removed since. */
export function nextId(draft: PlanDraft, name: TableName): Id {
  return `${RECORDS[name].prefix}${nextNumber(draft, name, () => true)}`;
}

/** The next id and label (`p12` and `P12`) of a labelled table: the same number, never used in either before. */
export function nextLabelled(
  draft: PlanDraft,
  name: 'points' | 'circuits' | 'runs',
): { id: Id; label: string } {
  const letter = RECORDS[name].prefix.toUpperCase();
  // Labels given out earlier in the same command come from the same counter, so the plan as it was is enough.
  const before = (original(draft) ?? draft) as unknown as PlanDocument;
  const used = new Set(Object.values(before[name].byId).map((r) => r.label.toUpperCase()));
  const n = nextNumber(draft, name, (k) => !used.has(`${letter}${k}`));
  return { id: `${RECORDS[name].prefix}${n}`, label: `${letter}${n}` };
}

function nextNumber(draft: PlanDraft, name: TableName, free: (n: number) => boolean): number {
  const prefix = RECORDS[name].prefix;
  const table: Table<unknown> = draftTable(draft, name) as Table<unknown>;
  let n = (draft.counters[prefix] ?? 0) + 1;
  while (Object.hasOwn(table.byId, `${prefix}${n}`) || !free(n)) n++;
  draft.counters[prefix] = n;
  return n;
}

import type { Change, TableChange } from '../../document/types.ts';
import type { Plain } from '../../document/codec/migrations/plain.ts';
import { asPlain } from '../../document/codec/migrations/plain.ts';
import type { Id, Table, TableName } from '../../engine/model/document.ts';

/** One table's part of a journal entry. `order` is [where, how many go, what comes], left out when it did not change. */
interface TableEntry {
  readonly table: TableName;
  readonly order?: readonly [number, number, readonly Id[]];
  readonly put?: Readonly<Record<Id, unknown>>;
  readonly gone?: readonly Id[];
}

/** What a change made of the document, forwards only and small enough to be written while the page is being left. */
export interface ChangeEntry {
  readonly name: string;
  readonly job?: unknown;
  readonly counters?: unknown;
  readonly tables: readonly TableEntry[];
}

/** The journal's form of a change. */
export function entryOf(change: Change): ChangeEntry {
  return {
    name: change.name,
    ...(change.job ? { job: change.job.after } : {}),
    ...(change.counters ? { counters: change.counters.after } : {}),
    tables: change.tables.map(tableEntry),
  };
}

function tableEntry(t: TableChange): TableEntry {
  const put = t.records.filter((r) => r.after !== undefined).map((r) => [r.id, r.after] as const);
  const gone = t.records.filter((r) => r.after === undefined).map((r) => r.id);
  return {
    table: t.table,
    ...(t.orderBefore === t.orderAfter ? {} : { order: splice(t.orderBefore, t.orderAfter) }),
    ...(put.length > 0 ? { put: Object.fromEntries(put) } : {}),
    ...(gone.length > 0 ? { gone } : {}),
  };
}

function splice(before: readonly Id[], after: readonly Id[]): [number, number, readonly Id[]] {
  let start = 0;
  while (start < before.length && start < after.length && before[start] === after[start]) start++;
  let end = 0;
  while (
    end < before.length - start &&
    end < after.length - start &&
    before[before.length - 1 - end] === after[after.length - 1 - end]
  )
    end++;
  return [start, before.length - start - end, after.slice(start, after.length - end)];
}

/**
 * The plan after an entry, as the plain JSON it was kept as: a plan and its journal may be of an older version of the
 * format, and are brought up to date once they are put together. Nothing of an entry is believed beyond its outer form:
 * the result must still pass the decoder. Null where the entry cannot be one of ours.
 */
export function applyEntry(doc: Plain, entry: unknown): Plain | null {
  if (typeof entry !== 'object' || entry === null || !Array.isArray((entry as ChangeEntry).tables))
    return null;
  const { job, counters, tables } = entry as ChangeEntry;
  const next: Record<string, unknown> = { ...doc };
  if (job !== undefined) next['job'] = job;
  if (counters !== undefined) next['counters'] = counters;
  for (const each of tables) {
    // Version 1 kept the tables of cables and boxes in a catalogue.
    const catalogue = Object.hasOwn(next, each.table) ? null : asPlain(next['catalogue']);
    const table = asTable((catalogue ?? next)[each.table]);
    if (table === null) return null;
    const after = applyTable(table, each);
    if (catalogue === null) next[each.table] = after;
    else next['catalogue'] = { ...catalogue, [each.table]: after };
  }
  return next;
}

function asTable(value: unknown): Table<unknown> | null {
  const table = asPlain(value);
  return table !== null && Array.isArray(table['order']) && asPlain(table['byId']) !== null
    ? (value as Table<unknown>)
    : null;
}

function applyTable(table: Table<unknown>, entry: TableEntry): Table<unknown> {
  const byId: Record<Id, unknown> = { ...table.byId, ...entry.put };
  for (const id of entry.gone ?? []) delete byId[id];
  const order = entry.order
    ? table.order.toSpliced(entry.order[0], entry.order[1], ...entry.order[2])
    : table.order;
  return { order, byId };
}

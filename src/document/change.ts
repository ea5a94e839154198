import type { Touched } from '../engine/derive/types.ts';
import type { Id, PlanDocument, Table, TableName } from '../engine/model/document.ts';
import { TABLE_NAMES, tableOf } from '../engine/model/tables.ts';
import type { Change, TableChange } from './types.ts';

/** What differs between two documents, record by record, by reference: both must share what did not change. */
export function changeBetween(name: string, before: PlanDocument, after: PlanDocument): Change {
  const tables: TableChange[] = [];
  for (const table of TABLE_NAMES) {
    const change = tableChange(table, tableOf(before, table), tableOf(after, table));
    if (change !== null) tables.push(change);
  }
  return {
    name,
    job: before.job === after.job ? null : { before: before.job, after: after.job },
    counters: before.counters === after.counters ? null : { before: before.counters, after: after.counters },
    tables,
  };
}

function tableChange(table: TableName, before: Table<unknown>, after: Table<unknown>): TableChange | null {
  if (before === after) return null;
  const records: TableChange['records'][number][] = [];
  if (before.byId !== after.byId) {
    for (const id of Object.keys(before.byId)) {
      if (before.byId[id] !== after.byId[id])
        records.push({ id, before: before.byId[id], after: after.byId[id] });
    }
    for (const id of Object.keys(after.byId)) {
      if (!Object.hasOwn(before.byId, id)) records.push({ id, before: undefined, after: after.byId[id] });
    }
  }
  if (records.length === 0 && before.order === after.order) return null;
  return { table, orderBefore: before.order, orderAfter: after.order, records };
}

/** True when nothing at all was changed. */
export function isEmpty(change: Change): boolean {
  return change.job === null && change.counters === null && change.tables.length === 0;
}

/** The document with a change put in (`after`) or taken back (`before`): the very records, not copies of them. */
export function applyChange(doc: PlanDocument, change: Change, side: 'before' | 'after'): PlanDocument {
  const next: Record<string, unknown> = { ...doc };
  if (change.job !== null) next['job'] = change.job[side];
  if (change.counters !== null) next['counters'] = change.counters[side];
  for (const each of change.tables) {
    next[each.table] = withRecords(tableOf(doc, each.table), each, side);
  }
  return next as unknown as PlanDocument;
}

function withRecords(table: Table<unknown>, change: TableChange, side: 'before' | 'after'): Table<unknown> {
  const byId: Record<Id, unknown> = { ...table.byId };
  for (const record of change.records) {
    if (record[side] === undefined) delete byId[record.id];
    else byId[record.id] = record[side];
  }
  return { order: side === 'before' ? change.orderBefore : change.orderAfter, byId };
}

/** Ids a change touched, per table. A change of order alone touches every record of the table. */
export function touchedBy(change: Change): Touched {
  const touched: Partial<Record<TableName | 'job', ReadonlySet<Id>>> = {};
  if (change.job !== null) touched.job = new Set(['job']);
  for (const each of change.tables) {
    touched[each.table] = new Set(each.records.length > 0 ? each.records.map((r) => r.id) : each.orderAfter);
  }
  return touched;
}

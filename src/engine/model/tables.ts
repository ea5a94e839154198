import type { Id, PlanDocument, Table, TableName, Tables } from './document.ts';
import { RECORDS } from './records.ts';

/** Every table, as `RECORDS` has them. */
export const TABLE_NAMES = Object.keys(RECORDS) as readonly TableName[];

/** The named table. */
export function tableOf<K extends TableName>(doc: PlanDocument, name: K): Table<Tables[K]> {
  return (doc as unknown as Record<TableName, Table<Tables[K]>>)[name];
}

/** The record, or undefined when there is none of that id. */
export function find<K extends TableName>(doc: PlanDocument, name: K, id: Id | null): Tables[K] | undefined {
  return id === null ? undefined : tableOf(doc, name).byId[id];
}

/** A table that is followed answers its rows at once, to be noted as one thing read and not as a thousand. */
export const ROWS: unique symbol = Symbol('rows');

/** The records of a table in the order people see them. */
export function rows<T>(table: Table<T> & { readonly [ROWS]?: () => readonly T[] }): T[] {
  const whole = table[ROWS];
  return whole === undefined ? table.order.map((id) => table.byId[id] as T) : whole().slice();
}

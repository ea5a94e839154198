import type { PlanDocument, TableName, Tables } from '../model/document.ts';
import { find } from '../model/tables.ts';
import { ask, type Derivation } from './derivation.ts';

/**
 * Turns what is worked out of one record into a function that keeps the outcome with the owner. A record that is not
 * the plan's own (a trial of another cable, say) is worked out apart.
 */
export function ofRecord<O extends { readonly doc: PlanDocument }, K extends TableName, V>(
  name: string,
  table: K,
  work: (owner: O, record: Tables[K]) => V,
  equal?: (a: V, b: V) => boolean,
): (owner: O, record: Tables[K]) => V {
  const what: Derivation<O, V | null> = {
    name,
    work: (owner, id) => {
      const record = find(owner.doc, table, id);
      return record === undefined ? null : work(owner, record);
    },
    ...(equal && { equal: (a, b) => a !== null && b !== null && equal(a, b) }),
  };
  return (owner, record) => {
    const own = find<TableName>(owner.doc, table, record.id) === record;
    return (own ? ask(owner, what, record.id) : null) ?? work(owner, record);
  };
}

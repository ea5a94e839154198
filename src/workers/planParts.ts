import { changeBetween } from '../document/change.ts';
import type { Change } from '../document/types.ts';
import type { PlanDocument } from '../engine/model/document.ts';
import { newDocument } from '../engine/model/defaults.ts';

/** Records to a message: few enough that packing one for a worker takes a few milliseconds. */
const RECORDS = 100;

/** What a worker holds before it has been told of any plan. */
export function unknownPlan(): PlanDocument {
  return newDocument('');
}

/**
 * What turns one plan into another, in pieces small enough to be sent one by one without holding the page up; put in
 * with `applyChange(…, 'after')`. Both plans share what did not change. What was before is left out.
 */
export function partsBetween(before: PlanDocument, after: PlanDocument): Change[] {
  if (before === after) return [];
  const { job, counters, tables } = changeBetween('', before, after);
  const none = { name: '', job: null, counters: null, tables: [] };
  const parts: Change[] = [];
  if (job !== null || counters !== null) {
    parts.push({
      ...none,
      job: job && { before: job.after, after: job.after },
      counters: counters && { before: counters.after, after: counters.after },
    });
  }
  for (const { table, records, orderBefore, orderAfter } of tables) {
    for (let i = 0; i === 0 || i < records.length; i += RECORDS) {
      const some = records
        .slice(i, i + RECORDS)
        .map(({ id, after: next }) => ({ id, before: undefined, after: next }));
      const order = i + RECORDS >= records.length ? orderAfter : orderBefore;
      parts.push({ ...none, tables: [{ table, records: some, orderBefore: [], orderAfter: order }] });
    }
  }
  return parts;
}

import type { PlanDocument, TableName } from '../../engine/model/document.ts';
import { TABLE_NAMES, tableOf } from '../../engine/model/tables.ts';
import { job, READERS } from './planReaders.ts';
import type { Reader } from './readers.ts';
import { Misread, pathText } from './readers.ts';

/**
 * What keeps a changed document from being saved and opened again: the first record that differs from `before` (by
 * reference) and that the decoder would refuse, as `points.p3.load: must be a number`; null when all is well.
 */
export function unsavable(before: PlanDocument, after: PlanDocument): string | null {
  try {
    if (after.job !== before.job) job.read(after.job, { up: null, key: 'job' });
    for (const name of TABLE_NAMES) checkTable(name, before, after);
    return null;
  } catch (error) {
    if (error instanceof Misread) return `${pathText(error.at)} ${error.message}`;
    throw error;
  }
}

function checkTable(name: TableName, before: PlanDocument, after: PlanDocument): void {
  const old = tableOf(before, name).byId as Readonly<Record<string, unknown>>;
  const now = tableOf(after, name).byId as Readonly<Record<string, unknown>>;
  if (old === now) return;
  const reader: Reader<unknown> = READERS[name];
  for (const id of Object.keys(now)) {
    if (now[id] !== old[id]) reader.read(now[id], { up: { up: null, key: name }, key: id });
  }
}

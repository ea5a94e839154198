import type { PlanDocument } from './document.ts';
import type { AssetUse } from './records.ts';
import { kindOf } from './records.ts';
import { rows, TABLE_NAMES, tableOf } from './tables.ts';

/**
 * Every asset the plan needs, once each, in the order of tables and records: what is kept on the device, saved with the plan
 * and taken from its file. The only enumerator there is.
 */
export function assetsOf(doc: PlanDocument): ReadonlyMap<string, AssetUse> {
  const found = new Map<string, AssetUse>();
  for (const name of TABLE_NAMES) {
    const { assets } = kindOf(name);
    for (const record of rows<unknown>(tableOf(doc, name)))
      for (const use of assets(record)) if (!found.has(use.hash)) found.set(use.hash, use);
  }
  return found;
}

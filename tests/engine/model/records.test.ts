import { describe, expect, it } from 'vitest';
import { RECORDS, kindOf } from '../../../src/engine/model/records.ts';
import { rows, TABLE_NAMES, tableOf } from '../../../src/engine/model/tables.ts';
import { sampleFiles } from '../../samples/sampleFiles.ts';

/** Texts in a record with where they stand, but for what only looks like a name of a record. */
function texts(value: unknown, at: string): [string, string][] {
  if (typeof value === 'string') return [[at, value]];
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, each]) => {
    if (['id', 'name', 'material', 'finding'].includes(key)) return [];
    return texts(each, Array.isArray(value) ? `${at}[${key}]` : at === '' ? key : `${at}.${key}`);
  });
}

describe('the descriptor of each table', () => {
  it('gives each its own prefix, so that ids of two tables never meet', () => {
    expect(new Set(TABLE_NAMES.map((name) => RECORDS[name].prefix)).size).toBe(TABLE_NAMES.length);
  });

  it.each([...sampleFiles()])('tells of every record another names: %s', (_name, doc) => {
    const ids = new Set(TABLE_NAMES.flatMap((name) => tableOf(doc, name).order));
    for (const name of TABLE_NAMES) {
      for (const record of rows<{ readonly id: string }>(tableOf(doc, name))) {
        const named = texts(record, '').filter(([, text]) => ids.has(text));
        const told = kindOf(name)
          .mentions(record)
          .filter((each) => each.id !== null)
          .map((each) => [each.at, each.id]);
        expect([name, record.id, ...told.sort()]).toEqual([name, record.id, ...named.sort()]);
      }
    }
  });
});

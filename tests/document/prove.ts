import { expect } from 'vitest';
import { decodeFile, encodeDocument, problemText } from '../../src/document/codec/file.ts';
import { canonicalJson } from '../../src/document/codec/write.ts';
import { createStore } from '../../src/document/store.ts';
import type { Command, Done } from '../../src/document/types.ts';
import type { PlanDocument } from '../../src/engine/model/document.ts';

/**
 * Proves a command's own undo: applies it, undoes it to the same bytes and the same records, redoes it to the same bytes,
 * takes both documents through JSON, and shows that the command left its input alone and does the same twice.
 */
export function prove(doc: PlanDocument, command: Command): Done {
  const before = canonicalJson(doc);
  const store = createStore(doc);
  const result = store.dispatch(command);
  if (!result.ok) throw new Error(`refused: ${result.reason}`);
  expect(canonicalJson(doc)).toBe(before);
  const after = canonicalJson(store.getState().doc);
  expect(canonicalJson(result.doc)).toBe(after);
  expect(canonicalJson(JSON.parse(after))).toBe(after);
  const decoded = decodeFile(after);
  if (!decoded.ok) throw new Error(`would not open again: ${problemText(decoded.problem)}`);
  expect(encodeDocument(decoded.doc)).toBe(after);
  if (result.doc === doc) {
    expect(store.getState().canUndo).toBeNull();
    return result;
  }
  expect(after).not.toBe(before);
  store.undo();
  expect(canonicalJson(store.getState().doc)).toBe(before);
  expectSameRecords(store.getState().doc, doc);
  store.redo();
  expect(canonicalJson(store.getState().doc)).toBe(after);
  expectSameRecords(store.getState().doc, result.doc);
  const again = command.apply(JSON.parse(before) as PlanDocument);
  expect(again.ok && canonicalJson(again.doc)).toBe(after);
  return result;
}

/** Refusals are one friendly sentence and leave everything as it was. */
export function expectRefusal(doc: PlanDocument, command: Command, reason: RegExp): void {
  const before = canonicalJson(doc);
  const store = createStore(doc);
  const result = store.dispatch(command);
  expect(result.ok).toBe(false);
  if (result.ok) return;
  expect(result.reason).toMatch(reason);
  expect(result.reason).toMatch(/^[A-Z0-9].*\.$/s);
  expect(store.getState().doc).toBe(doc);
  expect(store.getState().rev).toBe(0);
  expect(canonicalJson(doc)).toBe(before);
}

/** The very same record objects in the same order, not copies of them. */
function expectSameRecords(a: PlanDocument, b: PlanDocument): void {
  const tables = (d: PlanDocument) => {
    const { job: _job, counters: _counters, format: _f, version: _v, ...rest } = d;
    return Object.entries(rest);
  };
  const other = Object.fromEntries(tables(b));
  for (const [name, table] of tables(a)) {
    expect(table.order).toEqual(other[name]?.order);
    for (const id of table.order) {
      if (table.byId[id] !== other[name]?.byId[id]) throw new Error(`${name}.${id} is a copy`);
    }
  }
  expect(a.job).toBe(b.job);
  expect(a.counters).toBe(b.counters);
}

import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { decodeFile } from '../../src/document/codec/file.ts';
import { movePoint, removePoints } from '../../src/document/commands/points.ts';
import { editRuns } from '../../src/document/commands/runs.ts';
import { createStore } from '../../src/document/store.ts';
import { deriveAll } from '../../src/engine/derive/deriveAll.ts';
import type { PlanDocument } from '../../src/engine/model/document.ts';
import { newDocument } from '../../src/engine/model/defaults.ts';
import { rows } from '../../src/engine/model/tables.ts';
import { createDeriver } from '../../src/workers/deriver.ts';
import { followDerived, type Port } from '../../src/workers/deriveClient.ts';
import type { FromDeriver } from '../../src/workers/messages.ts';

function studio(): PlanDocument {
  const decoded = decodeFile(readFileSync('sample-plans/pottery-studio.json'));
  if (!decoded.ok) throw new Error(decoded.problem.message);
  return decoded.doc;
}

/** The real deriver behind messages that are copied as a worker's are, and delivered when `flush` is called. */
function worker() {
  const deriver = createDeriver();
  const waiting: FromDeriver[] = [];
  const port: Port = {
    onmessage: null,
    onerror: null,
    postMessage(message) {
      waiting.push(structuredClone(deriver.take(structuredClone(message))));
      const sums = deriver.sums();
      if (sums) waiting.push(structuredClone(sums));
    },
  };
  const flush = (): void => {
    for (const data of waiting.splice(0)) port.onmessage?.({ data } as MessageEvent<FromDeriver>);
  };
  return { port, flush };
}

const answersOf = (
  derived: ReturnType<typeof deriveAll> | ReturnType<ReturnType<typeof followDerived>['get']>['derived'],
) => ({
  runs: new Map([...derived.runs].sort(([a], [b]) => (a < b ? -1 : 1))),
  findings: [...derived.findings].sort((a, b) => (a.key < b.key ? -1 : 1)),
  cables: derived.takeOff.cables,
  drums: derived.drums,
  faces: [...derived.fabrics.values()].map((fabric) => [...fabric.faces.values()]),
});

describe('the worker that derives', () => {
  test('after changes, undo and redo the page holds what deriving afresh gives', () => {
    const store = createStore(studio());
    const { port, flush } = worker();
    const client = followDerived(store, port, (message) => expect.fail(message));
    const point = rows(store.getState().doc.points).find((each) => each.place.on === 'face');
    if (point?.place.on !== 'face') throw new Error('the studio has points on walls');
    store.dispatch(movePoint(point.id, { ...point.place, z: point.place.z + 130 }));
    store.dispatch(editRuns(store.getState().doc.runs.order.slice(0, 2), { depth: 60 }));
    flush();
    store.dispatch(removePoints([point.id]));
    store.undo();
    store.undo();
    store.redo();
    flush();
    expect(client.get().rev).toBe(store.getState().rev);
    expect(answersOf(client.get().derived)).toEqual(answersOf(deriveAll(store.getState().doc)));
  });

  test('answers to a plan that has been replaced are passed over', () => {
    const store = createStore(studio());
    const { port, flush } = worker();
    const client = followDerived(store, port, (message) => expect.fail(message));
    store.dispatch(editRuns(store.getState().doc.runs.order.slice(0, 1), { depth: 60 }));
    store.replace(newDocument('empty'));
    expect(client.get().derived.runs.size).toBe(0);
    flush();
    expect(client.get().derived.runs.size).toBe(0);
    expect(client.get().rev).toBe(store.getState().rev);
  });

  test('a change before any plan is answered as a failure, and the next plan starts afresh', () => {
    const deriver = createDeriver();
    const change = { name: 'x', job: null, counters: null, tables: [] };
    expect(deriver.take({ kind: 'change', rev: 1, change }).kind).toBe('failed');
    expect(deriver.sums()).toBeNull();
    expect(deriver.take({ kind: 'open', rev: 2, doc: newDocument('t') }).kind).toBe('delta');
  });
});

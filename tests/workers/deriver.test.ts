import { readFileSync } from 'node:fs';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { decodeFile } from '../../src/document/codec/file.ts';
import { movePoint, removePoints } from '../../src/document/commands/points.ts';
import { editRuns } from '../../src/document/commands/runs.ts';
import { createStore } from '../../src/document/store.ts';
import { deriveAll } from '../../src/engine/derive/deriveAll.ts';
import type { PlanDocument } from '../../src/engine/model/document.ts';
import { newDocument } from '../../src/engine/model/defaults.ts';
import { rows } from '../../src/engine/model/tables.ts';
import { PATIENCE } from '../../src/workers/checking.ts';
import { createDeriver } from '../../src/workers/deriver.ts';
import { followDerived, type Port } from '../../src/workers/deriveClient.ts';
import type { FromDeriver, ToDeriver } from '../../src/workers/messages.ts';

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
    terminate: () => waiting.splice(0),
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
    const client = followDerived(store, () => port);
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
    const client = followDerived(store, () => port);
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
    expect(deriver.take({ kind: 'open', rev: 2, doc: newDocument('t'), careful: false }).kind).toBe('delta');
  });
});

/** Workers that do nothing until they are told to: what they were sent, and a way to answer for each. */
function idleWorkers() {
  const made: { port: Port; sent: ToDeriver[]; ended: boolean }[] = [];
  const make = (): Port => {
    const sent: ToDeriver[] = [];
    const one = { sent, ended: false, port: null as unknown as Port };
    one.port = {
      onmessage: null,
      onerror: null,
      postMessage: (message) => void sent.push(structuredClone(message)),
      terminate: () => (one.ended = true),
    };
    made.push(one);
    return one.port;
  };
  const last = () => made.at(-1) as (typeof made)[number];
  const say = (data: FromDeriver): void => last().port.onmessage?.({ data } as MessageEvent<FromDeriver>);
  /** The real deriver works off what the newest worker was sent. */
  const work = (): void => {
    const deriver = createDeriver(say);
    for (const message of last().sent.splice(0)) say(deriver.take(message));
  };
  return { made, make, last, say, work };
}

describe('a check that is not through', () => {
  beforeEach(() => void vi.useFakeTimers());
  afterEach(() => void vi.useRealTimers());
  const deepen = (store: ReturnType<typeof createStore>, depth: number): void =>
    void store.dispatch(editRuns(store.getState().doc.runs.order.slice(0, 1), { depth }));

  test('is never taken for an answer: at first, after a change, and for another plan', () => {
    const store = createStore(studio());
    const { make, work } = idleWorkers();
    const client = followDerived(store, make);
    expect(client.check()).toMatchObject({ state: 'checking' });
    work();
    expect(client.check()).toEqual({ state: 'done' });
    const { findings } = client.get().derived;
    deepen(store, 61);
    expect(client.check()).toMatchObject({ state: 'checking' });
    expect(client.get().rev).toBeLessThan(store.getState().rev);
    expect(client.get().derived.findings).toBe(findings);
    store.replace(newDocument('another'));
    expect(client.check()).toMatchObject({ state: 'checking' });
    expect(client.get().derived.findings).toEqual([]);
    expect(client.get().summed).toBe(-1);
    work();
    expect(client.check()).toEqual({ state: 'done' });
  });

  test('shows how far it is, offers to go on without it, and can be ended and taken up again', () => {
    const store = createStore(studio());
    const { make, made, say, work } = idleWorkers();
    const client = followDerived(store, make);
    const at = (id: string, done: number) =>
      say({ kind: 'at', rev: store.getState().rev, part: { kind: 'run', id }, done, total: 10 });
    at('r3', 4);
    expect(client.check()).toMatchObject({ long: 'no' });
    vi.advanceTimersByTime(PATIENCE.show);
    expect(client.check()).toMatchObject({
      long: 'show',
      progress: { part: { id: 'r3' }, done: 4, total: 10 },
    });
    vi.advanceTimersByTime(PATIENCE.offer - PATIENCE.show);
    expect(client.check()).toMatchObject({ long: 'offer' });
    client.without();
    expect(made[0]?.ended).toBe(true);
    expect(client.check()).toMatchObject({ state: 'stopped', why: 'asked', part: { id: 'r3' } });
    deepen(store, 62);
    expect(client.check()).toMatchObject({ state: 'stopped' });
    client.again();
    work();
    expect(client.check()).toEqual({ state: 'done' });
    expect(client.get().rev).toBe(store.getState().rev);
  });

  test('that hangs is ended and begun anew, then stops at the part it hung at, until the plan changes', () => {
    const store = createStore(studio());
    const { make, made, last, say, work } = idleWorkers();
    const client = followDerived(store, make);
    work();
    const { derived } = client.get();
    deepen(store, 63);
    const { rev } = store.getState();
    say({ kind: 'at', rev, part: { kind: 'run', id: 'r1' }, done: 1, total: 9 });
    vi.advanceTimersByTime(PATIENCE.hung);
    expect(made).toHaveLength(2);
    expect(made[0]?.ended).toBe(true);
    expect(client.check()).toMatchObject({ state: 'checking', again: { kind: 'run', id: 'r1' } });
    expect(last().sent).toMatchObject([{ kind: 'open', rev, careful: true }]);
    say({ kind: 'at', rev, part: { kind: 'run', id: 'r2' }, done: 2, total: 9 });
    vi.advanceTimersByTime(PATIENCE.hung);
    expect(client.check()).toMatchObject({ state: 'stopped', why: 'hung', part: { kind: 'run', id: 'r2' } });
    expect(client.get().derived).toBe(derived);
    expect(client.get().rev).toBeLessThan(rev);
    deepen(store, 64);
    work();
    expect(client.check()).toEqual({ state: 'done' });
    expect(client.get().rev).toBe(store.getState().rev);
    expect(answersOf(client.get().derived).runs).toEqual(answersOf(deriveAll(store.getState().doc)).runs);
  });

  test('whose worker dies is begun anew; one that cannot be started is tried again and then said', () => {
    const store = createStore(studio());
    const { make, made, last, work } = idleWorkers();
    const client = followDerived(store, make);
    work();
    deepen(store, 65);
    last().port.onerror?.({ message: 'out of memory' });
    expect(made).toHaveLength(2);
    work();
    expect(client.check()).toEqual({ state: 'done' });
    store.replace(studio());
    for (let i = 0; i < 4; i++) {
      expect(client.check()).toMatchObject({ state: 'checking' });
      last().port.onerror?.({ message: '' });
      vi.advanceTimersByTime(15_000);
    }
    expect(client.check()).toMatchObject({ state: 'stopped', why: 'not-started' });
    client.again();
    work();
    expect(client.check()).toEqual({ state: 'done' });
  });
});

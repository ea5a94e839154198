import { describe, expect, it } from 'vitest';
import { editJob } from '../../src/document/commands/job.ts';
import { movePoint } from '../../src/document/commands/points.ts';
import { reverseRuns } from '../../src/document/commands/runs.ts';
import { createStore } from '../../src/document/store.ts';
import { command, nextId, put, refuse, together } from '../../src/document/transact.ts';
import type { Change, DocumentState } from '../../src/document/types.ts';
import { newDocument } from '../../src/engine/model/defaults.ts';
import { inside, wired } from './plans.ts';

const titled = (title: string) => editJob({ title });

describe('the document store', () => {
  it('counts revisions, names what can be undone, and forgets redo at the next change', () => {
    const store = createStore(wired(), 7);
    store.dispatch(titled('A'));
    store.dispatch(movePoint('p1', inside('w3', 1200, 450)));
    expect(store.getState()).toMatchObject({ rev: 9, canUndo: 'Move point', canRedo: null });
    store.undo();
    expect(store.getState()).toMatchObject({ rev: 10, canUndo: 'Edit job', canRedo: 'Move point' });
    store.dispatch(titled('B'));
    expect(store.getState()).toMatchObject({ rev: 11, canUndo: 'Edit job', canRedo: null });
    store.redo();
    expect(store.getState().rev).toBe(11);
    store.replace(newDocument('Other'));
    expect(store.getState()).toMatchObject({ rev: 12, canUndo: null, canRedo: null });
    store.undo();
    expect(store.getState().rev).toBe(12);
  });

  it('shares every record that a change did not touch', () => {
    const store = createStore(wired());
    const before = store.getState().doc;
    store.dispatch(titled('A'));
    const after = store.getState().doc;
    expect(after.walls).toBe(before.walls);
    store.dispatch(movePoint('p3', inside('w2', 700, 1200)));
    expect(store.getState().doc.points.byId['p1']).toBe(before.points.byId['p1']);
    expect(store.getState().doc.runs).toBe(after.runs);
  });

  it('tells each listener once, with what was touched, forwards in every direction', () => {
    const store = createStore(wired());
    const heard: { state: DocumentState; touched: unknown; change: Change | null }[] = [];
    const stop = store.subscribe((state, touched, change) => heard.push({ state, touched, change }));
    store.dispatch(movePoint('p2', inside('w1', 1500, 450)));
    expect(heard[0]?.touched).toEqual({ points: new Set(['p2']), runs: new Set(['r1']) });
    store.undo();
    expect(heard[1]?.change?.tables[0]?.records[0]?.after).toBe(
      heard[0]?.change?.tables[0]?.records[0]?.before,
    );
    store.dispatch(titled('A'));
    expect(heard[2]?.touched).toEqual({ job: new Set(['job']) });
    store.replace(newDocument('Other'));
    expect(heard[3]).toMatchObject({ touched: 'all', change: null });
    store.dispatch({ name: 'Nothing', apply: (doc) => ({ ok: true, doc, made: [], note: null }) });
    store.dispatch({ name: 'No', apply: () => refuse('No.') });
    stop();
    store.dispatch(titled('B'));
    expect(heard).toHaveLength(4);
  });

  it('keeps the order of news when a listener makes a change, and lets none be kept from hearing', () => {
    const store = createStore(wired());
    const first: string[] = [];
    const second: string[] = [];
    store.subscribe((state) => {
      first.push(state.doc.job.title);
      if (state.doc.job.title === 'A') store.dispatch(titled('B'));
      if (state.doc.job.title === 'C') throw new Error('broken listener');
    });
    store.subscribe((state) => second.push(state.doc.job.title));
    store.dispatch(titled('A'));
    expect(first).toEqual(['A', 'B']);
    expect(second).toEqual(['A', 'B']);
    expect(() => store.dispatch(titled('C'))).toThrow('broken listener');
    expect(second).toEqual(['A', 'B', 'C']);
    store.dispatch(titled('D'));
    expect(second.at(-1)).toBe('D');
  });

  it('undoes several commands done together in one step, and does none when one is refused', () => {
    const store = createStore(wired());
    const before = store.getState().doc;
    const both = together('Both', [titled('A'), reverseRuns(['r1'])]);
    expect(store.dispatch(both).ok).toBe(true);
    expect(store.getState()).toMatchObject({ rev: 1, canUndo: 'Both' });
    store.undo();
    expect(store.getState().doc).toEqual(before);
    expect(store.dispatch(together('Both', [titled('A'), reverseRuns(['r9'])]))).toMatchObject({ ok: false });
    expect(store.getState().doc.job.title).toBe('Test room');
  });

  it('gives ids that are free even where the counters of a hand-written plan are behind', () => {
    const doc = { ...wired(), counters: {} };
    const result = command('Add', (draft, step) => {
      const id = nextId(draft, 'nodes');
      put(draft, 'nodes', { id, storey: 's1', x: 0, y: 0 });
      step.made(id);
    }).apply(doc);
    expect(result.ok && result.made).toEqual(['n5']);
  });
});

import { describe, expect, test } from 'vitest';
import { createStore } from '../../src/document/store.ts';
import { deleteSelection } from '../../src/app/edits.ts';
import type { Ref } from '../../src/tools/types.ts';
import { makeStudio } from '../samples/studio.ts';

const { doc } = makeStudio();
const ref = (table: Ref['table'], id: string, part: string | null = null): Ref => ({ table, id, part });

describe('removing what is selected', () => {
  test('a run, its point and its circuit go in one step, which undo brings back', () => {
    const store = createStore(doc);
    const run = doc.runs.byId[doc.runs.order[0] ?? ''];
    if (!run?.circuit || !run.to) throw new Error('the first run has a circuit and an end');
    const outcome = store.dispatch(
      deleteSelection([ref('circuits', run.circuit), ref('points', run.to), ref('runs', run.id, 'leg:0')]),
    );
    expect(outcome.ok).toBe(true);
    const now = store.getState().doc;
    expect([now.runs.byId[run.id], now.points.byId[run.to], now.circuits.byId[run.circuit]]).toEqual([
      undefined,
      undefined,
      undefined,
    ]);
    store.undo();
    expect(store.getState().doc).toEqual(doc);
  });

  test('a picked corner is taken out of its run, which stays', () => {
    const store = createStore(doc);
    const run = Object.values(doc.runs.byId).find((r) => r.corners.length > 2);
    if (!run) throw new Error('some run has corners');
    store.dispatch(deleteSelection([ref('runs', run.id, 'corner:1')]));
    expect(store.getState().doc.runs.byId[run.id]?.corners.length).toBeLessThan(run.corners.length);
  });

  test('a wall’s corner alone is refused with a reason', () => {
    const store = createStore(doc);
    const outcome = store.dispatch(deleteSelection([ref('nodes', doc.nodes.order[0] ?? '')]));
    expect(outcome).toMatchObject({ ok: false, reason: expect.stringContaining('remove the walls') });
    expect(store.getState().doc).toBe(doc);
  });
});

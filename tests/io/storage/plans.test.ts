import 'fake-indexeddb/auto';
import { IDBFactory } from 'fake-indexeddb';
import { describe, expect, it } from 'vitest';
import { encodeDocument } from '../../../src/document/codec/file.ts';
import { editJob } from '../../../src/document/commands/job.ts';
import { createStore } from '../../../src/document/store.ts';
import { newDocument } from '../../../src/engine/model/defaults.ts';
import { Plans, PLANS_KEPT, type Kept } from '../../../src/io/storage/plans.ts';
import { toThinOut, type Thinned } from '../../../src/io/storage/thin.ts';
import { wired } from '../../document/plans.ts';
import { randomCommand, seeded } from '../../document/random.ts';
import { freshSeed } from '../../random.ts';

const HOUR = 3_600_000;
const MIDNIGHT = 1_800_000_000_000;
const patience = { open: 60_000, read: 60_000, write: 60_000 };
const kept = (id: string, doc: Kept['doc'], change: Kept['change'], at: number): Kept => ({
  id,
  doc,
  change,
  at,
  picture: '',
  midnight: MIDNIGHT,
});

describe('the plans of this device', () => {
  it('brings back the plan as it was after each change of today, undo and redo among them', async () => {
    const plans = new Plans(new IDBFactory(), patience);
    const store = createStore(wired());
    const random = seeded(freshSeed('kept states'));
    const texts: string[] = [];
    const waiting: Kept[] = [];
    const take = (change: Kept['change']): void => {
      const { doc } = store.getState();
      waiting.push(kept('p', doc, change, MIDNIGHT + texts.length * 60_000));
      texts.push(encodeDocument(doc));
    };
    take(null);
    store.subscribe((_state, _touched, change) => take(change));
    for (let i = 0; i < 260; i++) {
      if (random() < 0.15) store.undo();
      else if (random() < 0.1) store.redo();
      else store.dispatch(randomCommand(store.getState().doc, random));
    }
    await plans.keep(waiting);
    const states = (await plans.states('p')).reverse();
    expect(states).toHaveLength(texts.length);
    for (let i = 0; i < states.length; i += 13) {
      const back = await plans.read('p', states[i]?.seq);
      expect(back && encodeDocument(back), `state ${i}`).toBe(texts[i]);
    }
    const last = await plans.read('p');
    expect(last && encodeDocument(last)).toBe(texts.at(-1));
  });

  it('lists the last ten, lets one be removed and taken back, and forgets the oldest', async () => {
    const plans = new Plans(new IDBFactory(), patience);
    for (let i = 0; i < PLANS_KEPT + 3; i++)
      await plans.keep([kept(`p${i}`, newDocument(`Plan ${i}`), null, MIDNIGHT + i)]);
    const listed = await plans.list();
    expect(listed.map((each) => each.title)).toEqual(
      Array.from({ length: PLANS_KEPT }, (_, i) => `Plan ${PLANS_KEPT + 2 - i}`),
    );
    expect(await plans.states('p0')).toEqual([]);
    await plans.setRemoved('p5', MIDNIGHT + 50);
    await plans.keep([kept('p20', newDocument('Another'), null, MIDNIGHT + 60)]);
    expect((await plans.list()).find((each) => each.id === 'p5')?.removed).toBe(MIDNIGHT + 50);
    await plans.setRemoved('p5', null);
    expect((await plans.read('p5'))?.job.title).toBe('Plan 5');
  });

  it('says so where the device keeps nothing', async () => {
    await expect(new Plans(null, patience).list()).rejects.toThrow(/does not let/);
  });

  it('keeps states of one visit apart from the next, which begins with the whole plan', async () => {
    const factory = new IDBFactory();
    const store = createStore(newDocument('One'));
    await new Plans(factory, patience).keep([kept('p', store.getState().doc, null, MIDNIGHT)]);
    const next: Promise<void>[] = [];
    store.subscribe((state, _touched, change) => {
      next.push(new Plans(factory, patience).keep([kept('p', state.doc, change, MIDNIGHT + 1)]));
    });
    store.dispatch(editJob({ title: 'Two' }));
    await Promise.all(next);
    expect((await new Plans(factory, patience).read('p'))?.job.title).toBe('Two');
    expect((await new Plans(factory, patience).states('p')).map((each) => each.change)).toHaveLength(2);
  });
});

describe('thinning', () => {
  const states = (...at: readonly (readonly [number, boolean])[]): Thinned[] =>
    at.map(([hours, whole], seq) => ({ seq, at: MIDNIGHT + hours * HOUR, whole }));
  it('keeps each of today, one an hour of the week, one a day of the month, and the newest', () => {
    const list = states(
      [-24 * 40, true],
      [-24 * 20 + 1, true],
      [-24 * 20 + 2, true],
      [-30.9, true],
      [-30.5, true],
      [-2.5, true],
      [-2.4, false],
      [1, true],
      [1.1, false],
    );
    // Too old; the earlier of a day; the earlier of an hour; a change of yesterday.
    expect(toThinOut(list, MIDNIGHT)).toEqual([0, 1, 3, 6]);
  });
  it('never takes what a state that stays is worked out from', () => {
    const random = seeded(freshSeed('thinning'));
    for (let round = 0; round < 300; round++) {
      let at = MIDNIGHT - 60 * 24 * HOUR * random();
      const list: Thinned[] = [];
      for (let seq = 1; seq < 60; seq++) {
        at += random() ** 6 * 90 * HOUR;
        list.push({ seq, at, whole: seq === 1 || random() < 0.3 });
      }
      const gone = new Set(toThinOut(list, MIDNIGHT));
      const left = list.filter((each) => !gone.has(each.seq));
      expect(gone.has(59)).toBe(false);
      for (const each of left.filter((one) => !one.whole)) {
        const base = list.findLast((one) => one.whole && one.seq < each.seq) as Thinned;
        for (let seq = base.seq; seq <= each.seq; seq++) expect(gone.has(seq), `${round} ${seq}`).toBe(false);
      }
    }
  });
});

import { describe, expect, it } from 'vitest';
import { decodeFile, encodeDocument, problemText } from '../../src/document/codec/file.ts';
import { createStore } from '../../src/document/store.ts';
import type { PlanDocument } from '../../src/engine/model/document.ts';
import { freshSeed } from '../random.ts';
import { wired } from './plans.ts';
import { randomCommand, seeded } from './random.ts';

const SEEDS = [1, 2, 3, 4, 5, freshSeed('random sessions')];
const STEPS = 200;

/** Plays a seed: what was done, and the canonical text after each step. */
function play(seed: number) {
  const random = seeded(seed);
  const store = createStore(wired());
  const texts = [encodeDocument(store.getState().doc)];
  const names: string[] = [];
  const refused = new Set<string>();
  for (let i = 0; i < STEPS; i++) {
    const rev = store.getState().rev;
    const result = store.dispatch(randomCommand(store.getState().doc, random));
    if (!result.ok) refused.add(result.reason);
    if (store.getState().rev === rev) continue;
    names.push(store.getState().canUndo ?? '');
    texts.push(encodeDocument(store.getState().doc));
  }
  return { store, texts, names, refused };
}

describe.each(SEEDS)('a random session, seed %i', (seed) => {
  const { store, texts, names, refused } = play(seed);

  it('is undone and redone step by step to the same bytes', () => {
    expect(names.length).toBeGreaterThan(STEPS / 5);
    for (let i = texts.length - 2; i >= 0; i--) {
      expect(store.getState().canUndo, `seed ${seed}`).toBe(names[i]);
      store.undo();
      expect(encodeDocument(store.getState().doc) === texts[i], `seed ${seed} undo ${names[i]}`).toBe(true);
    }
    expect(store.getState().canUndo).toBeNull();
    for (let i = 1; i < texts.length; i++) {
      store.redo();
      expect(encodeDocument(store.getState().doc) === texts[i], `seed ${seed} redo ${names[i - 1]}`).toBe(
        true,
      );
    }
    expect(store.getState().canRedo).toBeNull();
  });

  it('opens again from its file after every step, to the same bytes', () => {
    texts.forEach((text, i) => {
      const decoded = decodeFile(text);
      if (!decoded.ok) throw new Error(`seed ${seed}, ${names[i - 1]}: ${problemText(decoded.problem)}`);
      expect(encodeDocument(decoded.doc) === text, `seed ${seed} ${names[i - 1]}`).toBe(true);
    });
  });

  it('refuses in friendly sentences only', () => {
    for (const reason of refused) {
      expect(reason).toMatch(/^[A-Z0-9"].*\.$/);
      expect(reason, `seed ${seed}`).not.toMatch(/cannot be kept in a plan/);
    }
  });

  it('never gives a number out twice', () => {
    const seen = new Map<string, string>();
    for (const text of texts) {
      const doc = JSON.parse(text) as PlanDocument;
      for (const table of ['points', 'runs', 'circuits'] as const)
        for (const id of doc[table].order) {
          const label = doc[table].byId[id]?.label ?? '';
          expect(seen.get(label) ?? id, `seed ${seed}`).toBe(id);
          seen.set(label, id);
        }
    }
  });
});

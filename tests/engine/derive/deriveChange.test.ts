import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { deriveAll } from '../../../src/engine/derive/deriveAll.ts';
import { deriveChange } from '../../../src/engine/derive/deriveChange.ts';
import type { Touched } from '../../../src/engine/derive/types.ts';
import { tableFrom } from '../../../src/engine/model/defaults.ts';
import type { PlanDocument } from '../../../src/engine/model/document.ts';
import { rows } from '../../../src/engine/model/tables.ts';
import { freshSeed, seeded } from '../../random.ts';
import { difference, Following, sequences } from './following.ts';
import { FIRST_MENU, randomEdit, randomPlan } from './randomPlan.ts';

describe('deriveChange', () => {
  it('equals deriveAll after 200 sequences of edits, and so does the view kept up by its deltas', () => {
    const seed = freshSeed('deriveChange against deriveAll');
    fc.assert(sequences(), { seed, numRuns: 200, endOnFailure: true });
  }, 600_000);

  // Where hand-written links once left a rating of other circuits as it was: a circuit was removed.
  it.each([
    { seed: 1543337996, path: '33' },
    { seed: 29, path: undefined },
    { seed: 40, path: undefined },
  ])(
    'equals deriveAll for seed $seed',
    ({ seed, path }) => {
      fc.assert(sequences(FIRST_MENU), {
        seed,
        numRuns: 40,
        endOnFailure: true,
        ...(path !== undefined && { path }),
      });
    },
    600_000,
  );

  it('follows a wall to another storey, and what hangs on its faces after that', () => {
    const following = new Following(randomPlan(seeded(1)));
    const table = <K extends 'storeys' | 'walls' | 'points'>(name: K, records: readonly { id: string }[]) =>
      ({ ...following.doc, [name]: tableFrom(records) }) as PlanDocument;
    const { storeys, walls, points } = following.doc;
    const upstairs = { ...rows(storeys)[0], id: 's2', level: 2700 };
    const change = (what: string, doc: PlanDocument, touched: Touched) =>
      following.follow({ what, doc, touched });
    change('add s2', table('storeys', [...rows(storeys), upstairs]), { storeys: new Set(['s2']) });
    const moved = rows(walls).map((w) => (w.id === 'w5' ? { ...w, storey: 's2' } : w));
    change('w5 to s2', table('walls', moved), { walls: new Set(['w5']) });
    for (const { id, place } of rows(points)) {
      if (place.on !== 'face' || place.wall !== 'w5') continue;
      const left = rows(following.doc.points).filter((p) => p.id !== id);
      change(`remove ${id}`, table('points', left), { points: new Set([id]) });
    }
  });

  it('takes a second change of the same index', () => {
    const random = seeded(freshSeed('a second change of the same index'));
    const doc = randomPlan(random);
    const index = deriveAll(doc);
    for (const fresh of ['x1', 'x2', 'x3']) {
      const edit = randomEdit(doc, random, fresh);
      if (edit === null) continue;
      const { next } = deriveChange(index, edit.doc, edit.touched);
      expect(difference(next, deriveAll(edit.doc)), edit.what).toBeNull();
    }
  });
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  applyDelta,
  emptyView,
  sumsOnly,
  wholeDelta,
  type DerivedView,
} from '../../../src/engine/derive/delta.ts';
import { deriveAll } from '../../../src/engine/derive/deriveAll.ts';
import { deriveChange } from '../../../src/engine/derive/deriveChange.ts';
import type { DerivedIndex } from '../../../src/engine/derive/derivedIndex.ts';
import { same } from '../../../src/engine/derive/same.ts';
import { freshSeed, seeded } from '../../random.ts';
import { mergeTouched, randomEdit, randomPlan } from './randomPlan.ts';

/** Every part of an index as plain sorted data; null when equal, else the first part that differs, for the message. */
function difference(a: DerivedIndex, b: DerivedIndex): string | null {
  for (const part of Object.keys(a.parts) as (keyof DerivedIndex['parts'])[]) {
    if (part === 'doc') continue;
    const [x, y] = [
      new Map(a.parts[part] as Map<string, unknown>),
      new Map(b.parts[part] as Map<string, unknown>),
    ];
    for (const key of new Set([...x.keys(), ...y.keys()])) {
      let [p, q] = [x.get(key), y.get(key)];
      // Lists of faces and walls of a run are sets.
      if (part === 'runFaces' || part === 'runWalls')
        [p, q] = [p, q].map((l) => [...((l ?? ['none']) as string[])].sort());
      if (!same(p, q)) return `${part} ${key}: ${JSON.stringify(p)} against ${JSON.stringify(q)}`;
    }
  }
  if (!same(a.findings, b.findings)) return 'the order of findings';
  return same(a.takeOff, b.takeOff) ? null : 'the take-off';
}

function viewDifference(view: DerivedView, index: DerivedIndex): string | null {
  for (const part of ['fabrics', 'zones', 'runs', 'buckets'] as const) {
    if (!same(new Map<string, unknown>(view[part]), new Map<string, unknown>(index.parts[part]))) return part;
  }
  return same(view.findings, index.findings) ? null : 'findings';
}

/** As a worker's message would arrive. */
const posted = <T>(data: T): T => structuredClone(data);

describe('deriveChange', () => {
  it('equals deriveAll after any sequence of edits, and so does the view kept up by its deltas', () => {
    const seed = freshSeed('deriveChange against deriveAll');
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 2 ** 31 - 1 }),
        fc.array(fc.tuple(fc.integer({ min: 0, max: 2 ** 31 - 1 }), fc.boolean()), {
          minLength: 1,
          maxLength: 12,
        }),
        (planSeed, edits) => {
          let doc = randomPlan(seeded(planSeed));
          let index = deriveAll(doc);
          let view = applyDelta(emptyView(), posted(wholeDelta(index)));
          const told: string[] = [];
          edits.forEach(([editSeed, twice], i) => {
            const random = seeded(editSeed);
            const first = randomEdit(doc, random, `a${i}`);
            if (first === null) return;
            const second = twice ? randomEdit(first.doc, random, `b${i}`) : null;
            doc = (second ?? first).doc;
            const touched = second === null ? first.touched : mergeTouched(first.touched, second.touched);
            told.push(first.what, ...(second ? [`with ${second.what}`] : []));
            const before = structuredClone({ runs: new Map(index.runs), findings: index.findings });
            const { next, delta } = deriveChange(index, doc, touched);
            expect(difference(next, deriveAll(doc)), told.join(', ')).toBeNull();
            // What was derived before stays as it was: an undo or a slow reader may still hold it.
            expect(same(before, { runs: new Map(index.runs), findings: index.findings })).toBe(true);
            view = applyDelta(view, posted(delta));
            expect(viewDifference(view, next), told.join(', ')).toBeNull();
            index = next;
          });
          view = applyDelta(view, posted(sumsOnly(index)));
          expect(same(view.takeOff, index.takeOff)).toBe(true);
        },
      ),
      { seed, numRuns: 40, endOnFailure: true },
    );
  });
});

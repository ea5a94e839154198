import { describe, expect, it } from 'vitest';
import { setControls } from '../../../src/document/commands/circuits.ts';
import { createStore } from '../../../src/document/store.ts';
import { deriveAll } from '../../../src/engine/derive/deriveAll.ts';
import { deriveChange } from '../../../src/engine/derive/deriveChange.ts';
import type { PlanDocument } from '../../../src/engine/model/document.ts';
import { makeStudio } from '../../samples/studio.ts';

/** The studio after `P18`, the WC's switch, is put on these lights, worked out afresh and from the change alone. */
function after(doc: PlanDocument, controls: readonly string[]) {
  const store = createStore(doc);
  const outcome = store.dispatch(setControls('p18', 0, controls));
  if (!outcome.ok) throw new Error(outcome.reason);
  const now = store.getState().doc;
  const whole = deriveAll(now).findings;
  expect(deriveChange(deriveAll(doc), now, { points: new Set(['p18']) }).next.findings).toEqual(whole);
  return whole.filter((f) => f.rule === 'switch-works-nothing' || f.rule === 'light-without-switch');
}

describe('switches and the lights they work', () => {
  const { doc } = makeStudio();

  it('says nothing while every light has a switch', () => {
    expect(after(doc, ['p16', 'p17'])).toEqual([]);
  });

  it('notes a switch taken off its light, and the light', () => {
    const found = after(doc, []);
    expect(found.map((f) => [f.rule, f.severity, f.stage, f.point, f.circuit])).toEqual([
      ['switch-works-nothing', 'note', 'circuits', 'p18', null],
      ['light-without-switch', 'note', 'circuits', 'p16', 'c3'],
    ]);
    expect(found[1]?.message).toBe(
      'No switch of circuit C3 works the ceiling light P16: it is on whenever the circuit is.',
    );
  });

  it('tells all dark lights of a circuit at once, and not what is no light', () => {
    // P17 is the extractor: it may run without a switch. P26 and P27 work P22 to P25 together.
    const table = doc.points.byId;
    const without = {
      ...doc,
      points: {
        ...doc.points,
        byId: Object.fromEntries(
          Object.entries(table).map(([id, p]) => [
            id,
            p.id === 'p26' || p.id === 'p27' ? { ...p, loadKind: null, controls: [] } : p,
          ]),
        ),
      },
    };
    const found = deriveAll(without).findings.filter((f) => f.rule === 'light-without-switch');
    expect(found.map((f) => f.message)).toEqual([
      'No switch of circuit C3 works P22, P23, P24 and P25: they are on whenever the circuit is.',
    ]);
  });
});

import { describe, expect, test } from 'vitest';
import { deriveAll } from '../../../src/engine/derive/deriveAll.ts';
import { electricalInput } from '../../../src/engine/circuitReport/report.ts';
import { questions } from '../../../src/engine/circuitReport/schedule.ts';
import { tableFrom } from '../../../src/engine/model/defaults.ts';
import type { PlanDocument } from '../../../src/engine/model/document.ts';
import { POINT_KINDS } from '../../../src/engine/model/pointKinds.ts';
import { rows } from '../../../src/engine/model/tables.ts';
import { makeStudio } from '../../samples/studio.ts';

const studio = makeStudio().doc;

/** The studio with no load stated for its lights: their circuit counts as the 6 A of its device. */
const unstated: PlanDocument = {
  ...studio,
  points: tableFrom(rows(studio.points).map((p) => (POINT_KINDS[p.kind].isLight ? { ...p, load: null } : p))),
};

describe('cables side by side at a board', () => {
  // R3 of the ring: 27 A clipped (Table 4D5 C). Beside the kiln alone Cg is 0.85: 22.95 A, more than 20. With the lights
  // as a third circuit 0.79 x 27 = 21.3 in one layer; loose lighting beside makes it a bunch of three: 0.7 x 27 = 18.9.
  test('loads stated: what carries little is left out, nothing is told', () => {
    expect(deriveAll(studio).findings).toEqual([]);
  });

  test('not stated: one disputed finding for the board with its figures, no error of a circuit, and a question', () => {
    const derived = deriveAll(unstated);
    const told = derived.findings.filter((f) => f.circuit === 'c2');
    expect(told.map((f) => [f.rule, f.severity])).toEqual([['grouped-at-board', 'disputed']]);
    expect(told[0]?.message).toContain('R3 carries 18.9 A of the 20 A it needs over its first 1.11 m');
    expect(told[0]?.fix).toContain('State the loads of C3');
    expect(derived.findings.filter((f) => f.rule === 'rating-too-low')).toEqual([]);
    const asked = questions(electricalInput(unstated, derived)).filter((q) =>
      q.key.startsWith('grouped-at-board'),
    );
    expect(asked).toHaveLength(1);
  });
});

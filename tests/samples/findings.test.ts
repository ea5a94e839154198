import { describe, expect, test } from 'vitest';
import { ALL_RULES } from '../../src/engine/checks/registry.ts';
import type { Finding } from '../../src/engine/checks/types.ts';
import { deriveAll } from '../../src/engine/derive/deriveAll.ts';
import type { Derived } from '../../src/engine/derive/types.ts';
import { makeDrawingMistakes } from './drawingMistakes.ts';
import { makeElectricalMistakes } from './electricalMistakes.ts';
import { makeMistakes, type Mistake } from './mistakes.ts';
import { makeStudio } from './studio.ts';

describe('the clean studio', () => {
  test.each(['bs7671-2018-a3', 'bs7671-2018-a4'] as const)('has no finding at all under %s', (edition) => {
    const { doc } = makeStudio();
    const derived = deriveAll({ ...doc, job: { ...doc.job, edition } });
    expect(derived.findings).toEqual([]);
    expect(derived.takeOff.scale.state).toBe('typed');
  });
});

/** The walls of the face a finding is on, and the name of its room. */
function whereFound(derived: Derived, { at }: Finding) {
  const fabric = at === null ? undefined : derived.fabrics.get(at.storey);
  const face = fabric?.faces.get(at?.face ?? '');
  if (face === undefined) return null;
  const room = face.room === null ? null : (fabric?.rooms.get(face.room)?.tag?.name ?? null);
  return { walls: face.pieces.map((p) => p.wall), room };
}

const FILES = [
  ['pottery-studio-mistakes.json', makeMistakes()],
  ['pottery-studio-drawing-mistakes.json', makeDrawingMistakes()],
  ['pottery-studio-circuit-mistakes.json', makeElectricalMistakes()],
] as const;

describe.each(FILES)('%s', (_name, { doc, mistakes }) => {
  const derived = deriveAll(doc);

  test.each(mistakes.map((m) => [m.rule, m] as const))(
    '%s is found once, where it was made',
    (rule, m: Mistake) => {
      const found = derived.findings.filter((f) => f.rule === rule);
      expect(found.map((f) => f.message)).toHaveLength(1);
      const [finding] = found as [Finding];
      if (m.run !== undefined) expect(finding.run).toBe(m.run);
      if (m.point !== undefined) expect(finding.point).toBe(m.point);
      if (m.circuit !== undefined) expect(finding.circuit).toBe(m.circuit);
      if (m.tracing !== undefined) expect(finding.key).toContain(m.tracing);
      if (m.outsideMm !== undefined) expect(finding.outsideMm).toBeCloseTo(m.outsideMm, 6);
      const where = whereFound(derived, finding);
      if (m.on === null) expect(where).toBeNull();
      else {
        expect(where?.walls).toContain(m.on.wall);
        expect(where?.room).toBe(m.on.room);
      }
    },
  );

  test('and nothing else is found', () => {
    expect(derived.findings.map((f) => f.rule).sort()).toEqual(mistakes.map((m) => m.rule).sort());
  });

  test('the notes list them all', () => {
    mistakes.forEach((m, i) => expect(doc.job.notes).toContain(`\n${i + 1}. ${m.rule}: ${m.what}`));
  });
});

test('every rule there is has its seeded mistake', () => {
  const seeded = FILES.flatMap(([, { mistakes }]) => mistakes.map((m) => m.rule));
  expect(seeded.toSorted()).toEqual(ALL_RULES.map((r) => r.id).toSorted());
});

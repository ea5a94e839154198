import { afterEach, describe, expect, it } from 'vitest';
import { RULES } from '../../../src/engine/checks/registry.ts';
import { COMMON_PRACTICE, type Rule } from '../../../src/engine/checks/rule.ts';
import { deriveAll } from '../../../src/engine/derive/deriveAll.ts';
import { deriveChange } from '../../../src/engine/derive/deriveChange.ts';
import type { DerivedIndex } from '../../../src/engine/derive/derivedIndex.ts';
import type { Touched } from '../../../src/engine/derive/types.ts';
import { tableFrom } from '../../../src/engine/model/defaults.ts';
import type { PlanDocument, Reading } from '../../../src/engine/model/document.ts';
import { rows } from '../../../src/engine/model/tables.ts';
import { seeded } from '../../random.ts';
import { randomPlan } from './randomPlan.ts';

/** A rule nobody foresaw: it looks at runs, and reads a storey, the readings, and the runs beside its own in a list. */
const unread: Rule<'run'> = {
  id: 'unread',
  title: 'Run without a reading',
  looksAt: 'run',
  severity: 'note',
  stage: 'runs',
  source: COMMON_PRACTICE,
  find: (ctx, run) =>
    rows(ctx.doc.readings).some((r) => r.run === run.id)
      ? []
      : [
          {
            about: run.id,
            run: run.id,
            message: `No reading of ${run.label} on ${ctx.doc.storeys.byId.s1?.name}, first of ${ctx.doc.runs.order[0]}.`,
            fix: 'Take one.',
          },
        ],
};

const reading = (id: string, run: string): Reading => ({ id, run, circuit: null }) as Reading;
const told = (index: DerivedIndex): string[] =>
  index.findings.filter((f) => f.rule === unread.id).map((f) => f.message);

afterEach(() => {
  RULES_OF_RUNS.splice(RULES_OF_RUNS.indexOf(unread), 1);
});
const RULES_OF_RUNS = RULES.run as Rule<'run'>[];

describe('a new rule', () => {
  it('is followed into whatever it reads, with nothing said of it anywhere but in the registry', () => {
    RULES_OF_RUNS.push(unread);
    let doc = randomPlan(seeded(1));
    let index = deriveAll(doc);
    const change = (next: PlanDocument, touched: Touched): string[] => {
      doc = next;
      index = deriveChange(index, doc, touched).next;
      expect(index.findings).toEqual(deriveAll(doc).findings);
      return told(index);
    };
    expect(told(index)).toHaveLength(14);

    const first = change(
      { ...doc, readings: tableFrom([reading('e1', 'r1')]) },
      { readings: new Set(['e1']) },
    );
    expect(first).toHaveLength(13);

    const floor = { ...doc.storeys.byId.s1, name: 'Kiln floor' } as PlanDocument['storeys']['byId'][string];
    const storeys = { ...doc.storeys, byId: { ...doc.storeys.byId, s1: floor } };
    expect(change({ ...doc, storeys }, { storeys: new Set(['s1']) })[0]).toContain(
      'on Kiln floor, first of r1',
    );

    const runs = { ...doc.runs, order: doc.runs.order.toReversed() };
    expect(change({ ...doc, runs }, { runs: new Set(doc.runs.order) })[0]).toContain('first of r14');

    expect(change({ ...doc, readings: tableFrom([]) }, { readings: new Set(['e1']) })).toHaveLength(14);
  });
});

import { describe, expect, it } from 'vitest';
import { deriveAll } from '../../../src/engine/derive/deriveAll.ts';
import type { PlanDocument } from '../../../src/engine/model/document.ts';
import { cutList } from '../../../src/engine/site/cutList.ts';
import { gapsLine, takeOffGaps } from '../../../src/engine/site/gaps.ts';
import { cutWithAllowance } from '../../../src/engine/takeoff/totals.ts';
import { makeMistakes } from '../../samples/mistakes.ts';
import { makeStudio } from '../../samples/studio.ts';

const { doc: studio } = makeStudio();
const lineOf = (doc: PlanDocument): string | null => gapsLine(takeOffGaps(deriveAll(doc).findings));

function without(doc: PlanDocument, run: string): PlanDocument {
  const { [run]: _gone, ...byId } = doc.runs.byId;
  return { ...doc, runs: { order: doc.runs.order.filter((id) => id !== run), byId } };
}

describe('whether a take-off is complete', () => {
  it('says nothing of the whole studio', () => {
    expect(lineOf(studio)).toBeNull();
  });

  it('says that a ring is open when a run of it is taken out', () => {
    const ring = Object.values(studio.circuits.byId).find((c) => c.topology === 'ring');
    const some = Object.values(studio.runs.byId).find((r) => r.circuit === ring?.id);
    expect(lineOf(without(studio, some?.id ?? ''))).toBe(
      'NOT COMPLETE: 1 ring not closed. More cable will be needed than is listed here.',
    );
  });

  it('says that a point is unreached when the run to a switch is taken out', () => {
    const toSwitch = Object.values(studio.runs.byId).find((r) => r.to === 'p18' || r.from === 'p18');
    expect(lineOf(without(studio, toSwitch?.id ?? ''))).toContain('1 point no run reaches');
  });

  it('counts every kind of gap of the plan of mistakes, and leaves out what was accepted', () => {
    const { findings } = deriveAll(makeMistakes().doc);
    const gaps = takeOffGaps(findings);
    expect(gaps.map((g) => g.what)).toEqual([
      '1 ring not closed',
      '2 parts of circuits not joined to their board',
      '1 point no run reaches',
      '1 point on no circuit',
      '1 run with an end on no point (counted as far as it is drawn)',
      '1 run whose way through the building is not clear',
      '1 run longer than any drum, on no drum below',
    ]);
    const open = findings.filter((f) => f.rule !== 'parked-end');
    expect(takeOffGaps(open)).toHaveLength(gaps.length - 1);
  });
});

describe('the cut list on site', () => {
  it('gives the length of the drum plan for every run: with tails and the allowance', () => {
    const derived = deriveAll(studio);
    const planned = new Map(
      derived.drums.flatMap((p) => p.drums.flatMap((d) => d.cuts.map((c) => [c.run, c.length] as const))),
    );
    const cuts = cutList(studio, derived);
    expect(cuts.length).toBe(studio.runs.order.length);
    for (const cut of cuts) {
      const length = derived.takeOff.runs.get(cut.run.id);
      if (length === undefined) throw new Error(`${cut.run.id} has no length`);
      expect(cut.length).toBe(planned.get(cut.run.id));
      expect(cut.length).toBe(cutWithAllowance(studio, length));
      expect(cut.length).toBeCloseTo(length.cutMm * 1.1, 6);
      expect(cut.whole).toBe(true);
    }
  });

  it('tells a run with an end on no point apart', () => {
    const { doc } = makeMistakes();
    const cuts = cutList(doc, deriveAll(doc));
    expect(cuts.filter((c) => c.run.from === null || c.run.to === null).map((c) => c.whole)).toEqual([false]);
  });
});

import { describe, expect, test } from 'vitest';
import { buildFabric } from '../../src/engine/fabric/build.ts';
import { resolveRun } from '../../src/engine/fabric/resolve.ts';
import type { Id } from '../../src/engine/model/document.ts';
import { rows } from '../../src/engine/model/tables.ts';
import { runLength } from '../../src/engine/takeoff/runLength.ts';
import { takeOff } from '../../src/engine/takeoff/totals.ts';
import { makeStudio } from './studio.ts';
import { HAND_METRES, HAND_TOTALS, type HandMetres } from './studioMetres.ts';

const { doc } = makeStudio();
const fabrics = new Map([['s1', buildFabric(doc, 's1')]]);
const lengths = new Map(
  rows(doc.runs).map((run) => [run.id, runLength(doc, resolveRun(doc, fabrics, run), run)]),
);
const hand = Object.entries(HAND_METRES);

describe('the studio, run by run, against the hand calculation', () => {
  test('every run is calculated by hand, and no other', () => {
    expect(hand.map(([id]) => id)).toEqual(doc.runs.order);
  });

  test.each(hand)('%s: %o', (id: Id, worked: HandMetres) => {
    const length = lengths.get(id);
    if (length === undefined) throw new Error(`${id} has no length`);
    expect(length.whole).toBe(true);
    expect(length.cable).toBe(worked.cable);
    expect(length.runMm).toBeCloseTo(worked.run, 6);
    expect(length.riseDropMm).toBeCloseTo(worked.riseDrop, 6);
    expect(length.throughMm).toBeCloseTo(worked.through, 6);
    expect(length.tailFromMm + length.tailToMm).toBe(worked.tails);
    expect(length.cutMm).toBeCloseTo(worked.run + worked.riseDrop + worked.through + worked.tails, 6);
  });

  test('metres per cable: measured, tails, 10 % on both, order', () => {
    const { cables } = takeOff(doc, lengths, { state: 'typed' });
    expect(cables.map((c) => c.cable).sort()).toEqual(Object.keys(HAND_TOTALS).sort());
    for (const total of cables) {
      const [measured, tails] = HAND_TOTALS[total.cable] as readonly [number, number];
      const own = hand.filter(([, w]) => w.cable === total.cable).map(([id]) => id);
      expect([...total.runs].sort()).toEqual(own.sort());
      expect(total.measuredMm).toBeCloseTo(measured, 6);
      expect(total.tailsMm).toBeCloseTo(tails, 6);
      expect(total.allowanceMm).toBeCloseTo((measured + tails) * 0.1, 6);
      expect(total.orderMm).toBeCloseTo((measured + tails) * 1.1, 6);
      expect(total.errorMm).toBe(0);
    }
  });
});

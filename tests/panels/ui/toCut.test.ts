import { describe, expect, test } from 'vitest';
import { deriveAll } from '../../../src/engine/derive/deriveAll.ts';
import { cutWithAllowance } from '../../../src/engine/takeoff/totals.ts';
import { reasonsOf } from '../../../src/panels/runs/RunAnswer.tsx';
import { cutWorking } from '../../../src/panels/ui/toCut.tsx';
import { makeStudio } from '../../samples/studio.ts';

const { doc } = makeStudio();
const derived = deriveAll(doc);

describe('the working of a length to cut', () => {
  test('adds up to what the drum plan cuts, for every run', () => {
    expect(derived.takeOff.runs.size).toBe(doc.runs.order.length);
    for (const length of derived.takeOff.runs.values()) {
      const [parts = '', total = ''] = cutWorking(doc, length).split(' = ');
      const sum = parts.split(' + ').reduce((all, part) => all + Number.parseFloat(part), 0);
      expect(Math.abs(sum - Number.parseFloat(total))).toBeLessThan(0.003);
      expect(total).toBe(`${(cutWithAllowance(doc, length) / 1000).toFixed(3)} m`);
      expect(parts).toContain('allowance (10 %)');
    }
  });
});

describe('why a run has its answer', () => {
  test('adds the metres of one reason together, and leaves none out', () => {
    for (const check of derived.runs.values()) {
      const reasons = reasonsOf(check.legs);
      const told = reasons.reduce((sum, each) => sum + each.length, 0);
      const all = check.legs.flatMap((leg) => leg.stretches).reduce((sum, each) => sum + each.length, 0);
      expect(told).toBeCloseTo(all, 6);
      expect(new Set(reasons.map((each) => `${each.answer} ${each.why}`)).size).toBe(reasons.length);
      for (const each of reasons) expect(each.why).not.toBe('');
    }
  });

  test('a run above the ceiling alone says that no zones are there', () => {
    const above = [...derived.runs.values()].find((check) => check.answer === 'not-checked');
    const [first] = reasonsOf(above?.legs ?? []);
    expect(first?.answer).toBe('not-checked');
    expect(first?.why).toMatch(/no permitted zones/);
  });
});

import { describe, expect, test } from 'vitest';
import type { DrumPlan } from '../../../src/engine/takeoff/types.ts';
import { boundWords } from '../../../src/panels/takeoff/DrumPlans.tsx';

const plan = (over: Partial<DrumPlan>): DrumPlan => ({
  cable: 'te2-5',
  drums: [],
  tooLong: [],
  cost: null,
  bought: 75,
  objective: 'metres',
  value: 75,
  lowerBound: 75,
  proven: true,
  ...over,
});

describe('how good a drum plan is', () => {
  test('best possible only where it is proven', () => {
    expect(boundWords(plan({}))).toBe(
      'Fewest metres possible with these drums. Metres are counted because not every drum has a price.',
    );
    expect(boundWords(plan({ objective: 'money', value: 40, lowerBound: 40 }))).toBe(
      'Cheapest possible with these drums.',
    );
  });

  test('else how far at most from the best', () => {
    expect(boundWords(plan({ proven: false, lowerBound: 62.4 }))).toMatch(
      /^Within 13 m of the best there can be\./,
    );
    expect(boundWords(plan({ proven: false, objective: 'money', value: 40, lowerBound: 38.5 }))).toBe(
      'Within 1.50 of the cheapest there can be.',
    );
  });
});

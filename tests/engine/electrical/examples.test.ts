import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { coolerFactor, dropOf, RING_EQUIVALENT } from '../../../src/engine/electrical/drop.ts';
import { ampsOf, cookerAmps } from '../../../src/engine/electrical/loads.ts';
import { crossedReading } from '../../../src/engine/electrical/readings.ts';
import { adiabaticCsa } from '../../../src/engine/checks/circuit/adiabatic.ts';
import { RING_MAX_METRES } from '../../../src/engine/electrical/tables/circuits.ts';
import {
  AMBIENT,
  ambientFactor,
  GROUP_BUNCHED,
  groupFactor,
  SURROUNDED,
  surroundedFactor,
} from '../../../src/engine/electrical/tables/factors.ts';
import { MILLIVOLTS } from '../../../src/engine/electrical/tables/ratings.ts';
import { loopImpedance, ohmPerMetre } from '../../../src/engine/electrical/tables/resistance.ts';

interface Example {
  readonly topic: string;
  readonly inputs: string;
  readonly answer: string;
}
const { workedExamples } = JSON.parse(readFileSync(new URL('./reference.json', import.meta.url), 'utf8')) as {
  readonly workedExamples: readonly Example[];
};

const ohm = (csa: number, metres: number): number => (ohmPerMetre(csa, 20) ?? NaN) * metres;

/** What the program makes of each example; keyed by its topic, told as its answer prints it. */
const MADE: Readonly<Record<string, () => string>> = {
  'ring R1+R2': () => {
    const [r1, r2] = [0.54, 0.54 * 1.67];
    return `${crossedReading(r1 / 2, r1 / 2, r2 / 2, r2 / 2).toFixed(2)} ohm`;
  },
  'voltage drop': () => {
    const mv = MILLIVOLTS.values['2.5'];
    return `${dropOf(32, mv, 40, false).toFixed(2)} V as a radial, ${dropOf(32, mv, 40, true).toFixed(2)} V as a ring`;
  },
  // The printed example has no temperature in it. Which R1 + R2, in steps of 0.1, brings Ze 1.5 to Zs 2.0?
  'earth fault loop': () => {
    const found = [0.3, 0.4, 0.5, 0.6].filter((r) => Math.abs(loopImpedance(1.5, r, 1) - 2.0) < 1e-9);
    return `R1+R2 = ${found.join(' or ')} ohm`;
  },
  'rating factors': () => `${(37 * groupFactor(GROUP_BUNCHED, 3) * (ambientFactor(40) ?? NaN)).toFixed(1)} A`,
  'design current': () => `${ampsOf(9500, 230).toFixed(1)} A`,
  'negative case': () => {
    const row = (csa: number) => [20, 40, 80].map((l) => ohm(csa, l).toFixed(3).replace(/^0/, '')).join('/');
    return `wrong: r1 is ${row(2.5)}, r2 ${row(1.5)} ohm`;
  },
};

describe('published worked examples', () => {
  test.each(workedExamples.map((e) => [e.topic, e] as const))('%s', (topic, example) => {
    expect(MADE[topic]?.()).toBe(example.answer);
  });

  test('the page that contradicts its own milliohms per metre is refused', () => {
    // It prints r1 .26/.52/1.04 for 20/40/80 m of 2.5 mm².
    for (const [metres, printed] of [
      [20, 0.26],
      [40, 0.52],
      [80, 1.04],
    ] as const) {
      expect(Math.abs(ohm(2.5, metres) - printed)).toBeGreaterThan(0.1);
    }
  });
});

describe('the 106 m ring', () => {
  const cold = 11.5 / ((26 * 0.018) / 4);

  test('98.3 m at 70 °C', () => {
    expect(RING_EQUIVALENT).toBe(26);
    expect(cold).toBeCloseTo(98.3, 1);
    expect(dropOf(RING_EQUIVALENT, MILLIVOLTS.values['2.5'], cold, true)).toBeCloseTo(11.5, 9);
  });

  test('106.5 m with legs that carry 13 A of their 20 A, so the published 106 m keeps the limit and 107 m does not', () => {
    const ct = coolerFactor(13, 20, 1);
    expect(ct).toBeCloseTo(0.923, 3);
    expect(cold / ct).toBeCloseTo(106.5, 1);
    const drop = (m: number) => dropOf(RING_EQUIVALENT, MILLIVOLTS.values['2.5'], m, true) * ct;
    expect(drop(RING_MAX_METRES.values)).toBeLessThan(11.5);
    expect(drop(RING_MAX_METRES.values + 1)).toBeGreaterThan(11.5);
  });
});

describe('factors', () => {
  test('between rows of insulation the next longer row stands, never a value between', () => {
    expect(surroundedFactor(0)).toBe(1);
    expect(surroundedFactor(1)).toBe(SURROUNDED.values['50']);
    expect(surroundedFactor(50)).toBe(SURROUNDED.values['50']);
    expect(surroundedFactor(50.1)).toBe(SURROUNDED.values['100']);
    expect(surroundedFactor(401)).toBe(SURROUNDED.values['500']);
    expect(surroundedFactor(5000)).toBe(SURROUNDED.values['500']);
  });

  test('between rows of temperature the warmer one; hotter than the table is not known', () => {
    expect(ambientFactor(20)).toBe(AMBIENT.values['25']);
    expect(ambientFactor(31)).toBe(AMBIENT.values['35']);
    expect(ambientFactor(61)).toBeNull();
  });

  test('between rows of circuits the larger number', () => {
    expect(groupFactor(GROUP_BUNCHED, 10)).toBe(GROUP_BUNCHED.values['12']);
    expect(groupFactor(GROUP_BUNCHED, 30)).toBe(GROUP_BUNCHED.values['20']);
  });

  test('a cooker: 10 A, 30 % of the rest and 5 A for a socket', () => {
    expect(cookerAmps(8, false)).toBe(8);
    expect(cookerAmps(40, false)).toBeCloseTo(19, 12);
    expect(cookerAmps(40, true)).toBeCloseTo(24, 12);
  });

  test('adiabatic: k S = I sqrt(t), by hand for 1000 A, 0.1 s and k 115', () => {
    expect(adiabaticCsa(1000, 0.1, 115)).toBeCloseTo(316.2278 / 115, 5);
  });
});

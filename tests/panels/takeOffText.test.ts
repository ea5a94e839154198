import { describe, expect, test } from 'vitest';
import { newDocument } from '../../src/engine/model/defaults.ts';
import type { TakeOff } from '../../src/engine/takeoff/types.ts';
import { toCsv } from '../../src/io/csv.ts';
import { takeOffRows, takeOffText } from '../../src/panels/takeOffText.ts';

const takeOff: TakeOff = {
  scale: { state: 'typed' },
  runs: new Map(),
  cables: [
    {
      cable: 'te2-5',
      name: '=2.5 mm²\ttwin',
      runs: ['r1'],
      runMm: 12_345,
      riseDropMm: 2000,
      throughMm: 88,
      measuredMm: 14_433,
      tailsMm: 600,
      allowanceMm: 1503.3,
      orderMm: 16_536.3,
      errorMm: 0,
    },
  ],
  sundries: [{ key: 'clips', what: 'Clips', count: 41, working: '10 m', source: '', runs: [], points: [] }],
};
const doc = newDocument('+Shed');

describe('the take-off as text and as CSV', () => {
  test('metres to the centimetre, counts whole, one line each', () => {
    expect(takeOffText(doc, takeOff).split('\n')).toEqual([
      'Take-off: +Shed',
      'Cable\tRun m\tRise and drop m\tThrough m\tTails m\tAllowance m\tTo order m\t± m',
      '=2.5 mm² twin\t12.35\t2.00\t0.09\t0.60\t1.50\t16.54\t0.00',
      'Also\tCount\tWorking',
      'Clips\t41\t10 m',
      '',
    ]);
  });

  test('a name that looks like a formula is made harmless in CSV, numbers stay numbers', () => {
    const csv = toCsv(takeOffRows(doc, takeOff));
    expect(csv).toContain(`'=2.5 mm²`);
    expect(csv).toContain(',12.35,');
  });

  test('refused metres are said, never given', () => {
    const refused: TakeOff = { ...takeOff, scale: { state: 'refused', why: 'no known length' } };
    expect(takeOffText(doc, refused)).toBe('Take-off: +Shed\nMetres refused: no known length\n');
  });
});

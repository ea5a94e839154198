import { describe, expect, test } from 'vitest';
import { deriveAll } from '../../../src/engine/derive/deriveAll.ts';
import { newDocument } from '../../../src/engine/model/defaults.ts';
import { COUNTED, type DrumPlan, type TakeOff } from '../../../src/engine/takeoff/types.ts';
import { toCsv } from '../../../src/io/csv.ts';
import { takeOffRows, takeOffText } from '../../../src/panels/takeoff/takeOffText.ts';
import { makeMistakes } from '../../samples/mistakes.ts';
import { makeStudio } from '../../samples/studio.ts';

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
  sundries: [
    { key: 'clips', what: 'Clips', count: 41, working: '10 m', source: COUNTED, runs: [], points: [] },
  ],
};
const drum = (length: number, owned: boolean, run: string, left: number) => ({
  length,
  price: null,
  owned,
  cuts: [{ run, length: length * 1000 - left, left }],
  left,
});
const plan: DrumPlan = {
  cable: 'te2-5',
  drums: [drum(12.5, true, 'r3', 100), drum(50, false, 'r1', 4250), drum(50, false, 'r2', 0)],
  tooLong: ['r4'],
  cost: null,
  bought: 100,
  objective: 'metres',
  value: 100,
  lowerBound: 100,
  proven: true,
};
const doc = newDocument('+Shed');
const parts = { takeOff, drums: [plan], findings: [] };

describe('the take-off as text and as CSV', () => {
  test('metres to the centimetre, drums by length, counts whole, one line each', () => {
    expect(takeOffText(doc, parts).split('\n')).toEqual([
      'Take-off: +Shed',
      '',
      'Cable\tRun m\tRise and drop m\tThrough m\tTails m\tAllowance m\tNeeded m\t± m',
      "'=2.5 mm² twin\t12.35\t2.00\t0.09\t0.60\t1.50\t16.54\t0.00",
      '',
      'Drums to buy\tLength m\tCount\tWorking',
      '2.5 mm² twin and earth (you have it: do not buy)\t12.5\t1\tFor r3; left over 0.10 m',
      '2.5 mm² twin and earth\t50\t2\tFor r1, r2; left over 4.25 m, 0.00 m',
      '2.5 mm² twin and earth\t\t\tr4: longer than any drum on sale',
      '',
      'Also\tCount\tWorking',
      'Clips\t41\t10 m',
      '',
    ]);
  });

  test('a name that looks like a formula is made harmless in CSV, numbers stay numbers', () => {
    const csv = toCsv(takeOffRows(doc, parts));
    expect(csv).toContain(`'=2.5 mm²`);
    expect(csv).toContain(',12.35,');
    expect(csv).toContain('2.5 mm² twin and earth,50,2,');
  });

  test('refused metres are said first, never given', () => {
    const refused: TakeOff = { ...takeOff, scale: { state: 'refused', why: 'no known length' } };
    expect(takeOffText(doc, { ...parts, takeOff: refused })).toBe(
      'Metres refused: no known length\nTake-off: +Shed\n',
    );
  });

  test('the whole studio: every drum, box and accessory is on it, and no warning', () => {
    const { doc: studio } = makeStudio();
    const derived = deriveAll(studio);
    const rows = takeOffRows(studio, derived);
    expect(rows[0]).toEqual(['Take-off: Pottery studio (invented)']);
    const count = (name: string): unknown => rows.find((row) => row[0] === name)?.at(-2);
    const of = (kind: string, gangs: number): number =>
      Object.values(studio.points.byId).filter((p) => p.kind === kind && p.gangs === gangs).length;
    expect(count('Socket front, two-gang')).toBe(of('socket', 2));
    expect(count('Consumer unit')).toBe(1);
    expect(count('Ceiling light')).toBe(of('ceiling-light', 1));
    const drums = rows.filter((row) => row.length === 4 && typeof row[1] === 'number');
    const bought = drums.reduce((sum, row) => sum + Number(row[1]) * Number(row[2]), 0);
    expect(bought).toBe(derived.drums.reduce((sum, each) => sum + each.bought, 0));
    for (const row of rows) for (const cell of row) expect(String(cell).length).toBeLessThan(300);
  });

  test('what is missing is said first in both', () => {
    const { doc: wrong } = makeMistakes();
    const derived = deriveAll(wrong);
    expect(takeOffText(wrong, derived)).toMatch(/^NOT COMPLETE: 1 ring not closed; /);
    expect(toCsv(takeOffRows(wrong, derived))).toMatch(/^\ufeff"?NOT COMPLETE: 1 ring not closed; /);
  });
});

import { describe, expect, test } from 'vitest';
import { bareLength, feetAndInches, showLength } from '../../../src/panels/ui/lengths.tsx';
import { parseLength } from '../../../src/tools/lengthText.ts';

describe('lengths as people read them', () => {
  test('millimetres keep one decimal, metres three', () => {
    expect(showLength(2400, 'mm')).toBe('2400 mm');
    expect(showLength(12.55, 'mm')).toBe('12.6 mm');
    expect(showLength(-0.01, 'mm')).toBe('0 mm');
    expect(showLength(2400, 'm')).toBe('2.400 m');
    expect(bareLength(2400, 'm')).toBe('2.400');
  });

  // 1 inch is 25.4 mm exactly (BS 350): 8 ft = 96 in = 2438.4 mm; 450 mm = 17.7165 in, nearest sixteenth 17 11/16.
  test.each([
    [2438.4, '8′ 0″'],
    [25.4, '1″'],
    [12.7, '0 1/2″'],
    [450, '1′ 5 11/16″'],
    [0, '0″'],
    [-304.8, '−1′ 0″'],
  ])('%d mm is %s', (mm, text) => {
    expect(feetAndInches(mm)).toBe(text);
  });

  test('what a field shows reads back to within what it rounds away', () => {
    for (let mm = 0; mm < 9000; mm += 37.3) {
      for (const [units, tolerance] of [
        ['mm', 0.05],
        ['m', 0.5],
        ['ft', 25.4 / 32],
      ] as const) {
        const read = parseLength(showLength(mm, units));
        expect(read.ok && Math.abs(read.mm - mm), `${mm} as ${showLength(mm, units)}`).toBeLessThanOrEqual(
          tolerance + 1e-6,
        );
      }
    }
  });
});

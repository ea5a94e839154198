import { describe, expect, it } from 'vitest';
import { grouped, mmText, parseLength } from '../../src/tools/lengthText.ts';

const good: [string, number][] = [
  ['3200', 3200],
  [' 3200 mm ', 3200],
  ['3 200', 3200],
  ['3,200', 3200],
  ['1,234,567 mm', 1234567],
  ['3.2m', 3200],
  ['3,2 m', 3200],
  ['3.2 metres', 3200],
  ['3,200 m', 3200],
  ['3,5', 3.5],
  ['320cm', 3200],
  ['3m 200', 3200],
  ['0.5', 0.5],
  ['.5m', 500],
  ['-250', -250],
  ['−250', -250],
  ['+10', 10],
  // 10 ft 6 in = 126 in = 126 × 25.4 mm
  [`10'6"`, 3200.4],
  [`10' 6"`, 3200.4],
  [`10′ 6″`, 3200.4],
  ['10ft 6in', 3200.4],
  ['10 feet 6 inches', 3200.4],
  [`10'`, 3048],
  [`10'6`, 3200.4],
  [`6"`, 152.4],
  // 6 1/2 in = 6.5 × 25.4
  [`6 1/2"`, 165.1],
  [`1/2"`, 12.7],
  [`10'6 1/2"`, 3213.1],
];
const bad = [
  '',
  '  ',
  'abc',
  '3x',
  '3.2.1',
  'm',
  '--3',
  `1/0"`,
  '1e5',
  'NaN',
  'Infinity',
  '3 m m',
  '99999999',
];

describe('typed lengths', () => {
  it.each(good)('%s is %d mm', (text, mm) => {
    expect(parseLength(text)).toEqual({ ok: true, mm });
  });
  it.each(bad)('refuses "%s" with a reason', (text) => {
    const parsed = parseLength(text);
    expect(parsed.ok).toBe(false);
    if (!parsed.ok) expect(parsed.reason.length).toBeGreaterThan(10);
  });
  it('writes millimetres in groups of three', () => {
    expect(mmText(3400)).toBe('3 400 mm');
    expect(mmText(999.6)).toBe('1 000 mm');
    expect(grouped(-1234567)).toBe('-1 234 567');
    expect(grouped(-0.2)).toBe('0');
  });
});

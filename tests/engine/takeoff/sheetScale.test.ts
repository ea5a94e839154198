import { describe, expect, it } from 'vitest';
import { mmPerPoint, scaleVerdict, sheetOf, statedScales } from '../../../src/engine/takeoff/sheetScale.ts';

const points = (mm: number): number => (mm * 72) / 25.4;

describe('the sheet of a page', () => {
  // ISO 216: the A series in mm.
  it.each([
    ['A0', 841, 1189],
    ['A1', 594, 841],
    ['A2', 420, 594],
    ['A3', 297, 420],
    ['A4', 210, 297],
  ] as const)('%s, upright and lying', (name, short, long) => {
    expect(sheetOf(points(short), points(long))).toBe(name);
    expect(sheetOf(points(long), points(short))).toBe(name);
    expect(sheetOf(points(short) + points(2.9), points(long))).toBe(name);
  });
  it('names what PDFs round it to', () => {
    expect(sheetOf(595, 842)).toBe('A4');
    expect(sheetOf(612, 792)).toBe('letter');
  });
  it('gives no other size a name', () => {
    expect(sheetOf(points(250), points(350))).toBeNull();
    expect(sheetOf(points(210 + 4), points(297))).toBeNull();
  });
});

describe('the scale written on a sheet', () => {
  it('prefers the one beside a sheet size, however it is written', () => {
    expect(statedScales(['Detail 1:5', 'Scale 1:50 @ A3', '1:5'])[0]).toEqual({
      text: '1:50 @ A3',
      ratio: 50,
      sheet: 'A3',
    });
    expect(statedScales(['Scale', '1:100', 'at', 'A1'])[0]).toMatchObject({ ratio: 100, sheet: 'A1' });
  });
  it('reads a fall, a date and a time as none', () => {
    expect(statedScales(['fall 1:80', '11:30', 'drawn 1/12/24'])).toEqual([]);
    expect(statedScales([])).toEqual([]);
  });
});

describe('what a known length says of the stated scale', () => {
  const at50 = mmPerPoint(50);
  it('1:50 is 50 times 25.4/72 mm a point', () => expect(at50).toBeCloseTo(17.6389, 4));
  it('bears it out within 1 in 100', () => {
    expect(scaleVerdict(at50, at50 * 1.009).kind).toBe('agrees');
    expect(scaleVerdict(at50, at50 * 1.02).kind).not.toBe('agrees');
  });
  it('names an A3 drawing printed on A4', () => {
    // ISO 216: 210 over 297.
    const found = scaleVerdict(at50, at50 / (210 / 297));
    expect(found.kind).toBe('slip');
    expect(found.words).toContain('A3 drawing printed on A4');
    expect(scaleVerdict(at50, at50 * (210 / 297)).words).toContain('A4 drawing printed on A3');
  });
  it('names "fit to page" from 0.94 to 0.97', () => {
    for (const size of [0.94, 0.955, 0.97])
      expect(scaleVerdict(at50, at50 / size).words).toContain('fit to page');
    expect(scaleVerdict(at50, at50 / 0.9).kind).toBe('other');
  });
  it('else says what it is drawn at', () => {
    expect(scaleVerdict(at50, mmPerPoint(120)).words).toContain('1:120');
  });
});

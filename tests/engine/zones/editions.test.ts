import { describe, expect, it } from 'vitest';
import { EDITIONS } from '../../../src/engine/zones/editions.ts';

describe('figures of BS 7671', () => {
  it.each(Object.values(EDITIONS))('$name: 522.6.202-204 and 415.1.1', (rules) => {
    expect(rules.topBand, '522.6.202: 150 mm from the top of the wall').toBe(150);
    expect(rules.angleBand, '522.6.202: 150 mm of an angle between adjoining walls').toBe(150);
    expect(rules.shallow, '522.6.202: less than 50 mm from a surface').toBe(50);
    expect(rules.reverseWall, '522.6.202: wall of 100 mm thickness or less').toBe(100);
    expect(rules.rcdMilliamps, '415.1.1: residual current not above 30 mA').toBe(30);
  });

  it('names the two editions with their dates', () => {
    expect(EDITIONS['bs7671-2018-a3'].name).toBe('BS 7671:2018+A2:2022+A3:2024');
    expect(EDITIONS['bs7671-2018-a4'].name).toBe('BS 7671:2018+A4:2026');
  });

  it('lets another circuit rely on a strip only from 2026 (Table 52.1 footnote)', () => {
    expect(EDITIONS['bs7671-2018-a3'].otherCircuits).toBe('disputed');
    expect(EDITIONS['bs7671-2018-a4'].otherCircuits).toBe('permitted');
  });
});

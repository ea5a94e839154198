import { describe, expect, it } from 'vitest';
import { acceptable, EDITIONS, type Placement } from '../../../src/engine/zones/editions.ts';

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

// The logic as published, written as expressions of the five facts; every one of the 32 cases is compared.
const PUBLISHED = {
  // BS 7671:2018+A2+A3, 522.6.202, .203, .204
  'bs7671-2018-a3': ({ metal, shallow, inZone, rcd30, p204 }: Placement) => {
    const depthTest = (inZone && rcd30) || p204;
    if (!metal) return !shallow || depthTest;
    return shallow ? (rcd30 || p204) && depthTest : rcd30 || p204;
  },
  // BS 7671:2018+A4:2026, Table 52.1 (one public page; verify against the standard)
  'bs7671-2018-a4': ({ metal, shallow, inZone, rcd30, p204 }: Placement) => {
    if (!metal) return !shallow || (inZone && rcd30) || p204;
    return shallow ? inZone && (rcd30 || p204) : rcd30 || p204;
  },
} as const;

describe('truth table of 522.6.202-204 and Table 52.1', () => {
  const cases = Array.from({ length: 32 }, (_, i): Placement => ({
    metal: (i & 1) !== 0,
    shallow: (i & 2) !== 0,
    inZone: (i & 4) !== 0,
    rcd30: (i & 8) !== 0,
    p204: (i & 16) !== 0,
  }));
  for (const edition of ['bs7671-2018-a3', 'bs7671-2018-a4'] as const) {
    it.each(cases)(`${edition} %o`, (at) => {
      expect(acceptable(EDITIONS[edition], at)).toBe(PUBLISHED[edition](at));
    });
  }

  it('an RCD alone does not make a shallow cable outside the zones acceptable, in either edition', () => {
    for (const rules of Object.values(EDITIONS)) {
      expect(
        acceptable(rules, { metal: false, shallow: true, inZone: false, rcd30: true, p204: false }),
      ).toBe(false);
    }
  });

  it('the editions differ in one case: protected, shallow, outside, metal-framed', () => {
    const differ = cases.filter(
      (at) => acceptable(EDITIONS['bs7671-2018-a3'], at) !== acceptable(EDITIONS['bs7671-2018-a4'], at),
    );
    expect(differ.every((at) => at.metal && at.shallow && !at.inZone && at.p204)).toBe(true);
    expect(differ).toHaveLength(2);
  });
});

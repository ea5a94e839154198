import { describe, expect, test } from 'vitest';
import { ALL_RULES } from '../../../src/engine/checks/registry.ts';
import { EVIDENCE_WORDS, weakest, type Evidence } from '../../../src/engine/model/evidence.ts';
import { EDITIONS } from '../../../src/engine/zones/editions.ts';

/**
 * How many public pages each rule's figures were seen on, typed from the list of check values and not from the code:
 * 2, 1, or 0 for memory and practice. Zone rules of the 2026 edition were seen on one page only (its Table 52.1).
 */
const SEEN: Readonly<Record<string, readonly [a3: number, a4: number]>> = {
  'zone-outside': [2, 1],
  'cover-needs-rcd': [2, 1],
  'metal-frame': [2, 1],
  'zone-disputed': [1, 1],
  'turn-away-from-point': [1, 1],
  'socket-no-rcd': [2, 2],
  'luminaire-no-rcd': [2, 2],
  'height-new-dwelling': [2, 2],
  'bathroom-socket': [2, 2],
  'near-pipe': [0, 0],
  'bend-tight': [0, 0],
  'joint-hidden': [0, 0],
  'near-hob': [0, 0],
  'near-sink': [2, 2],
  'box-too-shallow': [1, 1],
  'polystyrene-contact': [1, 1],
  'voltage-drop': [2, 2],
  'loop-too-high': [2, 2],
  'ring-too-long': [2, 2],
  'spur-feeds-more': [2, 2],
  'area-too-large': [2, 2],
  'rating-too-low': [2, 2],
  'ring-standard': [2, 2],
  'ring-load': [2, 2],
  'in-insulation': [2, 2],
  'tt-electrode-high': [1, 1],
  'grouped-at-board': [0, 0],
  adiabatic: [0, 0],
  'too-few-cores': [0, 0],
};
const RANKS: readonly Evidence[] = ['memory', 'one-source', 'two-sources'];

describe('how well each rule is known', () => {
  test.each(Object.entries(SEEN))('%s', (id, [a3, a4]) => {
    const rule = ALL_RULES.find((r) => r.id === id);
    expect(rule?.source(EDITIONS['bs7671-2018-a3']).rank).toBe(RANKS[a3]);
    expect(rule?.source(EDITIONS['bs7671-2018-a4']).rank).toBe(RANKS[a4]);
  });

  test('every rule says it in words, and names where it comes from', () => {
    for (const edition of Object.values(EDITIONS)) {
      for (const rule of ALL_RULES) {
        const { text, rank } = rule.source(edition);
        expect([rule.id, text.length > 5, EVIDENCE_WORDS[rank].length > 5]).toEqual([rule.id, true, true]);
        // Memory is told by the rank: a rule that leans on it in its words may not claim more.
        if (/common practice$/i.test(text)) expect([rule.id, rank]).toEqual([rule.id, 'memory']);
      }
    }
  });

  test('the weakest of several is the rank of all', () => {
    expect(weakest('two-sources', 'one-source')).toBe('one-source');
    expect(weakest('one-source', 'two-sources', 'memory')).toBe('memory');
    expect(weakest('two-sources')).toBe('two-sources');
  });
});

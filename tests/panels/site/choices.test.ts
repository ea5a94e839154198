import { describe, expect, it } from 'vitest';
import { decodeFile, encodeDocument } from '../../../src/document/codec/file.ts';
import { addReading } from '../../../src/document/commands/readings.ts';
import { createStore } from '../../../src/document/store.ts';
import { deriveAll } from '../../../src/engine/derive/deriveAll.ts';
import { factsOfCircuit } from '../../../src/engine/electrical/facts.ts';
import { electricalInput } from '../../../src/engine/circuitReport/report.ts';
import type { Circuit } from '../../../src/engine/model/document.ts';
import {
  bandText,
  explanationOf,
  keyOf,
  readingChoices,
  readingText,
} from '../../../src/panels/site/choices.ts';
import { makeStudio } from '../../samples/studio.ts';

const { doc } = makeStudio();
const input = electricalInput(doc, deriveAll(doc));
const facts = (id: string) => factsOfCircuit(input, doc.circuits.byId[id] as Circuit);

describe('what may be read', () => {
  it('offers each thing once, and all of it can be written down', () => {
    for (const id of doc.circuits.order) {
      const all = readingChoices(doc, facts(id)).flatMap((g) => g.choices);
      expect(new Set(all.map((c) => c.key)).size).toBe(all.length);
      expect(new Set(all.map((c) => c.label)).size).toBe(all.length);
      const store = createStore(doc);
      for (const { kind, point, run } of all) {
        const outcome = store.dispatch(
          addReading({
            circuit: id,
            kind,
            point,
            run,
            value: 0.5,
            stage: 'before-boarding',
            date: '2026-05-17',
            instrument: '',
            by: '',
            note: '',
          }),
        );
        expect(outcome.ok).toBe(true);
      }
      const kept = decodeFile(new TextEncoder().encode(encodeDocument(store.getState().doc)));
      expect(kept.ok && kept.doc.readings.order.length).toBe(all.length);
    }
  });

  it('expects a figure of all but insulation', () => {
    for (const id of doc.circuits.order)
      for (const choice of readingChoices(doc, facts(id)).flatMap((g) => g.choices))
        expect([choice.label, explanationOf(facts(id), { ...choice, value: 0.5 }) === null]).toEqual([
          choice.label,
          false,
        ]);
  });

  it('has the ring’s own readings for the ring alone', () => {
    const names = (id: string): string[] => readingChoices(doc, facts(id)).map((g) => g.name);
    expect(names('c2')).toContain('Round the ring');
    expect(names('c1')).not.toContain('Round the ring');
  });
});

describe('a reading off the drawing', () => {
  it('names the leg that is missing', () => {
    const ring = facts('c2');
    const r1 = ring.readings.expected.find((e) => e.kind === 'r1');
    const leg = r1?.parts.find((p) => p.label === 'R5');
    if (r1 === undefined || leg === undefined) throw new Error('the ring has no R5');
    const told = explanationOf(ring, { kind: 'r1', point: null, run: null, value: r1.expected - leg.ohm });
    expect(told?.agrees).toBe(false);
    expect(told?.because[0]).toContain('R5');
    expect(told?.because[0]).toContain('missing');
  });

  it('never says that anything passed', () => {
    for (const value of [0, 0.3, 0.45, 0.46, 2, 1e4])
      for (const choice of readingChoices(doc, facts('c2')).flatMap((g) => g.choices)) {
        const told = explanationOf(facts('c2'), { ...choice, value });
        expect([told?.says, ...(told?.because ?? [])].join(' ')).not.toMatch(/\bpass/i);
      }
  });
});

describe('figures in words', () => {
  it('shows two decimals of an ohm at least, and all that were typed', () => {
    expect(readingText({ kind: 'r1', value: 0.4 })).toBe('0.40 Ω');
    expect(readingText({ kind: 'r1', value: 0.456 })).toBe('0.456 Ω');
    expect(readingText({ kind: 'insulation-line-earth', value: 200 })).toBe('200 MΩ');
  });

  it('gives one figure where a meter cannot tell the ends of the band apart', () => {
    const [any] = facts('c2').readings.expected;
    if (any === undefined) throw new Error('nothing is expected');
    expect(bandText({ ...any, low: 0.401, high: 0.404 })).toBe('0.40 Ω');
    expect(bandText({ ...any, low: 0.4, high: 0.46 })).toBe('0.40 to 0.46 Ω');
    expect(keyOf({ kind: 'r1', point: null, run: 'r1' })).not.toBe(
      keyOf({ kind: 'r1', point: 'r1', run: null }),
    );
  });
});

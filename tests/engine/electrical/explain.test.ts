import { describe, expect, test } from 'vitest';
import { deriveAll } from '../../../src/engine/derive/deriveAll.ts';
import { explainInsulation, explainReading } from '../../../src/engine/electrical/explain.ts';
import type { ExpectedReading } from '../../../src/engine/electrical/readings.ts';
import { circuitsJson, electricalOf, questionsOf } from '../../../src/engine/circuitReport/report.ts';
import { tableFrom } from '../../../src/engine/model/defaults.ts';
import type { Reading } from '../../../src/engine/model/document.ts';
import { makeStudio } from '../../samples/studio.ts';

const doc = makeStudio().doc;
const derived = deriveAll(doc);
const reports = electricalOf(doc, derived);
const expected = reports.get('c2')?.facts.readings.expected ?? [];
const of = (kind: Reading['kind'], point: string | null = null): ExpectedReading => {
  const found = expected.find((e) => e.kind === kind && e.point === point);
  if (found === undefined) throw new Error(`no ${kind}`);
  return found;
};

describe('a reading held against the drawing', () => {
  const r1 = of('r1');

  test('the prediction is the drawn metres of the ring with tails', () => {
    const metres = r1.parts.reduce((sum, p) => sum + p.metres, 0);
    expect(r1.expected).toBeCloseTo(metres * 0.00741, 10);
    expect(r1.parts).toHaveLength(10);
  });

  test('within the band it agrees, and nothing says that it passes', () => {
    const told = explainReading(r1, r1.expected, expected);
    expect(told.agrees).toBe(true);
    expect(told.because).toEqual([]);
    for (const said of [told.says, explainInsulation(200).says]) {
      expect(said).not.toMatch(/\b(pass|passed|passes|safe)\b/i);
      expect(said).toMatch(/who tests decides/i);
    }
  });

  test('a missing leg is named with its metres', () => {
    const longest = r1.parts.reduce((a, b) => (b.metres > a.metres ? b : a));
    const told = explainReading(r1, r1.expected - longest.ohm, expected);
    expect(told.agrees).toBe(false);
    expect(told.because[0]).toContain(`${longest.label} (${longest.metres.toFixed(1)} m) missing`);
    expect(told.because.join()).toContain(`${longest.metres.toFixed(1)} m less cable than drawn`);
  });

  test('a swapped core: r1 that reads as r2', () => {
    const told = explainReading(r1, of('r2').expected, expected);
    expect(told.because).toContain('two cores swapped: the protective conductor (r2) should read so');
  });

  test('a wrong size: 1.5 or 4 for 2.5 all the way, or in one run', () => {
    const told = explainReading(r1, (r1.expected * 12.1) / 7.41, []);
    expect(told.because).toContain('1.5 mm² all the way would read so');
    const bigger = explainReading(r1, (r1.expected * 4.61) / 7.41, []);
    expect(bigger.because).toContain('4 mm² all the way would read so');
    const r6 = r1.parts.find((p) => p.run === 'r6');
    if (r6 === undefined) throw new Error('R6 is not in the ring');
    const one = explainReading(r1, r1.expected + r6.metres * (0.0121 - 0.00741), []);
    expect(one.because).toContain('R6 in 1.5 mm² instead of 2.5 mm² would read so');
  });

  test('a loose joint: more than 0.05 Ω above', () => {
    expect(explainReading(r1, r1.expected + 0.08, []).because.join()).toMatch(/loose joint/);
    expect(explainReading(r1, r1.expected - 0.08, []).because.join()).not.toMatch(/loose joint/);
  });

  test('an open conductor', () => {
    expect(explainReading(r1, 999, expected).because).toEqual([
      'an open conductor: a joint not made, or an end not connected',
    ]);
  });

  test('insulation: 1 MΩ at 500 V', () => {
    expect(explainInsulation(0.99).agrees).toBe(false);
    expect(explainInsulation(1).agrees).toBe(true);
    expect(explainInsulation(0.5).says).toContain('1 MΩ at 500 V');
  });

  test('readings in the plan are held against their own prediction', () => {
    const reading = (id: string, over: Partial<Reading>): Reading => ({
      id,
      circuit: 'c2',
      run: null,
      point: null,
      kind: 'r1',
      value: 0.2,
      stage: 'before-boarding',
      date: '2026-01-05',
      instrument: 'invented',
      by: 'invented',
      note: '',
      ...over,
    });
    const r6 = r1.parts.find((p) => p.run === 'r6')?.metres ?? NaN;
    const tested = {
      ...doc,
      readings: tableFrom([
        reading('m1', {}),
        reading('m2', { kind: 'ring-line-earth', point: 'p4', value: of('ring-line-earth', 'p4').expected }),
        reading('m3', { kind: 'insulation-line-earth', value: 0.2 }),
        reading('m4', { kind: 'r1r2', point: 'p15', value: 1 }),
        // R6 by itself, line and protective conductor joined at its far end; first right, then as r1 of it.
        reading('m5', { kind: 'continuity', run: 'r6', value: r6 * (0.00741 + 0.0121) }),
        reading('m6', { kind: 'continuity', run: 'r6', circuit: null, value: r6 * 0.00741 }),
      ]),
    };
    const taken = electricalOf(tested, derived).get('c2')?.taken ?? [];
    expect(taken.map((t) => t.explanation?.agrees ?? null)).toEqual([false, true, false, null, true, false]);
    expect(taken[5]?.explanation?.because[0]).toBe('two cores swapped: the line (r1) should read so');
  });
});

describe('the studio', () => {
  test('every check keeps or leaves a question; none is broken', () => {
    for (const { checks } of reports.values()) {
      for (const { outcomes } of checks) expect(outcomes.map((o) => o.state)).not.toContain('breaks');
    }
  });

  test('diagrams: a ring as a ring with its spur, the kiln as a chain, the lighting as a tree', () => {
    const shape = (id: string) => reports.get(id)?.diagram.shape;
    expect(['c1', 'c2', 'c3', 'c4'].map(shape)).toEqual(['chain', 'ring', 'tree', 'chain']);
    const ring = reports.get('c2')?.diagram;
    expect(ring?.edges.filter((e) => e.part === 'ring').map((e) => e.run)).toEqual([
      'r3',
      'r4',
      'r5',
      'r6',
      'r7',
      'r8',
      'r9',
      'r10',
      'r11',
      'r12',
    ]);
    expect(ring?.edges.filter((e) => e.part === 'spur').map((e) => [e.run, e.from, e.to])).toEqual([
      ['r13', 'p4', 'p11'],
    ]);
    expect(ring?.nodes.filter((n) => n.onRing !== null).map((n) => n.point)).toEqual([
      'p1',
      'p2',
      'p3',
      'p4',
      'p5',
      'p6',
      'p7',
      'p8',
      'p9',
      'p10',
    ]);
  });

  test('the kiln row by hand: 8000 W at 230 V, 10/4 mm², Zs = 0.35 + R x 1.20', () => {
    const row = reports.get('c1')?.schedule;
    expect(row).toMatchObject({ device: 'C40', rcd: 30, csa: 10, cpc: 4, methods: ['B', 'C'] });
    expect(row?.designCurrent).toBeCloseTo(8000 / 230, 9);
    const metres = (row?.lengthMm ?? NaN) / 1000;
    expect(row?.r1r2).toBeCloseTo((metres * 6.44) / 1000, 9);
    expect(row?.zs).toBeCloseTo(0.35 + ((metres * 6.44) / 1000) * 1.2, 9);
    expect(row?.maxZs).toBeCloseTo((230 * 0.95) / 400, 9);
    expect(row?.dropVolts).toBeCloseTo(((8000 / 230) * 4.4 * metres) / 1000, 9);
  });

  test('what is not known stays blank and is asked', () => {
    const asked = questionsOf(doc, derived);
    const of_ = (key: string) => asked.find((q) => q.key === key);
    expect(of_('fault')).toMatchObject({ answer: null });
    expect(of_('ze')?.answer).toBe('0.35 Ω; distributors usually declare 0.35 Ω at most for TN-C-S');
    const p13 = doc.points.byId.p13;
    if (p13 === undefined) throw new Error('no P13');
    const unknown = {
      ...doc,
      points: { ...doc.points, byId: { ...doc.points.byId, p13: { ...p13, load: null } } },
    };
    const fresh = deriveAll(unknown);
    // A missing fact is a question and no finding.
    expect(fresh.findings).toEqual([]);
    expect(questionsOf(unknown, fresh).map((q) => q.key)).toEqual(
      expect.arrayContaining(['current.c1', 'load.p13', 'voltage-drop.c1.0']),
    );
    expect(electricalOf(unknown, fresh).get('c1')?.schedule.designCurrent).toBeNull();
  });

  test('the report is plain data', () => {
    const json = circuitsJson(doc, derived);
    expect(JSON.parse(JSON.stringify(json))).toEqual(json);
    expect(json.schedule.map((s) => s.label)).toEqual(['C1', 'C2', 'C3', 'C4']);
  });

  test('warmer conductors read higher, by 0.4 % a degree', () => {
    const warm = { ...doc, job: { ...doc.job, testTemperature: 10 } };
    const reading = electricalOf(warm, derived)
      .get('c2')
      ?.facts.readings.expected.find((e) => e.kind === 'r1');
    expect(reading?.expected).toBeCloseTo(of('r1').expected * 0.96, 10);
  });
});

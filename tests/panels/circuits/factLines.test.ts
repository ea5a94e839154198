import { describe, expect, it } from 'vitest';
import { deriveAll } from '../../../src/engine/derive/deriveAll.ts';
import { factsOfCircuit } from '../../../src/engine/electrical/facts.ts';
import { electricalInput } from '../../../src/engine/circuitReport/report.ts';
import { questions } from '../../../src/engine/circuitReport/schedule.ts';
import { tableFrom } from '../../../src/engine/model/defaults.ts';
import type { Circuit, PlanDocument } from '../../../src/engine/model/document.ts';
import { rows } from '../../../src/engine/model/tables.ts';
import { conditionLines, factLines } from '../../../src/panels/circuits/factLines.ts';
import { questionsCsv, scheduleCsv } from '../../../src/panels/circuits/sheetRows.ts';
import { toCsv } from '../../../src/io/csv.ts';
import { makeStudio } from '../../samples/studio.ts';

const studio = makeStudio().doc;
const worked = (doc: PlanDocument, id: string) => {
  const input = electricalInput(doc, deriveAll(doc));
  return { input, facts: factsOfCircuit(input, doc.circuits.byId[id] as Circuit) };
};
const lines = (doc: PlanDocument, id: string) => {
  const { input, facts } = worked(doc, id);
  return new Map(factLines(input, facts).map((line) => [line.key, line]));
};

/** Kiln plan with insulation round its cable for 700 mm: half the rating (Table 52.2, last row). */
const lagged: PlanDocument = {
  ...studio,
  things: tableFrom([
    ...rows(studio.things),
    {
      id: 'k99',
      kind: 'insulation',
      name: '',
      place: {
        on: 'plan',
        storey: 's1',
        outline: [
          { x: 6200, y: 3060 },
          { x: 6900, y: 3060 },
          { x: 6900, y: 3260 },
          { x: 6200, y: 3260 },
        ],
        z0: 2400,
        z1: 2700,
        where: 'ceiling',
      },
    },
  ]),
};

describe('facts of a circuit', () => {
  it('gives the kiln its figures, each with a source', () => {
    const kiln = lines(studio, 'c1');
    // 8000 W at 230 V; Table 4D5 method B 52 A through the joists; 230 x 0.95 / 400.
    expect(kiln.get('current-over-device')?.value).toBe('34.8 A');
    expect(kiln.get('rating-too-low')).toMatchObject({ value: '52.0 A', state: 'keeps' });
    expect(kiln.get('loop-too-high')?.value).toMatch(/ of 0\.546 Ω$/);
    for (const line of kiln.values()) expect([line.key, line.source === '']).toEqual([line.key, false]);
    expect(kiln.get('rating-too-low')?.source).toContain('BS 7671:2018+A4:2026');
  });

  it('says what breaks, what to do about it and where', () => {
    const rating = lines(lagged, 'c1').get('rating-too-low');
    expect(rating).toMatchObject({ value: '32.0 A', state: 'breaks', at: { kind: 'leg', run: 'r2' } });
    expect(rating?.fix).toContain('Take the run another way');
    expect(rating?.working.startsWith('R2 in 10 mm²')).toBe(true);
  });

  it('asks instead of showing nought when a load is not stated', () => {
    const p13 = studio.points.byId.p13;
    if (p13 === undefined) throw new Error('the studio has no P13');
    const doc = {
      ...studio,
      points: { ...studio.points, byId: { ...studio.points.byId, p13: { ...p13, load: null } } },
    };
    const kiln = lines(doc, 'c1');
    expect(kiln.get('current-over-device')).toMatchObject({ value: null, state: 'open' });
    expect(kiln.get('voltage-drop')).toMatchObject({ value: null, state: 'open' });
  });

  it('adds metres up by how they lie: all drawn metres, one line that governs', () => {
    const { input, facts } = worked(lagged, 'c1');
    const list = conditionLines(facts);
    const drawn = facts.net.edges.reduce((sum, e) => {
      const legs = input.checks.get(e.run.id)?.legs ?? [];
      return sum + legs.reduce((s, l) => s + l.leg.length, 0);
    }, 0);
    expect(list.reduce((sum, line) => sum + line.lengthMm, 0)).toBeCloseTo(drawn, 6);
    expect(list.filter((line) => line.worst)).toHaveLength(1);
    expect(list[0]).toMatchObject({ worst: true, iz: 32 });
    expect(list[0]?.lengthMm).toBeCloseTo(700, 6);
  });
});

describe('sheets as cells', () => {
  const blanked: PlanDocument = {
    ...studio,
    points: tableFrom(rows(studio.points).map((p) => (p.circuit === 'c1' ? { ...p, load: null } : p))),
  };

  it('leaves blank what is not known', () => {
    const { input } = worked(blanked, 'c1');
    const table = scheduleCsv(input, '2026-05-17');
    const head = table[3] ?? [];
    const kiln = table[4] ?? [];
    expect(kiln[head.indexOf('Ib A')]).toBeNull();
    expect(kiln[head.indexOf('Drop V')]).toBeNull();
    expect(kiln[head.indexOf('Iz A')]).toBe(52);
    expect(table.filter((row) => /^C\d+$/.test(String(row[0])))).toHaveLength(studio.circuits.order.length);
    // Every figure with its rank: Table 4D5 and its factors are printed at several places, the model of a ring at one.
    const sources = new Map(table.slice(4 + studio.circuits.order.length).map((row) => [row[0], row[2]]));
    expect(sources.get('Source of Max Zs')).toBe('agreed by independent published sources');
    expect(sources.get('Source of Drop of rings')).toBe('one published source');
    expect(toCsv(table)).toContain('BS 7671:2018+A4:2026');
  });

  it('gives every question a blank of its own', () => {
    const { input } = worked(blanked, 'c1');
    const asked = questions(input);
    const table = questionsCsv(input, asked, '2026-05-17').slice(4);
    expect(table).toHaveLength(asked.length);
    expect(table.every((row) => row[3] === null)).toBe(true);
    expect(table.some((row) => row[0] === 'C1' && String(row[1]).includes('what load has P13'))).toBe(true);
  });
});

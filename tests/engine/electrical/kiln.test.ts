import { describe, expect, test } from 'vitest';
import { deriveAll } from '../../../src/engine/derive/deriveAll.ts';
import { rate } from '../../../src/engine/electrical/conditions.ts';
import { factsOfCircuit } from '../../../src/engine/electrical/facts.ts';
import { electricalInput } from '../../../src/engine/circuitReport/report.ts';
import { tableFrom } from '../../../src/engine/model/defaults.ts';
import type { Circuit, PlanDocument, Place, Thing } from '../../../src/engine/model/document.ts';
import { rows } from '../../../src/engine/model/tables.ts';
import { PlanBuilder } from '../../samples/builder.ts';
import { makeStudio } from '../../samples/studio.ts';

const studio = makeStudio().doc;

/** Insulation in the ceiling void of the studio, from the ceiling up; the kiln's cable lies at 2400 + 110 mm. */
const insulation = (x0: number, y0: number, x1: number, y1: number, z0 = 2400, z1 = 2700): Thing => ({
  id: 'k99',
  kind: 'insulation',
  name: 'Loft roll',
  place: {
    on: 'plan',
    storey: 's1',
    outline: [
      { x: x0, y: y0 },
      { x: x1, y: y0 },
      { x: x1, y: y1 },
      { x: x0, y: y1 },
    ],
    z0,
    z1,
    where: 'ceiling',
  },
});

const laid = (thing: Thing, doc: PlanDocument = studio): PlanDocument => ({
  ...doc,
  things: tableFrom([...rows(doc.things), thing]),
});

const found = (doc: PlanDocument) => deriveAll(doc).findings.map((f) => [f.rule, f.circuit, f.run]);
const kiln = (doc: PlanDocument) =>
  factsOfCircuit(electricalInput(doc, deriveAll(doc)), doc.circuits.byId.c1 as Circuit);

// R2 goes from the isolator on the metal partition to the outlet: along x = 7000 and then along y = 3200. The ring
// crosses at y = 3000 and 3300 and stays clear.
const over = insulation(6200, 3060, 6900, 3260);

describe('the kiln radial, C40 on 10 mm²', () => {
  test('carries enough as it is drawn', () => {
    expect(found(studio)).toEqual([]);
    // 52 A, method B through the joists: less than 64 A x 0.85 = 54.4 A, clipped beside the ring at the board.
    expect(kiln(studio).iz).toBeCloseTo(52, 9);
  });

  test('fails when insulation is laid round it: 700 mm is the last row of the table, half the rating', () => {
    const doc = laid(over);
    expect(found(doc)).toEqual([
      ['rating-too-low', 'c1', 'r2'],
      ['in-insulation', 'c1', 'r2'],
    ]);
    const { worst } = kiln(doc);
    expect(worst).toMatchObject({ run: 'r2', method: 'C', ci: 0.5, it: 64 });
    expect(worst?.surrounded).toBeCloseTo(700, 6);
    expect(worst?.iz).toBeCloseTo(32, 9);
  });

  test('keeps its rating again when its way is moved clear of the insulation', () => {
    const at = (x: number, y: number): Place => ({ on: 'ceiling', storey: 's1', x, y });
    const doc = laid(over);
    const r2 = doc.runs.byId.r2;
    if (r2 === undefined) throw new Error('the studio has no R2');
    const [up, , down] = r2.corners;
    if (up === undefined || down === undefined) throw new Error('R2 has other corners than it had');
    const corners = [up, at(7000, 2750), at(5566, 2750), at(5566, 3200), down];
    const moved = { ...doc, runs: { ...doc.runs, byId: { ...doc.runs.byId, r2: { ...r2, corners } } } };
    const derived = deriveAll(moved);
    expect(derived.runs.get('r2')?.missing).toBeNull();
    expect(derived.findings).toEqual([]);
    expect(kiln(moved).iz).toBeCloseTo(52, 9);
  });

  test('short stretches go by the next longer row', () => {
    // 150 mm wide: the row of 200 mm, 64 x 0.63 = 40.32 A, which is just enough.
    const doc = laid(insulation(6200, 3060, 6350, 3260));
    expect(kiln(doc).worst?.iz).toBeCloseTo(64 * 0.63, 9);
    // The rating still holds; the metres in insulation are told all the same. 64 x 0.63.
    expect(deriveAll(doc).findings.map((f) => f.message)).toEqual([
      '0.15 m of R2 wholly surrounded by insulation: there it carries 0.63 of its 64 A.',
    ]);
    // One millimetre over 200: the row of 400 mm.
    expect(kiln(laid(insulation(6200, 3060, 6401, 3260))).worst?.ci).toBe(0.51);
  });

  test('insulation above it is method 100 or 101 by its thickness, with no factor of length on top', () => {
    const thin = kiln(laid(insulation(6200, 3060, 6900, 3260, 2530, 2630))).worst;
    expect(thin).toMatchObject({ method: '100', it: 45, ci: 1, surrounded: 0 });
    const thick = kiln(laid(insulation(6200, 3060, 6900, 3260, 2530, 2631))).worst;
    expect(thick).toMatchObject({ method: '101', it: 36, ci: 1, surrounded: 0 });
  });

  test('insulation elsewhere, or in the room, changes nothing', () => {
    expect(kiln(laid(insulation(200, 200, 4000, 4000))).iz).toBeCloseTo(52, 9);
  });

  test('with the whole ceiling under thick insulation the method governs', () => {
    const s1 = studio.storeys.byId.s1;
    if (s1 === undefined) throw new Error('no storey');
    const doc: PlanDocument = {
      ...studio,
      storeys: tableFrom([{ ...s1, ceiling: { ...s1.ceiling, insulation: 'thick' } }]),
    };
    // The riser above the board lies beside the ring: 36 A x 0.85.
    expect(kiln(doc).worst).toMatchObject({ method: '101', it: 36, ci: 1 });
    expect(kiln(doc).iz).toBeCloseTo(36 * 0.85, 9);
  });

  test('a warmer place: the factor of the next warmer row', () => {
    const doc = { ...studio, job: { ...studio.job, ambient: 38 } };
    expect(kiln(doc).iz).toBeCloseTo(52 * 0.87, 9);
  });
});

describe('in an insulated wall', () => {
  const insulated = (depth: number | null): PlanDocument => {
    const b = new PlanBuilder(studio);
    const doc = b.build({}, {});
    const stud = doc.buildUps.byId['timber-stud'];
    const r1 = doc.runs.byId.r1;
    if (stud === undefined || r1 === undefined) throw new Error('the studio has changed');
    const layers = stud.layers.map((l) => (l.material === 'timber-stud' ? { ...l, insulated: true } : l));
    return {
      ...doc,
      buildUps: { ...doc.buildUps, byId: { ...doc.buildUps.byId, 'timber-stud': { ...stud, layers } } },
      runs: { ...doc.runs, byId: { ...doc.runs.byId, r1: { ...r1, depth } } },
    };
  };

  test('depth not stated: method 103, as not touching the board; a question asks for the depth', () => {
    expect(kiln(insulated(null)).worst).toMatchObject({ run: 'r1', method: '103', it: 32 });
  });

  test('against the board: method 102', () => {
    // 12.5 mm of board and half of a cable 10 mm thick.
    expect(kiln(insulated(17.5)).worst).toMatchObject({ run: 'r1', method: '102', it: 47 });
    expect(kiln(insulated(40)).worst).toMatchObject({ run: 'r1', method: '103', it: 32 });
  });
});

test('the factor of surrounded length goes on method C and is never stacked on another', () => {
  expect(rate('C', '10', 700, 1, 1)).toEqual({ it: 64, iz: 32, ci: 0.5 });
  for (const [method, it] of [
    ['A', 44],
    ['100', 45],
    ['101', 36],
    ['102', 47],
    ['103', 32],
  ] as const) {
    expect(rate(method, '10', 700, 1, 1)).toEqual({ it, iz: it, ci: 1 });
  }
  // Beyond 10 mm² the table says nothing, and nothing is made up.
  expect(rate('C', '16', 700, 1, 1).iz).toBeNull();
  expect(rate('C', '16', 0, 1, 1).iz).toBe(85);
});

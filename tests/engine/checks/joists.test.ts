import { expect, it } from 'vitest';
import { deriveAll } from '../../../src/engine/derive/deriveAll.ts';
import { deriveChange } from '../../../src/engine/derive/deriveChange.ts';
import { tableFrom } from '../../../src/engine/model/defaults.ts';
import type { Joists, PlanDocument } from '../../../src/engine/model/document.ts';
import { aPoint, aRun } from '../zones/faces.ts';
import { found, plan } from './plans.ts';

const above = (x: number, y: number) => ({ on: 'ceiling', storey: 's1', x, y }) as const;
/** Two lights 2 m apart, down the plan, and joists at 400 mm centres that run across it or down it. */
function lights(member: Joists['member'], direction: number, chart = ''): PlanDocument {
  const doc = plan(
    [
      aPoint('p1', { kind: 'ceiling-light', box: null, place: above(1000, 500) }),
      aPoint('p2', { kind: 'ceiling-light', box: null, place: above(1000, 2500) }),
    ],
    [aRun('r1', { from: 'p1', to: 'p2' })],
  );
  const storey = doc.storeys.byId.s1 as (typeof doc.storeys.byId)[string];
  const joists: Joists = { direction, depth: 220, breadth: 47, centres: 400, span: 3000, member, chart };
  return {
    ...doc,
    storeys: tableFrom([{ ...storey, ceiling: { ...storey.ceiling, kind: 'void', joists } }]),
  };
}
const holes = (doc: PlanDocument) => deriveAll(doc).takeOff.runs.get('r1')?.throughTimber;

it('solid joists across the run: 2000 / 400 = 5 holes, and no word of a chart', () => {
  expect(holes(lights('solid', 0))).toBe(5);
  expect(found(lights('solid', 0), 'joist-chart')).toEqual([]);
});

it('engineered joists across it: no hole is counted, and the chart is asked for once', () => {
  const doc = lights('engineered', 0);
  expect(holes(doc)).toBe(0);
  expect(deriveAll(doc).takeOff.sundries.filter((s) => s.key === 'holes.timber')).toEqual([]);
  const told = found(doc, 'joist-chart');
  expect(told.map((f) => f.key)).toEqual(['joist-chart:s1']);
  expect(told[0]?.message).toContain('2.00 m square');
});

it('with the maker’s chart noted it is told no more; still no hole is counted, and the length says by which chart', () => {
  const doc = lights('engineered', 0, 'Chart 7, 220 mm, holes to 60 mm');
  expect(found(doc, 'joist-chart')).toEqual([]);
  expect(holes(doc)).toBe(0);
  const why = JSON.stringify(deriveAll(doc).takeOff.runs.get('r1'));
  expect(why).toContain('by the maker’s chart (Chart 7, 220 mm, holes to 60 mm), no hole counted');
});

it('engineered joists along it are not crossed', () => {
  expect(found(lights('engineered', Math.PI / 2), 'joist-chart')).toEqual([]);
});

it('a run taken away is followed', () => {
  const doc = lights('engineered', 0);
  const after = { ...doc, runs: tableFrom([]) };
  const { next } = deriveChange(deriveAll(doc), after, { runs: new Set(['r1']) });
  expect(next.findings).toEqual(deriveAll(after).findings);
  expect(next.findings.filter((f) => f.rule === 'joist-chart')).toEqual([]);
});

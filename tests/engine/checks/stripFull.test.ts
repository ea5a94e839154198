import { expect, it } from 'vitest';
import { howManyFit, sideBySide } from '../../../src/engine/checks/rules/stripFull.ts';
import type { PlanDocument, Run } from '../../../src/engine/model/document.ts';
import { aPoint, aRun } from '../zones/faces.ts';
import { aBoard, found, plan } from './plans.ts';

/** So many cables from the ceiling down to one socket, 2000 mm along the north wall and on its plate of 86 mm. */
function drops(count: number, over: Partial<Run> = {}): PlanDocument {
  const runs = Array.from({ length: count }, (_, i) =>
    aRun(`r${i + 1}`, {
      from: 'p3',
      to: 'p2',
      corners: [{ on: 'face', wall: 'w1', side: 'right', along: 2000, z: 2400 }],
      ...over,
    }),
  );
  const lamp = {
    kind: 'ceiling-light',
    box: null,
    place: { on: 'ceiling', storey: 's1', x: 2000, y: 1500 },
  } as const;
  return plan([aBoard(), aPoint('p2', { along: 2000, z: 450 }), aPoint('p3', lamp)], runs);
}
const told = (...of: Parameters<typeof drops>) => found(drops(...of), 'strip-full');

it('12 cables of 2.5 mm²: 12 x 10.3 + 11 x 2 = 145.6 mm in 86 mm; 7 fit, as 7 x 10.3 + 6 x 2 = 84.1', () => {
  const [finding, ...more] = told(12);
  expect(more).toEqual([]);
  expect(finding?.message).toContain('12 cables lie side by side in 86 mm');
  expect(finding?.message).toContain('they take 146 mm. 7 fit.');
  expect(finding?.wall).toBe('w1');
  expect(finding?.at?.on?.u).toBeDefined();
  expect(finding?.rank).toBe('memory');
});

it.each([
  [7, 0],
  [8, 1],
])('%i of them', (count, times) => {
  expect(told(count)).toHaveLength(times);
});

it('cables that need no zone are not counted: 50 mm deep, or in earthed conduit', () => {
  expect(told(12, { depth: 60 })).toEqual([]);
  expect(told(12, { protection: 'earthed-conduit' })).toEqual([]);
});

it('of mixed widths the widest go first: 19.4 + 2 + 19.4 + 2 + 19.4 = 62.2, then 8.2 with its clip, 72.4, and 82.6', () => {
  const widths = [8.2, 19.4, 8.2, 19.4, 8.2, 19.4];
  expect(sideBySide(widths)).toBeCloseTo(92.8, 9);
  expect(howManyFit(widths, 86)).toBe(5);
});

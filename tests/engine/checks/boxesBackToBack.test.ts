import { expect, it } from 'vitest';
import { tableFrom } from '../../../src/engine/model/defaults.ts';
import type { Box, PlanDocument } from '../../../src/engine/model/document.ts';
import { aPoint, aRun } from '../zones/faces.ts';
import { aBoard, found, plan } from './plans.ts';

const box = (id: string, depth: number, gangs: 1 | 2 = 1): Box => ({
  id,
  name: '',
  gangs,
  depth,
  mount: 'dry-lining',
});
const fitted = (id: string) => ({ box: id, fixedFirst: false });

/**
 * Two points on the two sides of the north wall: a timber stud of 63 mm between boards of 12.5 mm, 88 mm from surface to
 * surface. 2.5 mm² cable, 6 mm thick, comes to the first.
 */
function pair(inside: Box, outside: Box, apart: number): PlanDocument {
  return plan(
    [
      aBoard(),
      aPoint('p2', { along: 2000, box: fitted(inside.id) }),
      aPoint('p3', { along: 2000 + apart, side: 'left', box: fitted(outside.id) }),
    ],
    [aRun('r1', { from: 'p1', to: 'p2' })],
    undefined,
    { frame: 'timber-stud', boxes: tableFrom([inside, outside]) },
  );
}
const told = (inside: Box, outside: Box, apart = 0) =>
  found(pair(inside, outside, apart), 'boxes-back-to-back');

it('47 + 47 + 6 of cable = 100 mm in a wall of 88 mm is told once, with the sum and the wall', () => {
  const [finding, ...more] = told(box('b1', 47), box('b2', 47));
  expect(more).toEqual([]);
  expect(finding?.message).toContain('boxes 47 and 47 mm deep and 6 mm of cable take 100 mm');
  expect(finding?.message).toContain('the wall is 88 mm');
  expect(finding?.rank).toBe('memory');
});

it.each([
  // 47 + 35 + 6 = 88: just fits. One millimetre more does not.
  [47, 35, 0],
  [47, 36, 1],
  [35, 35, 0],
])('boxes of %i and %i mm', (a, b, times) => {
  expect(told(box('b1', a), box('b2', b))).toHaveLength(times);
});

it.each([
  // Half of 72 and half of 72: clear of each other from 72 mm on.
  [71, 1, 1],
  [72, 1, 0],
  // Half of 72 and half of 133: from 102.5 mm on, less than half a millimetre being rounding.
  [101, 2, 1],
  [103, 2, 0],
] as const)('centres %i mm apart, the second of %i gang', (apart, gangs, times) => {
  expect(told(box('b1', 47), box('b2', 47, gangs), apart)).toHaveLength(times);
});

import { expect, it } from 'vitest';
import { tableFrom } from '../../../src/engine/model/defaults.ts';
import type { Box, PlanDocument, Point, Thing } from '../../../src/engine/model/document.ts';
import { aPoint, aRun } from '../zones/faces.ts';
import { aBoard, found, plan } from './plans.ts';

const box = (depth: number, gangs: 1 | 2 = 1, mount: Box['mount'] = 'metal'): Box => ({
  id: 'b1',
  name: '',
  gangs,
  depth,
  mount,
});
const boxed = (point: Partial<Point>, b: Box, cable = 'te2-5'): PlanDocument =>
  plan(
    [aBoard(), aPoint('p2', { along: 2000, box: { box: 'b1', fixedFirst: true }, ...point })],
    [aRun('r1', { from: 'p1', to: 'p2', cable })],
    undefined,
    { boxes: tableFrom([b]) },
  );

it.each([
  // A cooker: 44 and 47 mm boxes are both sold for it.
  ['heavy-outlet', 35, 'te6', 1],
  ['heavy-outlet', 44, 'te6', 0],
  ['heavy-outlet', 47, 'te6', 0],
  // 4 mm² does not go into a standard box of 25 mm.
  ['socket', 25, 'te4', 1],
  ['socket', 35, 'te4', 0],
  ['socket', 25, 'te2-5', 0],
  ['socket', 35, 'te6', 1],
  ['socket', 44, 'te6', 0],
] as const)('a %s in a box of %i mm with %s', (kind, depth, cable, times) => {
  expect(found(boxed({ kind }, box(depth), cable), 'box-too-shallow')).toHaveLength(times);
});

it('says what the depth for a cooker rests on', () => {
  const [told] = found(boxed({ kind: 'heavy-outlet' }, box(35)), 'box-too-shallow');
  expect(told?.message).toContain('44 or 47 mm');
  expect(told?.source).toContain('common practice');
  expect(told?.rank).toBe('memory');
});

it.each([
  ['socket', 1, 1, 0],
  ['socket', 2, 2, 0],
  ['socket', 2, 1, 1],
  ['socket', 1, 2, 1],
  // Up to three switches share a one-gang box.
  ['switch-1way', 3, 1, 0],
  ['switch-1way', 4, 1, 1],
] as const)('a %s of %i gang in a box of %i', (kind, gangs, boxGangs, times) => {
  expect(found(boxed({ kind, gangs }, box(35, boxGangs)), 'box-gangs')).toHaveLength(times);
});

it.each([
  // Plates as typed, over boxes 72 and 133 mm wide outside: 86 covers 72 and not 133; 146 is for the wider box.
  [86, 1, 0],
  [60, 1, 1],
  [86, 2, 1],
  [146, 2, 0],
  [146, 1, 1],
] as const)('a typed plate of %i mm on a box of %i gang', (width, boxGangs, times) => {
  const doc = boxed({ kind: 'socket', plate: { width, height: 86 } }, box(35, boxGangs));
  expect(found(doc, 'box-gangs')).toHaveLength(times);
});

it('a beam in the ceiling is told of a run through it, as the router keeps clear of it; one beside it is not', () => {
  const beam = (x0: number): Thing => ({
    id: 'k1',
    kind: 'beam',
    name: '',
    place: {
      on: 'plan',
      storey: 's1',
      outline: [
        { x: x0, y: 100 },
        { x: x0 + 100, y: 100 },
        { x: x0 + 100, y: 2900 },
        { x: x0, y: 2900 },
      ],
      z0: 2400,
      z1: 2600,
      where: 'ceiling',
    },
  });
  const above = (x: number, y: number) => ({ on: 'ceiling', storey: 's1', x, y }) as const;
  const doc = (thing: Thing) =>
    plan(
      [
        aPoint('p1', { kind: 'ceiling-light', box: null, place: above(500, 1500) }),
        aPoint('p2', { kind: 'ceiling-light', box: null, place: above(2500, 1500) }),
      ],
      [aRun('r1', { from: 'p1', to: 'p2' })],
      undefined,
      { things: tableFrom([thing]) },
    );
  const [told] = found(doc(beam(1500)), 'run-through-no-cable');
  expect(told?.message).toMatch(/^R1 lies in a beam for 100 mm/);
  expect(found(doc(beam(3000)), 'run-through-no-cable')).toEqual([]);
});

import { expect, it } from 'vitest';
import type { PlanDocument, Run } from '../../../src/engine/model/document.ts';
import { aPoint, aRun } from '../zones/faces.ts';
import { found, plan } from './plans.ts';

const above = (x: number, y: number) => ({ on: 'ceiling', storey: 's1', x, y }) as const;
const light = { kind: 'ceiling-light', box: null } as const;

/**
 * Above the ceiling: 2.5 mm² cable, 10.3 mm wide, from x 500 to 2500 along y 1000, and a data cable 6 mm wide from x 500
 * on, `apart` between their centres. Half widths: 5.15 + 3 = 8.15 mm. At x 500 both also come down 100 mm.
 */
function beside(
  apart: number,
  length: number,
  mains: Partial<Run> = {},
  data: Partial<Run> = {},
): PlanDocument {
  return plan(
    [
      aPoint('p1', { ...light, place: above(500, 1000) }),
      aPoint('p2', { ...light, place: above(2500, 1000) }),
      aPoint('p3', { kind: 'joint', box: null, circuit: null, place: above(500, 1000 + apart) }),
      aPoint('p4', { kind: 'joint', box: null, circuit: null, place: above(500 + length, 1000 + apart) }),
    ],
    [
      aRun('r1', { from: 'p1', to: 'p2', cable: 'te2-5', ...mains }),
      aRun('r2', { from: 'p3', to: 'p4', cable: 'data-utp', circuit: null, ...data }),
    ],
  );
}
const told = (...of: Parameters<typeof beside>) => found(beside(...of), 'mains-beside-data');

it('20 mm between centres is 20 - 8.15 = 11.85 mm clear: told with it, and the 1.50 + 0.10 m', () => {
  const [finding, ...more] = told(20, 1500);
  expect(more).toEqual([]);
  expect(finding?.run).toBe('r2');
  expect(finding?.message).toContain('lies beside R1 for 1.60 m, 12 mm clear');
  expect(finding?.rank).toBe('memory');
});

it.each([
  // 50 mm clear is 58.15 mm between centres.
  [58, 1500, 1],
  [58.2, 1500, 0],
  // For half a metre and no more they may: 400 + 100 mm.
  [20, 400, 0],
  [20, 401, 1],
])('%f mm between centres for %i mm', (apart, length, times) => {
  expect(told(apart, length)).toHaveLength(times);
});

it('either in conduit, or in earthed trunking, is in a compartment of its own', () => {
  expect(told(20, 1500, { fixing: 'conduit' })).toEqual([]);
  expect(told(20, 1500, {}, { fixing: 'conduit' })).toEqual([]);
  expect(told(20, 1500, { protection: 'earthed-trunking' })).toEqual([]);
  expect(told(20, 1500, { protection: 'capping' })).toHaveLength(1);
});

it('cables of the mains beside each other are not told', () => {
  expect(told(20, 1500, {}, { cable: 'te1-5', circuit: 'c1' })).toEqual([]);
});

import { describe, expect, it } from 'vitest';
import { planShapes } from '../../src/tools/planShapes.ts';
import { roundStep, snapPlan } from '../../src/tools/snap.ts';
import type { SnapOptions } from '../../src/tools/snap.ts';
import { planOf } from '../engine/fabric/plans.ts';
import { TWO_ROOMS, deriveFor } from './run/world.ts';

const doc = planOf(TWO_ROOMS);
const shapes = planShapes(doc, deriveFor(doc), 's1');
// 0.1 px per mm: 8 px are 80 mm.
const at = (x: number, y: number, more: Partial<SnapOptions> = {}) =>
  snapPlan(shapes, { x, y }, { scale: 0.1, tolerance: 8, ...more });

describe('snapping on the plan', () => {
  it.each([
    ['End of wall', 3950, 60, 4000, 0],
    ['Middle of wall', 2040, -50, 2000, 0],
  ])('snaps to %s', (label, x, y, ex, ey) => {
    expect(at(x, y)).toMatchObject({ at: { x: ex, y: ey }, label });
  });

  it('snaps to where two walls cross', () => {
    const crossed = planOf({
      nodes: { a: [0, 1000], b: [3000, 1000], c: [1000, 0], d: [1000, 2500] },
      walls: { across: ['a', 'b'], down: ['c', 'd'] },
    });
    const own = planShapes(crossed, deriveFor(crossed), 's1');
    expect(snapPlan(own, { x: 1040, y: 960 }, { scale: 0.1, tolerance: 8 })).toMatchObject({
      at: { x: 1000, y: 1000 },
      label: 'Crossing',
    });
  });

  it('snaps to centre lines and faces, the centre first', () => {
    expect(at(1000, 20)).toMatchObject({ at: { x: 1000, y: 0 }, label: 'Centre of wall' });
    // 100 mm below the centre line only the face (at 44 mm) is within 80 mm.
    expect(at(1000, 100)).toMatchObject({ at: { x: 1000, y: 44 }, label: 'Wall face' });
  });

  it('goes level from the last corner up to a wall face, and shows both reasons', () => {
    // Far end of the left room: the right face of the wall `mid` is at 4000 - 44.
    const snap = at(3890, 1530, { from: { x: 500, y: 1500 } });
    expect(snap.at.x).toBeCloseTo(3956, 6);
    expect(snap.at.y).toBe(1500);
    expect(snap.label).toBe('Straight across, wall face');
  });

  it('keeps round lengths from the last corner, in the step of the zoom', () => {
    expect(at(1234, 1404, { from: { x: 500, y: 1400 } }).at).toEqual({ x: 1230, y: 1400 });
    expect(roundStep(0.1)).toBe(10);
    expect(roundStep(0.5)).toBe(5);
    expect(roundStep(2)).toBe(1);
  });

  it('lines up with a corner far away and draws the guide from it', () => {
    const snap = at(1500, 5000 - 2000 + 2000, { scale: 0.1 });
    expect(snap.label).toBeNull();
    const line = at(7030, 4500);
    expect(line).toMatchObject({ at: { x: 7000, y: 4500 }, label: 'In line with a corner' });
    expect(line.marks[0]).toMatchObject({ kind: 'line', look: 'guide' });
  });

  it('can be turned off, and can leave out what is being moved', () => {
    expect(at(3950.4, 60, { off: true })).toEqual({ at: { x: 3950, y: 60 }, label: null, marks: [] });
    const moving = new Set(['b', 'top', 'topR', 'mid']);
    expect(at(3950, 60, { without: moving }).label).not.toBe('End of wall');
  });

  describe('for a wall', () => {
    // The wall `mid` runs down x = 4000 from y = 0 to 3000: its middle is at 1500.
    const wall = (x: number, y: number, from: readonly [number, number], more: Partial<SnapOptions> = {}) =>
      at(x, y, { from: { x: from[0], y: from[1] }, upright: true, ...more });

    it('goes straight across to a wall rather than to its middle, 85 mm beside', () => {
      const snap = wall(3990, 1430, [500, 1415]);
      expect(snap.at).toEqual({ x: 4000, y: 1415 });
      expect(snap.label).toBe('Straight across, centre of wall');
      // Measuring may still read to the middle.
      expect(at(3990, 1430, { from: { x: 500, y: 1415 } }).label).toBe('Middle of wall');
    });

    it('still takes the middle where the wall stays straight, or is meant to slant', () => {
      expect(wall(3990, 1480, [500, 1500])).toMatchObject({
        at: { x: 4000, y: 1500 },
        label: 'Middle of wall',
      });
      expect(wall(3990, 1480, [500, 900])).toMatchObject({
        at: { x: 4000, y: 1500 },
        label: 'Middle of wall',
      });
    });

    it('takes an end of a wall only when that is nearer than the straight line', () => {
      // From 60 mm beside the corner's level: 1°.
      expect(wall(3980, 45, [500, 60]).at.y).toBe(60);
      expect(wall(3980, 5, [500, 60])).toMatchObject({ at: { x: 4000, y: 0 }, label: 'End of wall' });
    });

    it('always closes on the corner asked for', () => {
      const extra = [{ at: { x: 1500, y: 5040 }, label: 'First corner: closes' }];
      expect(wall(1500, 5000, [4000, 5000], { extra }).at).toEqual({ x: 1500, y: 5040 });
    });

    it('never makes a wall 0.3 to 3 degrees off square, wherever the pointer is', () => {
      for (const from of [
        [500, 1415],
        [700, 2900],
        [6500, 1530],
        [2040, 1200],
        [3900, 5000],
      ] as const) {
        for (let x = -300; x <= 7300; x += 37) {
          for (let y = -300; y <= 5300; y += 41) {
            const { at: to, label } = wall(x, y, from);
            if (label === null || label === 'End of wall') continue;
            const [dx, dy] = [Math.abs(to.x - from[0]), Math.abs(to.y - from[1])];
            const off = (Math.atan2(Math.min(dx, dy), Math.max(dx, dy)) * 180) / Math.PI;
            if (off > 0.3 && off < 3) throw new Error(`${from} to ${x},${y}: ${off}° by ${label}`);
          }
        }
      }
    });
  });

  it('offers extra places first', () => {
    expect(at(1010, 1010, { extra: [{ at: { x: 1000, y: 1000 }, label: 'First corner' }] })).toMatchObject({
      at: { x: 1000, y: 1000 },
      label: 'First corner',
    });
  });
});

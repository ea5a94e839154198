import { describe, expect, test } from 'vitest';
import { insideSpot } from '../../../src/panels/ui/insideSpot.ts';
import { pointInPolygon } from '../../../src/engine/geometry/polygon.ts';

const box = (x0: number, y0: number, x1: number, y1: number) => [
  { x: x0, y: y0 },
  { x: x1, y: y0 },
  { x: x1, y: y1 },
  { x: x0, y: y1 },
];

describe('a spot for the name of a room', () => {
  test('of a rectangle it is the middle', () => {
    expect(insideSpot({ outline: box(0, 0, 4000, 3000), holes: [] })).toEqual({ x: 2000, y: 1500 });
  });

  test('of an L it is inside, not in the notch', () => {
    const outline = [
      { x: 0, y: 0 },
      { x: 1000, y: 0 },
      { x: 1000, y: 4000 },
      { x: 5000, y: 4000 },
      { x: 5000, y: 5000 },
      { x: 0, y: 5000 },
    ];
    expect(pointInPolygon(insideSpot({ outline, holes: [] }), outline, 0)).toBe('inside');
  });

  test('round a pillar it is not in the pillar', () => {
    const hole = box(1000, 1000, 3000, 2000);
    const at = insideSpot({ outline: box(0, 0, 4000, 3000), holes: [hole] });
    expect(pointInPolygon(at, hole, 0)).not.toBe('inside');
  });
});

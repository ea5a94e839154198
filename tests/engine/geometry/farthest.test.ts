import { expect, test } from 'vitest';
import { farthestSpot } from '../../../src/engine/geometry/farthest.ts';
import { pointInPolygon } from '../../../src/engine/geometry/polygon.ts';
import type { PlanPoint } from '../../../src/engine/model/units.ts';
import { freshSeed, seeded } from '../../random.ts';

const at = (x: number, y: number): PlanPoint => ({ x, y });
const square = [at(0, 0), at(6000, 0), at(6000, 4000), at(0, 4000)];
const ell = [at(0, 0), at(5000, 0), at(5000, 1200), at(1400, 1200), at(1400, 3600), at(0, 3600)];
const pillar = [at(2000, 1500), at(2600, 1500), at(2600, 2100), at(2000, 2100)];

test('by hand: one in the middle, two with the farthest spot on an edge, three with it within', () => {
  // 3000 and 2000 to the corner.
  expect(farthestSpot(square, [], [at(3000, 2000)])?.distance).toBeCloseTo(Math.hypot(3000, 2000), 6);
  // At both ends of the middle line: farthest are the corners' mid-edge spots, x 3000: 3000 over and 2000 up.
  const two = farthestSpot(square, [], [at(0, 2000), at(6000, 2000)]);
  expect(two?.distance).toBeCloseTo(Math.hypot(3000, 2000), 6);
  expect(two?.at.x).toBeCloseTo(3000, 6);
  // At the corners of a square of 4 m, its middle is farthest: 2000 x √2, where no corner and no edge is.
  const field = [at(0, 0), at(4000, 0), at(4000, 4000), at(0, 4000)];
  const four = farthestSpot(field, [], field);
  expect(four?.distance).toBeCloseTo(2000 * Math.SQRT2, 6);
  expect([four?.at.x, four?.at.y].map((v) => Math.round(v ?? 0))).toEqual([2000, 2000]);
  expect(farthestSpot(square, [], [])).toBeNull();
  expect(farthestSpot([], [], [at(0, 0)])).toBeNull();
});

test('against every spot of a 10 mm grid, areas with corners that turn in and a hole too', () => {
  const random = seeded(freshSeed('farthest spot'));
  for (const [outline, holes] of [
    [square, []],
    [ell, []],
    [square, [pillar]],
  ] as const) {
    for (let n = 1; n <= 5; n++) {
      const points = Array.from({ length: n }, () => at(random() * 5000, random() * 3600));
      let brute = 0;
      for (let x = 0; x <= 6000; x += 10) {
        for (let y = 0; y <= 4000; y += 10) {
          const p = at(x, y);
          const least = Math.min(...points.map((q) => Math.hypot(q.x - x, q.y - y)));
          if (least <= brute || pointInPolygon(p, outline, 1e-6) === 'outside') continue;
          if (holes.some((hole) => pointInPolygon(p, hole, 1e-6) === 'inside')) continue;
          brute = least;
        }
      }
      const exact = farthestSpot(outline, holes, points)?.distance ?? 0;
      // The grid holds every corner; between its spots it may miss half a diagonal.
      expect(exact).toBeGreaterThanOrEqual(brute - 1e-6);
      expect(exact - brute).toBeLessThan(10 * Math.SQRT1_2 + 1e-6);
    }
  }
});

import { describe, expect, it } from 'vitest';
import type { Leg } from '../../src/engine/fabric/types.ts';
import { laneWidth, legInLane, legLines, planLegs } from '../../src/tools/planLegs.ts';
import type { Run } from '../../src/engine/model/document.ts';

/** Runs whose legs on the ceiling go through these places. */
function laid(paths: readonly (readonly [number, number])[][]) {
  const runs = new Map(
    paths.map((path, n) => {
      const legs = path.slice(1).map(([x, y], i) => {
        const [ax, ay] = path[i] as readonly [number, number];
        const leg: Leg = {
          kind: 'ceiling',
          stretch: i,
          storey: 's1',
          a: { x: ax, y: ay, z: 2500 },
          b: { x, y, z: 2500 },
          length: Math.hypot(x - ax, y - ay),
          face: null,
          fa: null,
          fb: null,
          wall: null,
        };
        return {
          leg,
          stretches: [],
          crossings: [],
          offLevel: 0,
          coverNear: null,
          coverFar: null,
          depthFits: true,
          metal: false,
          answer: 'not-checked' as const,
        };
      });
      const run = `r${n}`;
      return [run, { run, legs, answer: 'not-checked' as const, missing: null }] as const;
    }),
  );
  const order = [...runs.keys()];
  const byId = Object.fromEntries(order.map((id) => [id, { id } as Run]));
  return planLegs({ order, byId }, runs, new Map(), 's1');
}

describe('runs on the plan', () => {
  it('gives legs that share a line lanes of their own, there and back too', () => {
    const legs = laid([
      [
        [0, 1000],
        [3000, 1000],
      ],
      [
        [2000, 1000],
        [500, 1000],
      ],
      [
        [1000, 1003],
        [1500, 1003],
      ],
    ]);
    expect(legs.map((leg) => leg.lane)).toEqual([0, 1, -1]);
    const ys = legs.map((leg) => legInLane(leg, 40)[0].y);
    expect(new Set(ys).size).toBe(3);
  });

  it('lets legs that only touch end to end share the line', () => {
    const legs = laid([
      [
        [0, 1000],
        [1000, 1000],
      ],
      [
        [1000, 1000],
        [2000, 1000],
      ],
      [
        [0, 2000],
        [1000, 2000],
      ],
    ]);
    expect(legs.map((leg) => leg.lane)).toEqual([0, 0, 0]);
  });

  it('joins shifted legs where their lines cross and leads ends back to the true place', () => {
    const legs = laid([
      [
        [0, 0],
        [1000, 0],
      ],
      [
        [0, 0],
        [1000, 0],
        [1000, 800],
      ],
    ]);
    const lines = legLines(legs, 40);
    // The second run's first leg is one lane (40 mm) down the plan; it turns at x = 1000.
    expect(lines[1]).toEqual([0, 0, 0, 40, 1000, 40]);
    expect(lines[2]).toEqual([1000, 40, 1000, 800, 1000, 800]);
  });

  it('draws lanes four pixels apart, but never far from their wall', () => {
    expect(laneWidth(0.1)).toBe(40);
    expect(laneWidth(0.01)).toBe(60);
  });
});

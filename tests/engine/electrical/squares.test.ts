import { describe, expect, it } from 'vitest';
import { besideStretch, squaresOfLeg } from '../../../src/engine/electrical/grouping.ts';
import type { Leg } from '../../../src/engine/fabric/types.ts';
import { freshSeed, seeded } from '../../random.ts';

type Xyz = readonly [number, number, number];
function leg([ax, ay, az]: Xyz, [bx, by, bz]: Xyz): Leg {
  const length = Math.hypot(bx - ax, by - ay, bz - az);
  return {
    kind: 'ceiling',
    stretch: 0,
    storey: 's1',
    a: { x: ax, y: ay, z: az },
    b: { x: bx, y: by, z: bz },
    length,
    face: null,
    fa: null,
    fb: null,
    wall: null,
  };
}

describe('the squares that legs beside each other share', () => {
  it('grow with the length of a leg, not with the area it spans: 10 km stays in the tens of thousands', () => {
    for (const to of [
      [1e7, 1e7, 0],
      [1e7, 0, 0],
      [1e7, 2e5, 0],
      [2e5, -1e7, 3e3],
      [0, 0, 1e7],
    ] as const) {
      const { size } = squaresOfLeg(leg([0, 0, 0], to));
      expect(size).toBeGreaterThan(0);
      expect(size).toBeLessThan(40_000);
    }
  });

  it('are shared by any two parallel legs within 100 mm, whichever way they run', () => {
    const random = seeded(freshSeed('squares'));
    let beside = 0;
    for (let round = 0; round < 3000; round++) {
      const angle =
        random() < 0.4 ? (Math.PI / 2) * Math.floor(random() * 4) + (random() - 0.5) * 0.06 : random() * 7;
      const slope = random() < 0.3 ? (random() - 0.5) * 3 : 0;
      const long = 10 + random() * 20_000;
      const [dx, dy, dz] = [Math.cos(angle) * long, Math.sin(angle) * long, slope * long];
      const start: Xyz = [(random() - 0.5) * 3e4, (random() - 0.5) * 3e4, 2400];
      const off = (): number => (random() - 0.5) * 60;
      const shift = (random() - 0.5) * 2;
      const from: Xyz = [
        start[0] + dx * shift + off(),
        start[1] + dy * shift + off(),
        start[2] + dz * shift + off(),
      ];
      const p = leg(start, [start[0] + dx, start[1] + dy, start[2] + dz]);
      const part = 0.05 + random();
      const q = leg(from, [from[0] + dx * part, from[1] + dy * part, from[2] + dz * part]);
      if (besideStretch(p, q, 100) === null) continue;
      beside++;
      expect(
        [...squaresOfLeg(p)].some((key) => squaresOfLeg(q).has(key)),
        `round ${round}`,
      ).toBe(true);
    }
    expect(beside).toBeGreaterThan(100);
  });
});

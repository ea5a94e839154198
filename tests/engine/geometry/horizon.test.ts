import { describe, expect, it } from 'vitest';
import { fitFlattening, flatOf } from '../../../src/engine/geometry/flattening.ts';
import { horizonMarks } from '../../../src/engine/geometry/horizon.ts';
import type { PictureLine, PictureLength } from '../../../src/engine/geometry/horizon.ts';
import type { PlanPoint } from '../../../src/engine/model/units.ts';
import { freshSeed, seeded } from '../../random.ts';
import { cameraOf, photographed } from './camera.ts';
import type { Camera } from './camera.ts';

const line = (c: Camera, ax: number, ay: number, bx: number, by: number): PictureLine => ({
  a: photographed(c, { x: ax, y: ay }),
  b: photographed(c, { x: bx, y: by }),
});
const across = (c: Camera): [PictureLine, PictureLine] => [
  line(c, -150, -100, 150, -100),
  line(c, -120, 90, 140, 90),
];
const along = (c: Camera): [PictureLine, PictureLine] => [
  line(c, -130, -90, -130, 100),
  line(c, 120, -110, 120, 90),
];
const known = (c: Camera, ax: number, ay: number, bx: number, by: number): PictureLength => ({
  ...line(c, ax, ay, bx, by),
  length: 50 * Math.hypot(bx - ax, by - ay),
});

/** Length of 80 mm of paper, 4 m at 1:50, as the marks make it. */
function measured(c: Camera, lengths: PictureLength[], a: PlanPoint, b: PlanPoint): number {
  const found = horizonMarks(across(c), along(c), lengths, c.width, c.height);
  if (!found.ok) throw new Error(found.reason);
  const fit = fitFlattening(found.marks, c.width, c.height);
  if (!fit.ok) throw new Error(fit.reason);
  const [p, q] = [a, b].map((each) => flatOf(fit.flattening, photographed(c, each))) as [
    PlanPoint,
    PlanPoint,
  ];
  return Math.hypot(q.x - p.x, q.y - p.y);
}

describe('the horizon of two pairs of parallels', () => {
  it('with one known length gives true lengths in every direction, the lens found with it', () => {
    const seed = freshSeed('horizon');
    const random = seeded(seed);
    for (let i = 0; i < 200; i++) {
      // Tilted about a skew axis, so that both pairs meet near enough.
      const c = cameraOf({
        tilt: 0.25 + random() * 0.35,
        towards: Math.PI / 4 + (random() - 0.5) * 0.6,
        roll: (random() - 0.5) * 0.6,
        distance: 420 + random() * 80,
      });
      const angle = random() * Math.PI;
      const a = { x: -40, y: -30 };
      const b = { x: a.x + 80 * Math.cos(angle), y: a.y + 80 * Math.sin(angle) };
      expect(measured(c, [known(c, -150, -100, 150, -100)], a, b), `seed ${seed}`).toBeCloseTo(4000, 3);
    }
  });

  it('taken straight on one way, two lengths are needed, and enough', () => {
    const c = cameraOf({ tilt: 0.5, towards: 0, roll: 0, distance: 450 });
    const one = horizonMarks(across(c), along(c), [known(c, -150, -100, 150, -100)], c.width, c.height);
    expect(one.ok ? '' : one.reason).toMatch(/two known lengths/);
    const two = [known(c, -150, -100, 150, -100), known(c, 120, -110, 120, 90)];
    expect(measured(c, two, { x: -40, y: -30 }, { x: 8, y: 34 })).toBeCloseTo(4000, 3);
  });

  it('says what is wrong with the lines', () => {
    const c = cameraOf({ tilt: 0.4, towards: 0.8, roll: 0, distance: 450 });
    const reason = (r: ReturnType<typeof horizonMarks>): string => (r.ok ? '' : r.reason);
    const length = [known(c, 0, 0, 100, 0)];
    expect(reason(horizonMarks(across(c), along(c), [], 4000, 3000))).toMatch(/must be known/);
    expect(reason(horizonMarks(across(c), across(c), length, 4000, 3000))).toMatch(/same way/);
    const [first] = across(c);
    expect(reason(horizonMarks([first, first], along(c), length, 4000, 3000))).toMatch(/one another/);
  });
});

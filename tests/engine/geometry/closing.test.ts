import { Matrix, solve } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { CORNER_SD, closeOutline, tapeSd } from '../../../src/engine/geometry/closing.ts';
import type { Closing, TapedDiagonal, TapedSide } from '../../../src/engine/geometry/closing.ts';
import { freshSeed, seeded } from '../../random.ts';

const SQUARE = Math.PI / 2;
const rectangle = (...lengths: number[]): TapedSide[] => lengths.map((length) => ({ length, turn: SQUARE }));

function closed(sides: readonly TapedSide[], diagonals: readonly TapedDiagonal[] = []): Closing {
  const result = closeOutline(sides, diagonals);
  if (!result.ok) throw new Error(result.reason);
  return result.closing;
}

/** Sum of the weighted squares of an outline, written out on its own. */
function strain(
  sides: readonly TapedSide[],
  diagonals: readonly TapedDiagonal[],
  p: readonly number[][],
): number {
  const n = sides.length;
  const at = (i: number) => p[i % n] as [number, number];
  const far = (i: number, j: number) => Math.hypot(at(j)[0] - at(i)[0], at(j)[1] - at(i)[1]);
  const heading = (i: number) => Math.atan2(at(i + 1)[1] - at(i)[1], at(i + 1)[0] - at(i)[0]);
  let sum = 0;
  sides.forEach((s, i) => {
    sum += ((far(i, i + 1) - s.length) / tapeSd(s.length)) ** 2;
    if (s.turn === null) return;
    const off = heading(i + 1) - heading(i) - s.turn;
    sum += (Math.atan2(Math.sin(off), Math.cos(off)) / CORNER_SD) ** 2;
  });
  for (const d of diagonals) sum += ((far(d.from, d.to) - d.length) / tapeSd(d.length)) ** 2;
  return sum;
}

describe('the closing error of taped sizes', () => {
  it('a rectangle whose long sides differ by 12 mm, by hand', () => {
    // Tapes of 7 mm (4 m), corners of 0.3° = 5.236e-3. By symmetry each long side gives e and each short side leans
    // (12 - 2e) / 2 over 3000 mm, which puts each of the four corners out by (12 - 2e) / 6000. Least of
    // 2 e²/7² + 4 ((12 - 2e)/6000)²/5.236e-3²: 0.08163 e = 0.19454 - 0.03242 e, so e = 1.706 mm.
    const c = closed(rectangle(4000, 3000, 4012, 3000));
    expect(c.gap).toBeCloseTo(12, 9);
    expect(c.sides[0]).toBeCloseTo(1.706, 2);
    expect(c.sides[2]).toBeCloseTo(-1.706, 1);
    for (const turn of c.turns) expect(Math.abs(turn)).toBeCloseTo((12 - 2 * 1.706) / 6000, 5);
  });

  it('sizes that agree stay as they are', () => {
    const c = closed(rectangle(4000, 3000, 4000, 3000), [{ from: 0, to: 2, length: 5000 }]);
    expect(c.gap).toBeCloseTo(0, 9);
    for (const off of [...c.sides, ...c.diagonals, ...c.turns]) expect(off).toBeCloseTo(0, 6);
    expect(c.tension).toBeCloseTo(0, 6);
  });

  it('a corner out of square is found by its diagonal', () => {
    // Sides 4000 and 3000 with the corners not said: a diagonal of 5050 opens the corner; law of cosines.
    const open = Math.acos((4000 ** 2 + 3000 ** 2 - 5050 ** 2) / (2 * 4000 * 3000));
    const sides = rectangle(4000, 3000, 4000, 3000).map((s) => ({ ...s, turn: null }));
    const c = closed(sides, [{ from: 0, to: 2, length: 5050 }]);
    const [a, b, d] = [c.corners[1], c.corners[2], c.corners[0]] as { x: number; y: number }[];
    const inner = Math.acos(((d!.x - a!.x) * (b!.x - a!.x) + (d!.y - a!.y) * (b!.y - a!.y)) / (4000 * 3000));
    expect(inner).toBeCloseTo(open, 6);
    expect(c.gap).toBeNull();
  });

  it('is least: the gradient by differences, stepped by ml-matrix, goes nowhere', () => {
    const seed = freshSeed('closing');
    const random = seeded(seed);
    for (let turn = 0; turn < 40; turn++) {
      // An L of six sides, each taped up to 15 mm off, and two diagonals.
      const [w, h, x, y] = [5000, 4000, 2000 + random() * 2000, 1500 + random() * 1500];
      const off = () => (random() - 0.5) * 30;
      const turns = [SQUARE, SQUARE, SQUARE, -SQUARE, SQUARE, SQUARE];
      const sides = [w, h, w - x, h - y, x, y].map((length, i) => ({
        length: length + off(),
        turn: turns[i] as number,
      }));
      const diagonals = [{ from: 0, to: 2, length: Math.hypot(w, h) + off() }];
      const c = closed(sides, diagonals);
      const at = c.corners.map((p) => [p.x, p.y]);
      const free = at.flatMap((_, i) =>
        i === 0
          ? []
          : i === 1
            ? [[1, 0]]
            : [
                [i, 0],
                [i, 1],
              ],
      );
      const moved = (k: number, by: number, from = at) => {
        const copy = from.map((p) => [...p]);
        const [i, axis] = free[k] as [number, number];
        (copy[i] as number[])[axis]! += by;
        return copy;
      };
      const f = (p: number[][]) => strain(sides, diagonals, p);
      const e = 0.01;
      const slope = free.map((_, k) => (f(moved(k, e)) - f(moved(k, -e))) / (2 * e));
      const bend = free.map((_, k) =>
        free.map(
          (_b, l) =>
            (f(moved(l, e, moved(k, e))) -
              f(moved(l, -e, moved(k, e))) -
              f(moved(l, e, moved(k, -e))) +
              f(moved(l, -e, moved(k, -e)))) /
            (4 * e * e),
        ),
      );
      const newton = solve(new Matrix(bend), Matrix.columnVector(slope)).to1DArray();
      expect(Math.max(...newton.map(Math.abs)), `seed ${seed}, turn ${turn}`).toBeLessThan(0.05);
    }
  });

  it('says what is missing', () => {
    const reason = (sides: TapedSide[], d: TapedDiagonal[] = []) => {
      const r = closeOutline(sides, d);
      return r.ok ? '' : r.reason;
    };
    expect(reason(rectangle(1, 2))).toMatch(/three sides/);
    expect(reason(rectangle(4000, 0, 4000, 3000))).toMatch(/more than nothing/);
    expect(reason(rectangle(4000, 3000, 4000, 3000).map((s) => ({ ...s, turn: null })))).toMatch(/diagonal/);
    expect(reason(rectangle(4, 3, 4, 3), [{ from: 1, to: 7, length: 5 }])).toMatch(/corner to another/);
  });
});

import { describe, expect, it } from 'vitest';
import { tableFrom } from '../../../src/engine/model/defaults.ts';
import { fitScale, knownLengthsProblem, scaleOf } from '../../../src/engine/takeoff/calibration.ts';
import { plan, point, tracing } from './plan.ts';

const known = (ax: number, ay: number, bx: number, by: number, length: number) => ({
  ax,
  ay,
  bx,
  by,
  length,
});

describe('one scale from known lengths', () => {
  it('takes the scale of a single length, with the pick error alone', () => {
    // 6000 mm over 1200 px is 5 mm a pixel; ±1 px at each end of 1200 px is 2/1200 = 1.6667 mm in each metre.
    const fit = fitScale([known(100, 100, 1300, 100, 6000)]);
    expect(fit).toMatchObject({ mmPerPixel: 5, residual: 0, single: true, crossed: false, lengths: 1 });
    expect(fit?.errorPerMetre).toBeCloseTo(1000 / 600, 9);
  });

  it('fits two lengths by least squares and says how far they disagree', () => {
    // p = 1000 and 500 px, L = 5000 and 2550 mm: s = (1000·5000 + 500·2550) / (1000² + 500²) = 6275000/1250000 = 5.02.
    // 5.02·1000 = 5020, 20 mm off 5000 = 0.4 %; 5.02·500 = 2510, 40 mm off 2550 = 1.5686 %.
    // Pick: 2·(1000 + 500)/1250000 = 0.24 %. Together 18.086 mm in each metre.
    const fit = fitScale([known(0, 0, 1000, 0, 5000), known(0, 0, 0, 500, 2550)]);
    expect(fit?.mmPerPixel).toBeCloseTo(5.02, 12);
    expect(fit?.residual).toBeCloseTo(40 / 2550, 12);
    expect(fit?.errorPerMetre).toBeCloseTo(1000 * (40 / 2550 + 0.0024), 9);
    expect(fit).toMatchObject({ crossed: true, single: false, lengths: 2 });
  });

  it('agrees with the general solution of the normal equation for many lengths', () => {
    const list = [known(0, 0, 300, 400, 2600), known(10, 20, 10, 920, 4480), known(5, 5, 805, 5, 4010)];
    const p = [500, 900, 800];
    const mm = [2600, 4480, 4010];
    const slope = (s: number) => p.reduce((sum, px, i) => sum + px * (s * px - (mm[i] ?? 0)), 0);
    expect(slope(fitScale(list)?.mmPerPixel ?? NaN)).toBeCloseTo(0, 6);
  });

  it('knows a right angle from a slanted pair: 75° counts, 74° does not', () => {
    const pair = (degrees: number) => {
      const a = (degrees * Math.PI) / 180;
      return [known(0, 0, 1000, 0, 5000), known(0, 0, 1000 * Math.cos(a), 1000 * Math.sin(a), 5000)];
    };
    expect(fitScale(pair(90))?.crossed).toBe(true);
    expect(fitScale(pair(75.01))?.crossed).toBe(true);
    expect(fitScale(pair(74))?.crossed).toBe(false);
    expect(fitScale(pair(180))?.crossed).toBe(false);
    expect(fitScale(pair(-90))?.crossed).toBe(true);
  });

  it.each([
    ['none', [], /No known length/],
    ['no pixels', [known(5, 5, 5, 5, 1000)], /only 0\.0 pixels/],
    ['few pixels', [known(0, 0, 19.9, 0, 1000)], /only 19\.9 pixels/],
    ['zero length', [known(0, 0, 100, 0, 0)], /longer than nothing/],
    ['negative', [known(0, 0, 100, 0, -1)], /longer than nothing/],
    ['not a number', [known(0, 0, 100, 0, 500), known(NaN, 0, 100, 0, 500)], /length 2 is not a number/],
  ])('refuses %s with a reason', (_name, list, why) => {
    expect(fitScale(list)).toBeNull();
    expect(knownLengthsProblem(list)).toMatch(why);
  });
});

describe('the scale of a plan', () => {
  const one = known(0, 0, 1000, 0, 5000);
  const traced = (lengths: readonly ReturnType<typeof known>[], mmPerPixel = 5) => ({
    ...plan([], []),
    tracings: tableFrom([tracing(lengths, mmPerPixel)]),
  });

  it('is typed when no picture lies under the walls', () => {
    expect(scaleOf(plan([], []))).toEqual({ state: 'typed' });
    expect(scaleOf({ ...traced([]), walls: tableFrom([]) })).toEqual({ state: 'typed' });
  });

  it('is refused, naming storey and picture, while the picture has no known length', () => {
    expect(scaleOf(traced([]))).toEqual({
      state: 'refused',
      why: 'Ground floor: No known length is marked on the picture. Metres are not given until "plan.png" has one.',
    });
  });

  it('is refused too when only points stand on the picture', () => {
    expect(
      scaleOf({ ...traced([]), walls: tableFrom([]), points: tableFrom([point('p1', 'ceiling-light')]) })
        .state,
    ).toBe('refused');
  });

  it('is measured, with the fewest lengths and the worst error of its pictures', () => {
    const doc = traced([one]);
    const worse = { ...tracing([one, known(0, 0, 0, 1000, 5100)], 5.05), id: 'u2' };
    const scale = scaleOf({ ...doc, tracings: tableFrom([...Object.values(doc.tracings.byId), worse]) });
    // Second picture: s = 5.05; 50/5000 = 1 % is the larger residual; pick 2·2000/2000000 = 0.2 %.
    expect(scale).toEqual({ state: 'measured', errorPerMetre: expect.closeTo(12, 9) as number, lengths: 1 });
  });

  it('adds how far the picture is drawn from its own fit', () => {
    const scale = scaleOf(traced([one], 5.05));
    expect(scale.state === 'measured' && scale.errorPerMetre).toBeCloseTo(2 + 10, 9);
  });
});

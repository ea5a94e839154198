import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { TILE_PX, coarseLevel, sharpLevel, tilesFor } from '../../../src/io/pdf/tilePlan.ts';
import { freshSeed } from '../../random.ts';

describe('tiles of a page', () => {
  it('a page is one tile at its coarse level', () => {
    for (const [width, height] of [
      [595, 842],
      [1191, 842],
      [20, 14_400],
      [1e6, 1e6],
    ] as const) {
      const whole = { x0: 0, y0: 0, x1: width, y1: height };
      const tiles = tilesFor({ width, height }, whole, coarseLevel(width, height));
      expect(tiles.map((t) => t.box)).toEqual([whole]);
    }
  });
  it('every screen pixel gets one at least, and under four', () => {
    for (const scale of [0.3, 1, 1.01, 2, 17, 60]) {
      const level = sharpLevel(scale);
      expect(2 ** level).toBeGreaterThanOrEqual(scale * 0.999);
      expect(2 ** level).toBeLessThan(2 * scale);
    }
  });
  it('cover what is in sight without lying over one another, none too large, none too many', () => {
    const spot = fc.double({ min: -0.2, max: 1.2, noNaN: true });
    fc.assert(
      fc.property(
        fc.double({ min: 10, max: 5000, noNaN: true }),
        fc.double({ min: 10, max: 5000, noNaN: true }),
        fc.tuple(spot, spot, spot, spot),
        fc.integer({ min: -4, max: 6 }),
        (width, height, [a, b, c, d], level) => {
          const [x0, x1] = [Math.min(a, b) * width, Math.max(a, b) * width];
          const [y0, y1] = [Math.min(c, d) * height, Math.max(c, d) * height];
          const tiles = tilesFor({ width, height }, { x0, y0, x1, y1 }, level);
          expect(tiles.length).toBeLessThanOrEqual(40);
          const clip = (v: number, most: number) => Math.min(most, Math.max(0, v));
          const seen = (clip(x1, width) - clip(x0, width)) * (clip(y1, height) - clip(y0, height));
          let covered = 0;
          for (const { box, level: at } of tiles) {
            expect((box.x1 - box.x0) * 2 ** at).toBeLessThanOrEqual(TILE_PX + 1e-6);
            expect((box.y1 - box.y0) * 2 ** at).toBeLessThanOrEqual(TILE_PX + 1e-6);
            const w = Math.min(box.x1, x1, width) - Math.max(box.x0, x0, 0);
            const h = Math.min(box.y1, y1, height) - Math.max(box.y0, y0, 0);
            covered += Math.max(0, w) * Math.max(0, h);
          }
          expect(Math.abs(covered - seen)).toBeLessThanOrEqual(1e-6 * width * height);
        },
      ),
      { seed: freshSeed('tiles of a page'), numRuns: 300 },
    );
  });
});

import { describe, expect, it } from 'vitest';
import type { PictureSpot } from '../../src/engine/geometry/flattening.ts';
import { sheetCorners } from '../../src/io/pictures/sheetCorners.ts';
import type { Grey } from '../../src/io/proposals/ink.ts';
import { cameraOf, photographed } from '../engine/geometry/camera.ts';
import { freshSeed, seeded } from '../random.ts';

/** A light sheet with some lines on it, on a darker table with grain. Edges are blended over a pixel. */
function photograph(
  corners: readonly PictureSpot[],
  width: number,
  height: number,
  random: () => number,
): Grey {
  const within = (x: number, y: number): boolean =>
    corners.every((a, i) => {
      const b = corners[(i + 1) % corners.length] as PictureSpot;
      return (b.col - a.col) * (y - a.row) - (b.row - a.row) * (x - a.col) >= 0;
    });
  const shades = new Uint8Array(width * height);
  for (let row = 0; row < height; row++)
    for (let col = 0; col < width; col++) {
      let inside = 0;
      for (const [dx, dy] of [
        [0.25, 0.25],
        [0.75, 0.25],
        [0.25, 0.75],
        [0.75, 0.75],
      ] as const)
        if (within(col + dx, row + dy)) inside += 0.25;
      // The drawing keeps a margin, as drawings do.
      const drawn = [-12, 12].every((d) => within(col + d, row) && within(col, row + d));
      const line = drawn && ((col + 2 * row) % 97 < 2 || (3 * col - row) % 131 < 2);
      const sheet = (line ? 60 : 225) - (40 * col) / width;
      const table = 90 + 25 * Math.sin(col / 90) * Math.cos(row / 70);
      const shade = inside * sheet + (1 - inside) * table + (random() - 0.5) * 14;
      shades[row * width + col] = Math.max(0, Math.min(255, shade));
    }
  return { width, height, shades };
}

const A3 = [
  { x: -210, y: -148.5 },
  { x: 210, y: -148.5 },
  { x: 210, y: 148.5 },
  { x: -210, y: 148.5 },
];

describe('the corners of a sheet in a photograph', () => {
  it('found within a pixel on 5 tilted sheets', () => {
    const seed = freshSeed('sheet');
    const random = seeded(seed);
    for (let i = 0; i < 5; i++) {
      const camera = cameraOf({
        tilt: random() * 0.5,
        towards: random() * 6.28,
        roll: (random() - 0.5) * 0.3,
        distance: 560,
        width: 1000,
        height: 750,
        focal: 775,
      });
      const truth = A3.map((p) => photographed(camera, p));
      const found = sheetCorners(photograph(truth, 1000, 750, random));
      expect(found, `seed ${seed}, sheet ${i}`).not.toBeNull();
      for (const t of truth) {
        const off = Math.min(...(found ?? []).map((f) => Math.hypot(f.col - t.col, f.row - t.row)));
        expect(off, `seed ${seed}, sheet ${i}`).toBeLessThan(1);
      }
    }
  });

  it('starts at the top left and goes clockwise', () => {
    const camera = cameraOf({
      tilt: 0.2,
      towards: 1,
      roll: 0,
      distance: 600,
      width: 800,
      height: 600,
      focal: 620,
    });
    const truth = A3.map((p) => photographed(camera, p));
    const found = sheetCorners(photograph(truth, 800, 600, seeded(3))) ?? [];
    truth.forEach((t, i) => {
      const f = found[i] as PictureSpot;
      expect(Math.hypot(f.col - t.col, f.row - t.row)).toBeLessThan(1);
    });
  });

  it('a sheet that runs out of the picture, a bare table and a round plate have none', () => {
    const close = cameraOf({
      tilt: 0.1,
      towards: 1,
      roll: 0,
      distance: 250,
      width: 800,
      height: 600,
      focal: 620,
    });
    const random = seeded(5);
    const out = A3.map((p) => photographed(close, p));
    expect(sheetCorners(photograph(out, 800, 600, random))).toBeNull();
    const bare = { width: 400, height: 300, shades: new Uint8Array(120_000).map(() => 90 + random() * 14) };
    expect(sheetCorners(bare)).toBeNull();
    const plate = { ...bare, shades: Uint8Array.from(bare.shades) };
    for (let y = 0; y < 300; y++)
      for (let x = 0; x < 400; x++) if (Math.hypot(x - 200, y - 150) < 120) plate.shades[y * 400 + x] = 230;
    expect(sheetCorners(plate)).toBeNull();
  });
});

import { describe, expect, it } from 'vitest';
import {
  flatteningOf,
  straightenBy,
  straightenedSpot,
  straightenError,
} from '../../../src/engine/geometry/straightened.ts';
import { flatOf, lengthError } from '../../../src/engine/geometry/flattening.ts';
import { tableFrom } from '../../../src/engine/model/defaults.ts';
import type { Tracing } from '../../../src/engine/model/tracing.ts';
import { scaleOf, scaleOfTracing } from '../../../src/engine/takeoff/calibration.ts';
import { straightenedPixels, straightenedSize } from '../../../src/io/pictures/straightened.ts';
import { cameraOf, photographed, type Camera } from '../geometry/camera.ts';
import { freshSeed, seeded } from '../../random.ts';
import { plan, tracing } from './plan.ts';

const SCALE = 50;
const SHEET = { width: 420, height: 297 };
const seen = (camera: Camera, x: number, y: number) => {
  const at = photographed(camera, { x: x - SHEET.width / 2, y: y - SHEET.height / 2 });
  return { x: at.col, y: at.row };
};
const CORNERS = [
  [0, 0],
  [420, 0],
  [420, 297],
  [0, 297],
] as const;

/** Normal, by Box and Muller. */
const normal = (random: () => number): number =>
  Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());

const anyCamera = (random: () => number): Camera =>
  cameraOf({
    tilt: 0.6 * random(),
    towards: 2 * Math.PI * random(),
    roll: 0.3 * (random() - 0.5),
    distance: 480 + 80 * random(),
  });

describe('metres from a straightened photograph', () => {
  it('carry the ± of the straightening, at its worst for four metres, into the totals', () => {
    const random = seeded(freshSeed('straightened ±'));
    for (let i = 0; i < 20; i++) {
      const camera = anyCamera(random);
      const s = straightenBy(
        'sheet',
        CORNERS.map(([x, y]) => seen(camera, x, y)),
        SHEET,
        camera,
        0.5,
      );
      const f = flatteningOf(s);
      if (!f) throw new Error('no fit');
      const worst = straightenError(s, SCALE);
      // 80 mm of paper are 4 m: no such length anywhere on the sheet is worse by more than the error's own curve.
      for (let k = 0; k < 60; k++) {
        const angle = 2 * Math.PI * random();
        const a = { x: 80 + random() * 260, y: 80 + random() * 137 };
        const b = { x: a.x + 80 * Math.cos(angle), y: a.y + 80 * Math.sin(angle) };
        expect((1000 * lengthError(f, a, b)) / 80).toBeLessThan(1.02 * worst);
      }
      const doc = plan([], []);
      const known = [{ ax: 60, ay: 40, bx: 260, by: 40, length: 200 * SCALE }];
      const photo: Tracing = {
        ...tracing(known, SCALE),
        source: {
          kind: 'picture',
          mediaType: 'image/jpeg',
          asset: '0'.repeat(64),
          ...SHEET,
          straighten: s,
        },
      };
      const scale = scaleOf({ ...doc, tracings: tableFrom([photo]) });
      if (scale.state !== 'measured') throw new Error(scale.state);
      expect(scale.errorPerMetre).toBeGreaterThan(worst);
      expect(scale.errorPerMetre).toBe(scaleOfTracing(photo)?.errorPerMetre);
    }
  });

  it('of rooms on 200 photographs, marked by hand, are within what is stated in 95 of 100', () => {
    const random = seeded(freshSeed('straightened rooms'));
    let within = 0;
    for (let i = 0; i < 200; i++) {
      const camera = anyCamera(random);
      const slip = (p: { x: number; y: number }) => ({
        x: p.x + 0.5 * normal(random),
        y: p.y + 0.5 * normal(random),
      });
      const s = straightenBy(
        'sheet',
        CORNERS.map(([x, y]) => slip(seen(camera, x, y))),
        SHEET,
        camera,
        0.5,
      );
      const onSheet = (x: number, y: number) => {
        const spot = straightenedSpot(s, slip(seen(camera, x, y)));
        if (!spot) throw new Error('past the horizon');
        return spot;
      };
      const lengthOf = (a: { x: number; y: number }, b: { x: number; y: number }) =>
        Math.hypot(b.x - a.x, b.y - a.y);
      const [ka, kb] = [onSheet(40, 60), onSheet(240, 60)];
      const known = [{ ax: ka.x, ay: ka.y, bx: kb.x, by: kb.y, length: 200 * SCALE }];
      const mmPerUnit = known[0]!.length / lengthOf(ka, kb);
      const fit = scaleOfTracing({
        ...tracing(known, mmPerUnit),
        source: { kind: 'picture', mediaType: 'image/jpeg', asset: '0'.repeat(64), ...SHEET, straighten: s },
      });
      const [x, y] = [60 + 200 * random(), 60 + 100 * random()];
      const true_ = 80 * SCALE;
      const read = lengthOf(onSheet(x, y), onSheet(x, y + 80)) * mmPerUnit;
      if (Math.abs(read - true_) <= ((fit?.errorPerMetre ?? 0) * true_) / 1000) within++;
    }
    expect(within).toBeGreaterThanOrEqual(190);
  });
});

describe('the straightened picture', () => {
  it('shows every spot of the sheet where it belongs', () => {
    const camera = cameraOf({
      tilt: 0.5,
      towards: 1,
      roll: 0.1,
      distance: 480,
      width: 800,
      height: 600,
      focal: 620,
    });
    const s = straightenBy(
      'sheet',
      CORNERS.map(([x, y]) => seen(camera, x, y)),
      SHEET,
      camera,
      0.5,
    );
    // Each pixel of the photograph says in red and green where on the sheet it looks: the outside reference is the camera.
    const f = flatteningOf(s);
    if (!f) throw new Error('no fit');
    const data = new Uint8ClampedArray(800 * 600 * 4);
    for (let row = 0; row < 600; row++)
      for (let col = 0; col < 800; col++) {
        const at = flatOf(f, { col: col + 0.5, row: row + 0.5 });
        if (at) data.set([(at.x / 420) * 200 + 20, (at.y / 297) * 200 + 20, 0, 255], 4 * (row * 800 + col));
      }
    const flat = straightenedPixels({ width: 800, height: 600, data }, s);
    const size = straightenedSize(s);
    expect(flat?.width).toBe(size.width);
    expect(size.width / size.height).toBeCloseTo(420 / 297, 2);
    for (const [x, y] of [
      [50, 50],
      [210, 148],
      [400, 280],
      [30, 250],
    ] as const) {
      const at = 4 * (Math.floor((y / 297) * size.height) * size.width + Math.floor((x / 420) * size.width));
      expect(flat?.data[at]).toBeCloseTo((x / 420) * 200 + 20, -0.4);
      expect(flat?.data[at + 1]).toBeCloseTo((y / 297) * 200 + 20, -0.4);
      expect(flat?.data[at + 3]).toBe(255);
    }
  });
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  SCALE_MAX,
  SCALE_MIN,
  cameraAt,
  faceToScreen,
  fit,
  pan,
  pinch,
  planToScreen,
  screenToFace,
  screenToPlan,
  visibleBox,
  zoomAbout,
} from '../../src/tools/camera.ts';
import type { Camera } from '../../src/tools/camera.ts';

const cameras = fc.record({
  scale: fc.double({ min: 0.004, max: 2, noNaN: true }),
  left: fc.double({ min: -5000, max: 5000, noNaN: true }),
  top: fc.double({ min: -5000, max: 5000, noNaN: true }),
}) as fc.Arbitrary<Camera>;
const mm = fc.double({ min: -50_000, max: 50_000, noNaN: true });
const px = fc.double({ min: 0, max: 2000, noNaN: true });

describe('the camera', () => {
  it('turns plan and face millimetres into pixels and back', () => {
    fc.assert(
      fc.property(cameras, mm, mm, mm, (camera, x, y, start) => {
        const back = screenToPlan(camera, planToScreen(camera, { x, y }));
        expect(back.x).toBeCloseTo(x, 4);
        expect(back.y).toBeCloseTo(y, 4);
        const face = screenToFace(camera, faceToScreen(camera, { u: x, z: y }, start), start);
        expect(face.u).toBeCloseTo(x, 4);
        expect(face.z).toBeCloseTo(y, 4);
      }),
    );
  });

  it('puts a plan point right and down, a face point right and up', () => {
    const camera: Camera = { scale: 0.1, left: 50, top: 300 };
    expect(planToScreen(camera, { x: 1000, y: 1000 })).toEqual({ px: 150, py: 400 });
    expect(faceToScreen(camera, { u: 1000, z: 1000 }, 500)).toEqual({ px: 200, py: 200 });
  });

  it('zooms with the place under the pointer standing still, also at the limits', () => {
    fc.assert(
      fc.property(
        cameras,
        px,
        px,
        fc.double({ min: 0.001, max: 1000, noNaN: true }),
        (camera, x, y, factor) => {
          const about = { px: x, py: y };
          const under = screenToPlan(camera, about);
          const next = zoomAbout(camera, about, factor);
          const still = planToScreen(next, under);
          expect(still.px).toBeCloseTo(x, 4);
          expect(still.py).toBeCloseTo(y, 4);
          expect(next.scale).toBeGreaterThanOrEqual(SCALE_MIN);
          expect(next.scale).toBeLessThanOrEqual(SCALE_MAX);
        },
      ),
    );
  });

  it('keeps the places under two fingers under them', () => {
    const camera: Camera = { scale: 0.1, left: 0, top: 0 };
    const before = [
      { px: 100, py: 100 },
      { px: 200, py: 100 },
    ] as const;
    const after = [
      { px: 80, py: 150 },
      { px: 280, py: 150 },
    ] as const;
    const next = pinch(camera, before, after);
    expect(next.scale).toBeCloseTo(0.2, 12);
    for (const i of [0, 1] as const) {
      const at = planToScreen(next, screenToPlan(camera, before[i]));
      expect(at.px).toBeCloseTo(after[i].px, 9);
      expect(at.py).toBeCloseTo(after[i].py, 9);
    }
  });

  it('fits a box into the middle of the canvas, whole', () => {
    const camera = fit({ minX: 1000, minY: 0, maxX: 10_000, maxY: 5000 }, { width: 900, height: 900 }, 0);
    expect(camera.scale).toBeCloseTo(0.1, 12);
    const corner = planToScreen(camera, { x: 1000, y: 0 });
    expect(corner.px).toBeCloseTo(0, 9);
    expect(corner.py).toBeCloseTo(200, 9);
    expect(visibleBox(camera, { width: 900, height: 900 }).maxX).toBeCloseTo(10_000, 6);
  });

  it('pans by pixels and refuses a scale that is none', () => {
    expect(pan(cameraAt(1), 3, 4)).toEqual({ scale: 1, left: 3, top: 4 });
    expect(() => cameraAt(0)).toThrow();
    expect(() => cameraAt(Number.NaN)).toThrow();
  });
});

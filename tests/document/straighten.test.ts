import { describe, expect, it } from 'vitest';
import { straightenPhotograph } from '../../src/document/commands/straighten.ts';
import { addPicture, editTracing, setKnownLengths } from '../../src/document/commands/tracings.ts';
import { straightenBy } from '../../src/engine/geometry/straightened.ts';
import { newDocument } from '../../src/engine/model/defaults.ts';
import type { PlanDocument } from '../../src/engine/model/document.ts';
import type { Tracing } from '../../src/engine/model/tracing.ts';
import { cameraOf, photographed } from '../engine/geometry/camera.ts';
import { after } from './plans.ts';
import { expectRefusal, prove } from './prove.ts';

const camera = cameraOf({ tilt: 0.45, towards: 0.7, roll: 0.1, distance: 520 });
/** Where the camera sees a place of an A3 sheet, mm from its top left corner. */
const seen = (x: number, y: number) => {
  const at = photographed(camera, { x: x - 210, y: y - 148.5 });
  return { x: at.col, y: at.row };
};
const A3 = straightenBy(
  'sheet',
  [seen(0, 0), seen(420, 0), seen(420, 297), seen(0, 297)],
  { width: 420, height: 297 },
  camera,
  0.5,
);
/** A room of 5 by 4 m drawn at 1:50 from (60, 40) of the sheet. */
const ROOM = straightenBy(
  'lengths',
  [seen(60, 40), seen(160, 40), seen(160, 120), seen(60, 120)],
  { width: 5000, height: 4000 },
  camera,
  0.5,
);
const plan = (): PlanDocument =>
  after(
    newDocument('Photograph'),
    addPicture({
      storey: 's1',
      name: 'photo.jpg',
      asset: 'a'.repeat(64),
      mediaType: 'image/jpeg',
      width: camera.width,
      height: camera.height,
    }),
  );
const u1 = (doc: PlanDocument): Tracing => doc.tracings.byId['u1'] as Tracing;
const knownAlong = (a: { x: number; y: number }, b: { x: number; y: number }, length: number) => ({
  ax: a.x,
  ay: a.y,
  bx: b.x,
  by: b.y,
  length,
});

describe('straightening a photograph', () => {
  it('shows the sheet to its edges, with known lengths where they are on it', () => {
    const marked = after(plan(), setKnownLengths('u1', [knownAlong(seen(60, 40), seen(160, 40), 5000)]));
    const { doc } = prove(marked, straightenPhotograph('u1', A3));
    const { source, scale } = u1(doc);
    expect([source.width, source.height]).toEqual([420, 297]);
    const [known] = scale.known;
    expect(known?.ax).toBeCloseTo(60, 3);
    expect(known?.by).toBeCloseTo(40, 3);
    expect(scale.mmPerUnit).toBeCloseTo(50, 3);
  });

  it('comes back as it was taken, to the thousandth of a pixel', () => {
    const known = [knownAlong(seen(60, 40), seen(160, 40), 5000)];
    const marked = after(plan(), setKnownLengths('u1', known), straightenPhotograph('u1', A3));
    const { doc } = prove(marked, straightenPhotograph('u1', null));
    expect([u1(doc).source.width, u1(doc).source.height]).toEqual([camera.width, camera.height]);
    for (const key of ['ax', 'ay', 'bx', 'by'] as const)
      expect(u1(doc).scale.known[0]?.[key]).toBeCloseTo(known[0]?.[key] as number, 3);
  });

  it('takes the scale from a rectangle of the drawing, whose lengths go with it again', () => {
    const { doc, note } = prove(plan(), straightenPhotograph('u1', ROOM));
    expect(note).toBeNull();
    expect(u1(doc).scale.known.map((k) => k.length)).toEqual([5000, 4000]);
    expect(u1(doc).scale.mmPerUnit).toBeCloseTo(1, 6);
    const again = prove(doc, straightenPhotograph('u1', A3));
    expect(u1(again.doc).scale.known).toEqual([]);
    expect(again.note).toMatch(/known length/);
  });

  it('refuses corners out of order, a locked tracing and what is no picture', () => {
    const crossed = straightenBy(
      'sheet',
      [seen(0, 0), seen(420, 297), seen(420, 0), seen(0, 297)],
      { width: 420, height: 297 },
      camera,
      0.5,
    );
    expectRefusal(plan(), straightenPhotograph('u1', crossed), /not in order/);
    expectRefusal(
      after(plan(), editTracing('u1', { locked: true })),
      straightenPhotograph('u1', A3),
      /locked/,
    );
    expectRefusal(plan(), straightenPhotograph('u9', A3), /no longer/);
  });
});

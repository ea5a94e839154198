import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { doorRadius, unitSenses } from '../../src/io/doorSwings.ts';
import { readDxf } from '../../src/io/dxf/read.ts';
import type { LineDrawing } from '../../src/io/lineDrawing.ts';
import { createLineWork } from '../../src/io/lineWork.ts';

/** A drawing of arcs, each of a radius and a turn in degrees, in pieces of 5°, and a square. */
function arcs(...wanted: readonly (readonly [radius: number, degrees: number])[]): LineDrawing {
  const work = createLineWork();
  for (const [i, [r, degrees]] of wanted.entries()) {
    for (let a = 0; a <= degrees; a += 5) {
      const t = ((a + 37) * Math.PI) / 180;
      const [x, y] = [i * 50 * r + r * Math.cos(t), r * Math.sin(t)];
      if (a === 0) work.moveTo(x, y);
      else work.lineTo(x, y);
    }
    work.end('0');
  }
  work.moveTo(0, 0);
  for (const [x, y] of [
    [4, 0],
    [4, 4],
    [0, 4],
    [0, 1],
  ] as const)
    work.lineTo(x, y);
  work.end('0');
  const done = work.done();
  return { ...done, texts: [], origin: { x: 0, y: 0 }, mainBox: done.box, unit: null, leftOut: [] };
}

describe('doors as a sense check of a drawing’s unit', () => {
  it('takes the radius that comes most often among quarter arcs', () => {
    expect(doorRadius(arcs([0.9, 90], [0.9, 90], [0.76, 90], [3, 180], [0.2, 355]))).toBeCloseTo(0.9, 6);
  });
  it('finds none where no arc is a quarter', () => {
    expect(doorRadius(arcs([0.9, 45], [0.9, 180]))).toBeNull();
    expect(unitSenses(null).every((s) => s.door === null && !s.likely)).toBe(true);
  });
  it('a radius of 0.9 is metres, of 900 millimetres, of 35.4 inches', () => {
    const likely = (r: number) => unitSenses(r).flatMap((s) => (s.likely ? [s.unit] : []));
    expect(likely(0.9)).toEqual(['m']);
    expect(likely(900)).toEqual(['mm']);
    expect(likely(35.4)).toEqual(['in']);
    expect(likely(2.95)).toEqual(['ft']);
  });
  it('says metres of a drawing in metres whose header says inches', () => {
    const result = readDxf(readFileSync('tests/io/dxf/made/rooms-metres-says-inches.dxf'));
    if (!result.ok) throw new Error(result.message);
    expect(result.drawing.unit).toBe('in');
    const radius = doorRadius(result.drawing);
    expect(
      unitSenses(radius)
        .filter((s) => s.likely)
        .map((s) => s.unit),
    ).toEqual(['m']);
  });
});

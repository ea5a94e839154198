import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { boxIndex, boxOf, boxesTouch } from '../../src/tools/boxIndex.ts';

const box = fc
  .tuple(
    fc.integer({ min: -50, max: 50 }),
    fc.integer({ min: -50, max: 50 }),
    fc.integer({ min: 0, max: 20 }),
    fc.integer({ min: 0, max: 20 }),
  )
  .map(([x, y, w, h]) => ({ minX: x, minY: y, maxX: x + w, maxY: y + h }));

describe('the index of boxes', () => {
  it('answers exactly what a linear scan answers, in order, touching boxes included', () => {
    fc.assert(
      fc.property(fc.array(box, { maxLength: 300 }), fc.array(box, { maxLength: 20 }), (boxes, areas) => {
        const index = boxIndex(boxes);
        for (const area of areas) {
          const scan = boxes.flatMap((b, i) => (boxesTouch(b, area) ? [i] : []));
          expect(index.search(area)).toEqual(scan);
        }
      }),
      { numRuns: 200 },
    );
  });

  it('refuses boxes that are not finite or are inside out, and leaves null ones out', () => {
    const good = { minX: 0, minY: 0, maxX: 1, maxY: 1 };
    expect(() => boxIndex([good, { ...good, maxY: Number.NaN }])).toThrow(/Box 1/);
    expect(() => boxIndex([{ ...good, minX: -Infinity }])).toThrow(/Box 0/);
    expect(() => boxIndex([{ ...good, minX: 2 }])).toThrow();
    const index = boxIndex([null, good]);
    expect(index.size).toBe(1);
    expect(index.search(good)).toEqual([1]);
  });

  it('finds the box round places', () => {
    expect(boxOf([], 5)).toBeNull();
    expect(
      boxOf(
        [
          { x: 3, y: 4 },
          { x: -1, y: 9 },
        ],
        1,
      ),
    ).toEqual({ minX: -2, minY: 3, maxX: 4, maxY: 10 });
  });
});

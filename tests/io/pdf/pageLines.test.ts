import { describe, expect, it } from 'vitest';
import { pageLines } from '../../../src/io/pdf/pageLines.ts';
import type { OperatorCodes } from '../../../src/io/pdf/pageLines.ts';

const CODES: OperatorCodes = {
  save: 1,
  restore: 2,
  transform: 3,
  constructPath: 4,
  endPath: 5,
  paintFormXObjectBegin: 6,
  paintFormXObjectEnd: 7,
  beginMarkedContentProps: 8,
  beginMarkedContent: 9,
  endMarkedContent: 10,
};
const STROKE = 20;
const path = (...data: number[]): [number, unknown] => [4, [STROKE, [Float32Array.from(data)], null]];

function read(ops: readonly (readonly [number, unknown])[], view = [1, 0, 0, -1, 0, 800], hidden = 'none') {
  return pageLines({ fnArray: ops.map((o) => o[0]), argsArray: ops.map((o) => o[1]) }, CODES, view, (p) =>
    (p as { id: string }).id === hidden ? null : (p as { id: string }).id,
  );
}

describe('the lines of a PDF page', () => {
  it('go through the page, its transforms and its forms, y down from the top', () => {
    const d = read([
      [1, null],
      [3, [2, 0, 0, 2, 10, 20]],
      path(0, 0, 0, 1, 50, 0),
      [6, [[1, 0, 0, 1, 5, 5], null]],
      path(0, 0, 0, 1, 10, 0),
      [7, null],
      [2, null],
      path(0, 100, 100, 1, 200, 100),
    ]);
    expect([...(d?.coords ?? [])]).toEqual([10, 780, 110, 780, 20, 770, 40, 770, 100, 700, 200, 700]);
  });

  it('closed outlines stay closed, curves come in eight pieces, clips are no lines', () => {
    const d = read([
      path(0, 0, 0, 1, 10, 0, 1, 10, 10, 4),
      path(0, 0, 0, 2, 0, 10, 10, 10, 10, 0),
      [4, [5, [Float32Array.from([0, 0, 0, 1, 99, 99])], null]],
    ]);
    expect([...(d?.closed ?? [])]).toEqual([1, 0]);
    expect([...(d?.starts ?? [])]).toEqual([0, 3, 12]);
    // A cubic's middle by hand: (0 + 3·0 + 3·10 + 10) / 8 and (0 + 3·10 + 3·10 + 0) / 8.
    expect(d?.coords[2 * 7]).toBe(5);
    expect(800 - (d?.coords[2 * 7 + 1] as number)).toBe(7.5);
  });

  it('lie on the layer of their marked content, and hidden ones are left out', () => {
    const ops: [number, unknown][] = [
      [8, ['OC', { id: 'Walls' }]],
      path(0, 0, 0, 1, 1, 0),
      [9, ['Span']],
      path(0, 0, 0, 1, 2, 0),
      [10, null],
      [10, null],
      [8, ['OC', { id: 'Furniture' }]],
      path(0, 0, 0, 1, 3, 0),
      [10, null],
      path(0, 0, 0, 1, 4, 0),
    ];
    expect(read(ops)?.layers.map((l) => [l.name, l.paths])).toEqual([
      ['Walls', 2],
      ['Furniture', 1],
      ['page', 1],
    ]);
    expect(read(ops, undefined, 'Furniture')?.layers.map((l) => l.name)).toEqual(['Walls', 'page']);
  });

  it('a scan has none', () => {
    expect(read([[1, null]])).toBeNull();
  });
});

import { readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { readDxf } from '../../../src/io/dxf/read.ts';
import { strokesOf } from '../../../src/io/proposals/strokes.ts';
import { LINE_RULES } from '../../../src/io/proposals/types.ts';
import type { ProposedWall } from '../../../src/engine/model/proposedWall.ts';
import type { Stroke } from '../../../src/io/proposals/types.ts';
import { outlineWalls, wallsFromStrokes } from '../../../src/io/proposals/walls.ts';

const s = (x0: number, y0: number, x1: number, y1: number): Stroke => ({
  a: { x: x0, y: y0 },
  b: { x: x1, y: y1 },
});
const box = (x0: number, y0: number, x1: number, y1: number): Stroke[] => [
  s(x0, y0, x1, y0),
  s(x1, y0, x1, y1),
  s(x1, y1, x0, y1),
  s(x0, y1, x0, y0),
];
/** Ends in reading order, rounded, with thickness and openings: for comparing. */
const told = (walls: readonly ProposedWall[]): string[] =>
  walls
    .map((w) => {
      const ends = [w.a, w.b]
        .map((p) => [Math.round(p.x), Math.round(p.y)])
        .sort((p, q) => (p[0] as number) - (q[0] as number) || (p[1] as number) - (q[1] as number));
      const gaps = w.openings.map((o) => ` gap ${Math.round(o.width)}`).join('');
      return `${ends.map((e) => e.join(',')).join(' to ')} x ${Math.round(w.thickness)}${gaps}`;
    })
    .sort();

describe('walls proposed from lines', () => {
  const rooms = [...box(-250, -250, 6950, 3850), ...box(0, 0, 4200, 3600), ...box(4300, 0, 6700, 3600)];
  const five = [
    '-125,-125 to -125,3725 x 250',
    '-125,-125 to 6825,-125 x 250',
    '-125,3725 to 6825,3725 x 250',
    '4250,-125 to 4250,3725 x 100',
    '6825,-125 to 6825,3725 x 250',
  ];

  it('two rooms: four outer walls to the corners, the partition on to their middles', () => {
    expect(told(wallsFromStrokes(rooms, LINE_RULES))).toEqual(five);
  });

  it('the same, turned by 30° and drawn in pieces the other way round', () => {
    const [c, k] = [Math.cos(0.5236), Math.sin(0.5236)];
    const turned = (p: { x: number; y: number }) => ({ x: c * p.x - k * p.y, y: k * p.x + c * p.y });
    const back = (p: { x: number; y: number }) => ({ x: c * p.x + k * p.y, y: -k * p.x + c * p.y });
    const pieces = rooms.flatMap(({ a, b }) => {
      const m = { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 };
      return [
        { a: turned(b), b: turned(m) },
        { a: turned(a), b: turned(m) },
      ];
    });
    const walls = wallsFromStrokes(pieces, LINE_RULES).map((w) => ({ ...w, a: back(w.a), b: back(w.b) }));
    expect(told(walls)).toEqual(five);
  });

  it('a door and a window are gaps in one wall', () => {
    const faces = [0, 100].flatMap((y) => [s(0, y, 1000, y), s(1900, y, 4000, y), s(5800, y, 8000, y)]);
    const jambs = [1000, 1900, 4000, 5800].map((x) => s(x, 0, x, 100));
    expect(told(wallsFromStrokes([...faces, ...jambs], LINE_RULES))).toEqual([
      '0,50 to 8000,50 x 100 gap 900 gap 1800',
    ]);
  });

  it('a cavity wall is one wall of both its leaves', () => {
    const leaves = [0, 102.5, 202.5, 302.5].map((y) => s(0, y, 6000, y));
    expect(told(wallsFromStrokes(leaves, LINE_RULES))).toEqual(['0,151 to 6000,151 x 303']);
  });

  it('stairs, worktops and single lines are none', () => {
    const treads = Array.from({ length: 12 }, (_, i) => s(0, i * 250, 900, i * 250));
    const worktop = box(3000, 0, 5000, 600);
    expect(told(wallsFromStrokes([...treads, ...worktop, s(0, 5000, 9000, 5000)], LINE_RULES))).toEqual([]);
  });

  it('a plan of single lines: its closed outlines, of a thickness that is told to be assumed', () => {
    const outline = [
      { x: 0, y: 0 },
      { x: 4000, y: 0 },
      { x: 4000, y: 3000 },
      { x: 0, y: 3000 },
    ];
    const walls = outlineWalls([outline], [], LINE_RULES);
    expect(told(walls)).toHaveLength(4);
    expect(walls.every((w) => w.assumed)).toBe(true);
    expect(outlineWalls([outline.map((p) => ({ x: p.x / 10, y: p.y / 10 }))], [], LINE_RULES)).toEqual([]);
  });

  it('from a DXF in metres, once its scale is known', () => {
    const read = readDxf(
      readFileSync(path.join(import.meta.dirname, '../dxf/made/rooms-metres-says-inches.dxf')),
    );
    if (!read.ok) throw new Error(read.message);
    const layers = new Set(['WALLS']);
    const { strokes } = strokesOf(read.drawing, 1000, layers);
    const walls = wallsFromStrokes(strokes, LINE_RULES);
    const length = walls.reduce((sum, w) => sum + Math.hypot(w.b.x - w.a.x, w.b.y - w.a.y), 0);
    // By hand: 2 x 6950 + 2 x 3850 along the middles, and the partition of 3850.
    expect(length).toBeCloseTo(2 * 6950 + 3 * 3850, 3);
    expect(walls).toHaveLength(5);
  });
});

import type { Mm, PlanPoint } from '../model/units.ts';

export interface GridSegment {
  readonly a: PlanPoint;
  readonly b: PlanPoint;
  /** Half width of the band that counts as near the segment, mm. */
  readonly reach: Mm;
}

/** Segments by square cell: an exact superset of what is near a point or crosses within a cell. */
export interface SegmentGrid {
  /** Indexes, rising, of every segment within its reach of p (and maybe some more). */
  near(p: PlanPoint): readonly number[];
  cells(): IterableIterator<readonly [string, readonly number[]]>;
  cellOf(p: PlanPoint): string;
}

const NOTHING: readonly number[] = [];
const MOST_COLUMNS = 256;

/** Puts finite segments into square cells of at least `smallest` mm; no segment spans more than some 256 columns. */
export function segmentGrid(segments: readonly GridSegment[], smallest: Mm): SegmentGrid {
  let extent = 0;
  for (const s of segments)
    extent = Math.max(extent, Math.abs(s.a.x - s.b.x), Math.abs(s.a.y - s.b.y), s.reach);
  const cell = Math.max(smallest, extent / MOST_COLUMNS);
  const table = new Map<string, number[]>();
  const put = (ix: number, iy: number, index: number): void => {
    const key = `${ix},${iy}`;
    const list = table.get(key);
    if (list) list.push(index);
    else table.set(key, [index]);
  };
  segments.forEach(({ a, b, reach }, index) => {
    const left = a.x <= b.x ? a : b;
    const right = a.x <= b.x ? b : a;
    const slope = right.x > left.x ? (right.y - left.y) / (right.x - left.x) : 0;
    const upright = right.x === left.x;
    const first = Math.floor((left.x - reach) / cell);
    const last = Math.floor((right.x + reach) / cell);
    for (let ix = first; ix <= last; ix++) {
      const x0 = Math.max(left.x, ix * cell - reach);
      const x1 = Math.min(right.x, (ix + 1) * cell + reach);
      const y0 = upright ? left.y : left.y + (x0 - left.x) * slope;
      const y1 = upright ? right.y : left.y + (x1 - left.x) * slope;
      const low = Math.floor((Math.min(y0, y1) - reach) / cell);
      const high = Math.floor((Math.max(y0, y1) + reach) / cell);
      for (let iy = low; iy <= high; iy++) put(ix, iy, index);
    }
  });
  const cellOf = (p: PlanPoint): string => `${Math.floor(p.x / cell)},${Math.floor(p.y / cell)}`;
  return { near: (p) => table.get(cellOf(p)) ?? NOTHING, cells: () => table.entries(), cellOf };
}

import type { LineDrawing, StatedUnit } from './lineDrawing.ts';
import { UNIT_MM } from './lineDrawing.ts';

/** Doors are 600 to 1000 mm wide: the leaf sizes of everyday trade, and common practice. */
export const DOOR_WIDTHS = { least: 600, most: 1000 } as const;

/** Arcs that are the swing of a door: about a quarter of a circle. */
const QUARTER: readonly [number, number] = [(75 * Math.PI) / 180, (100 * Math.PI) / 180];
const ROUND = 0.02;

/**
 * How wide the doors of a drawing are, in its own units: the radius that comes most often among its arcs of about a
 * quarter turn; null where there is none. Radii within 3 in 100 count as one.
 */
export function doorRadius(drawing: LineDrawing): number | null {
  const radii: number[] = [];
  for (let i = 0; i + 1 < drawing.starts.length; i++) {
    if (drawing.closed[i]) continue;
    const radius = quarterArc(drawing.coords.subarray(2 * at(drawing, i), 2 * at(drawing, i + 1)));
    if (radius !== null) radii.push(radius);
  }
  radii.sort((a, b) => a - b);
  let best: readonly number[] = [];
  for (let i = 0; i < radii.length;) {
    const first = radii[i] as number;
    const group = radii.slice(i).filter((r) => r <= first * 1.03);
    if (group.length > best.length) best = group;
    i += group.length;
  }
  return best.length === 0 ? null : (best[best.length >> 1] as number);
}

const at = (drawing: LineDrawing, i: number): number => drawing.starts[i] as number;

/** Radius of a path of at least five vertices that lie on about a quarter of a circle; else null. */
function quarterArc(c: Float64Array): number | null {
  const n = c.length / 2;
  if (n < 5) return null;
  const p = (i: number): readonly [number, number] => [c[2 * i] as number, c[2 * i + 1] as number];
  const centre = through(p(0), p(n >> 1), p(n - 1));
  if (!centre) return null;
  const [cx, cy, r] = centre;
  for (let i = 0; i < n; i++) {
    const [x, y] = p(i);
    if (Math.abs(Math.hypot(x - cx, y - cy) - r) > ROUND * r) return null;
  }
  const [a, b] = [p(0), p(n - 1)];
  const turn = Math.atan2(
    (a[0] - cx) * (b[1] - cy) - (a[1] - cy) * (b[0] - cx),
    (a[0] - cx) * (b[0] - cx) + (a[1] - cy) * (b[1] - cy),
  );
  return Math.abs(turn) >= QUARTER[0] && Math.abs(turn) <= QUARTER[1] ? r : null;
}

type Spot = readonly [number, number];

/** Centre and radius of the circle through three spots. */
function through(a: Spot, b: Spot, c: Spot): readonly [number, number, number] | null {
  const [bx, by] = [b[0] - a[0], b[1] - a[1]];
  const [cx, cy] = [c[0] - a[0], c[1] - a[1]];
  const d = 2 * (bx * cy - by * cx);
  const size = Math.hypot(bx, by) * Math.hypot(cx, cy);
  if (!(Math.abs(d) > 1e-6 * size)) return null;
  const [b2, c2] = [bx * bx + by * by, cx * cx + cy * cy];
  const [x, y] = [(cy * b2 - by * c2) / d, (bx * c2 - cx * b2) / d];
  return [a[0] + x, a[1] + y, Math.hypot(x, y)];
}

/** A unit the drawing may be in, how wide its doors would then be (null without doors), and whether doors are so wide. */
export interface UnitSense {
  readonly unit: NonNullable<StatedUnit>;
  readonly door: number | null;
  readonly likely: boolean;
}

/** What each unit would make of the doors; likely ones are those that give doors of a usual width. */
export function unitSenses(radius: number | null): UnitSense[] {
  return (Object.keys(UNIT_MM) as NonNullable<StatedUnit>[]).map((unit) => {
    const door = radius === null ? null : radius * UNIT_MM[unit];
    const likely = door !== null && door >= DOOR_WIDTHS.least && door <= DOOR_WIDTHS.most;
    return { unit, door, likely };
  });
}

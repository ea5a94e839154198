import type { PictureSpot } from '../../engine/geometry/flattening.ts';
import { polygonArea } from '../../engine/geometry/polygon.ts';
import { lineMeeting } from '../../engine/geometry/segment.ts';
import type { PlanPoint } from '../../engine/model/units.ts';
import type { Grey } from '../proposals/ink.ts';

/** The longest side of the copy in which the sheet is looked for. */
const SMALL = 400;

/**
 * The four corners of a light sheet on a darker ground, from the top left one clockwise, to a fraction of a pixel; null
 * where its edge is not clear all round. The ground is parted from the sheet by the shade that splits the picture best
 * (Otsu 1979), the largest light patch is taken, and each side is then drawn through the steepest change of shade along it.
 */
export function sheetCorners(grey: Grey): readonly PictureSpot[] | null {
  const by = Math.max(1, Math.ceil(Math.max(grey.width, grey.height) / SMALL));
  const small = reduced(grey, by);
  const patch = largestLightPatch(small);
  if (!patch) return null;
  const hull = hullOf(patch.edge);
  const rough = largestQuadrilateral(hull);
  if (!rough || patch.size < 0.9 * Math.abs(polygonArea(rough))) return null;
  // Clockwise on screen, so that without is to the left of each side.
  const sides = rough.map((a, i) => {
    const b = rough[(i + 1) % 4] as PlanPoint;
    return sideOf(grey, scaled(a, by), scaled(b, by), 3 * by);
  });
  if (sides.some((s) => s === null)) return null;
  const corners = sides.map((side, i) => {
    const before = sides[(i + 3) % 4];
    return before && side && lineMeeting(before.at, before.dir, side.at, side.dir, 0.1);
  });
  const spots = corners.filter((c) => c != null).map((c) => c.point);
  return spots.length === 4 ? inOrder(spots).map((c) => spotAt(c.x, c.y)) : null;
}

/** The hull is taken with the geometry of the plan; its numbers are px here. */
const spotAt = (col: number, row: number): PictureSpot => ({ col, row });
const scaled = (p: PlanPoint, by: number): PlanPoint => ({ x: (p.x + 0.5) * by, y: (p.y + 0.5) * by });

/** Every `by` by `by` px as one, their mean. */
function reduced({ width, height, shades }: Grey, by: number): Grey {
  const [w, h] = [Math.floor(width / by), Math.floor(height / by)];
  const out = new Uint8Array(w * h);
  for (let y = 0; y < h; y++)
    for (let x = 0; x < w; x++) {
      let sum = 0;
      for (let dy = 0; dy < by; dy++)
        for (let dx = 0; dx < by; dx++) sum += shades[(y * by + dy) * width + x * by + dx] as number;
      out[y * w + x] = sum / (by * by);
    }
  return { width: w, height: h, shades: out };
}

/** The shade that parts a picture in two with the least spread within each part. */
function partingShade({ shades }: Grey): number {
  const counts = new Float64Array(256);
  for (const s of shades) counts[s] = (counts[s] as number) + 1;
  const total = shades.length;
  let all = 0;
  for (let i = 0; i < 256; i++) all += i * (counts[i] as number);
  let [below, sum, best, at] = [0, 0, -1, 128];
  for (let i = 0; i < 256; i++) {
    below += counts[i] as number;
    sum += i * (counts[i] as number);
    if (below === 0 || below === total) continue;
    const apart = (sum / below - (all - sum) / (total - below)) ** 2 * below * (total - below);
    if (apart > best) [best, at] = [apart, i];
  }
  return at;
}

interface Patch {
  readonly size: number;
  /** Pixels at the ends of each row of it. */
  readonly edge: readonly PlanPoint[];
}

/** How far a light patch is grown and shrunk again, px of the small copy: over the drawing's lines. */
const CLOSE = 2;

/** 1 where the picture is lighter than `limit`, closed over thin dark lines, so that a drawing does not cut its sheet up. */
function closedOver({ width, height, shades }: Grey, limit: number): Uint8Array {
  let now: Uint8Array = shades.map((s) => (s > limit ? 1 : 0));
  for (const grow of [1, 0])
    for (const [dx, dy] of [
      [1, 0],
      [0, 1],
    ] as const) {
      const next = Uint8Array.from(now);
      for (let y = 0; y < height; y++)
        for (let x = 0; x < width; x++)
          for (let k = -CLOSE; k <= CLOSE; k++) {
            const [px, py] = [x + k * dx, y + k * dy];
            if (px < 0 || py < 0 || px >= width || py >= height) continue;
            if (now[py * width + px] === grow) next[y * width + x] = grow;
          }
      now = next;
    }
  return now;
}

/** The largest light patch, holes (the drawing) filled row by row; null where it is small or runs out of the picture. */
function largestLightPatch(grey: Grey): Patch | null {
  const { width, height, shades } = grey;
  const light = closedOver(grey, partingShade(grey));
  const owner = new Int32Array(shades.length).fill(-1);
  let best: number[] = [];
  for (let start = 0; start < shades.length; start++) {
    if (owner[start] !== -1 || !light[start]) continue;
    const patch = [start];
    owner[start] = start;
    for (let i = 0; i < patch.length; i++) {
      const at = patch[i] as number;
      const x = at % width;
      for (const next of [at - width, at + width, x > 0 ? at - 1 : -1, x + 1 < width ? at + 1 : -1]) {
        if (next < 0 || next >= shades.length || owner[next] !== -1 || !light[next]) continue;
        owner[next] = start;
        patch.push(next);
      }
    }
    if (patch.length > best.length) best = patch;
  }
  const left = new Int32Array(height).fill(width);
  const right = new Int32Array(height).fill(-1);
  for (const at of best) {
    const [x, y] = [at % width, Math.floor(at / width)];
    left[y] = Math.min(left[y] as number, x);
    right[y] = Math.max(right[y] as number, x);
  }
  const edge: PlanPoint[] = [];
  let [size, out] = [0, 0];
  for (let y = 0; y < height; y++) {
    if ((right[y] as number) < 0) continue;
    const [from, to] = [left[y] as number, right[y] as number];
    edge.push({ x: from, y }, { x: to, y });
    size += to - from + 1;
    if (from === 0 || to === width - 1 || y === 0 || y === height - 1) out++;
  }
  if (size < 0.12 * width * height || out > 0.02 * edge.length) return null;
  return { size, edge };
}

/** Convex hull, clockwise on screen (Andrew 1979). */
function hullOf(points: readonly PlanPoint[]): PlanPoint[] {
  const sorted = [...points].sort((a, b) => a.x - b.x || a.y - b.y);
  const chain = (from: readonly PlanPoint[]): PlanPoint[] => {
    const out: PlanPoint[] = [];
    for (const p of from) {
      while (out.length >= 2) {
        const [a, b] = [out.at(-2) as PlanPoint, out.at(-1) as PlanPoint];
        if ((b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x) > 0) break;
        out.pop();
      }
      out.push(p);
    }
    out.pop();
    return out;
  };
  return [...chain(sorted), ...chain(sorted.toReversed())];
}

/** The largest four-sided shape with corners of the hull: for each diagonal the farthest corner on either side. */
function largestQuadrilateral(hull: readonly PlanPoint[]): PlanPoint[] | null {
  const n = hull.length;
  let [best, found] = [0, null as PlanPoint[] | null];
  for (let i = 0; i < n; i++)
    for (let k = i + 2; k < n; k++) {
      const [a, c] = [hull[i] as PlanPoint, hull[k] as PlanPoint];
      const off = (p: PlanPoint): number => Math.abs((c.x - a.x) * (p.y - a.y) - (c.y - a.y) * (p.x - a.x));
      const far = (from: number, to: number): PlanPoint | null => {
        let [top, at] = [0, null as PlanPoint | null];
        for (let j = from; j < to; j++) {
          const p = hull[j % n] as PlanPoint;
          if (off(p) > top) [top, at] = [off(p), p];
        }
        return at;
      };
      const [b, d] = [far(i + 1, k), far(k + 1, i + n)];
      if (!b || !d) continue;
      const size = off(b) + off(d);
      if (size > best) [best, found] = [size, [a, b, c, d]];
    }
  return found;
}

/**
 * A side of the sheet through the steepest change of shade near the line a to b, `reach` px either way, at forty places of
 * its middle nine tenths; a line by least squares without the quarter that lies furthest off. Null where it is not steep.
 */
function sideOf(
  grey: Grey,
  a: PlanPoint,
  b: PlanPoint,
  reach: number,
): { readonly at: PlanPoint; readonly dir: PlanPoint } | null {
  const length = Math.hypot(b.x - a.x, b.y - a.y);
  const [ux, uy] = [(b.x - a.x) / length, (b.y - a.y) / length];
  const found: { t: number; off: number }[] = [];
  for (let i = 0; i < 40; i++) {
    const t = length * (0.05 + (0.9 * i) / 39);
    const off = steepest(grey, a.x + ux * t, a.y + uy * t, uy, -ux, reach);
    if (off !== null) found.push({ t, off });
  }
  if (found.length < 30) return null;
  let kept = found;
  for (let turn = 0; turn < 3; turn++) {
    const line = lineThrough(kept);
    const left = (p: { t: number; off: number }): number => Math.abs(p.off - line.at0 - line.slope * p.t);
    kept = [...found].sort((p, q) => left(p) - left(q)).slice(0, Math.ceil(found.length * 0.75));
  }
  const { at0, slope } = lineThrough(kept);
  const steep = Math.hypot(1, slope);
  return {
    at: { x: a.x + uy * at0, y: a.y - ux * at0 },
    dir: { x: (ux + uy * slope) / steep, y: (uy - ux * slope) / steep },
  };
}

function lineThrough(points: readonly { t: number; off: number }[]): { at0: number; slope: number } {
  const n = points.length;
  const t0 = points.reduce((s, p) => s + p.t, 0) / n;
  const o0 = points.reduce((s, p) => s + p.off, 0) / n;
  let [xy, xx] = [0, 0];
  for (const p of points) {
    xy += (p.t - t0) * (p.off - o0);
    xx += (p.t - t0) ** 2;
  }
  const slope = xx > 0 ? xy / xx : 0;
  return { at0: o0 - slope * t0, slope };
}

/** How many px on either side of an edge are compared, so that a thin line of the drawing is not taken for it. */
const BESIDE = 4;

/**
 * Where the shade changes most from within (against the normal) to without along a line through (x, y), to a fraction of a
 * px; null where it hardly does.
 */
function steepest(grey: Grey, x: number, y: number, nx: number, ny: number, reach: number): number | null {
  const shades: number[] = [];
  for (let off = -reach - BESIDE; off <= reach + BESIDE; off++) {
    const [col, row] = [Math.round(x + nx * off - 0.5), Math.round(y + ny * off - 0.5)];
    if (col < 0 || row < 0 || col >= grey.width || row >= grey.height) return null;
    shades.push(grey.shades[row * grey.width + col] as number);
  }
  const mean = (from: number): number => {
    let sum = 0;
    for (let i = from; i < from + BESIDE; i++) sum += shades[i] as number;
    return sum / BESIDE;
  };
  let [top, best] = [20, -1];
  for (let i = BESIDE; i + BESIDE < shades.length; i++) {
    const step = mean(i - BESIDE) - mean(i + 1);
    if (step > top) [top, best] = [step, i];
  }
  if (best < 0) return null;
  // Where the shade passes half way between the two sides: each px counts by how much of it is within.
  const [light, dark] = [mean(best - BESIDE), mean(best + 1)];
  let within = 0;
  for (let i = best - 2; i <= best + 2; i++) {
    const share = ((shades[i] as number) - dark) / (light - dark);
    within += Math.min(1, Math.max(0, share));
  }
  return best - 2 + within - 0.5 - reach - BESIDE;
}

/** From the corner nearest the picture's top left, clockwise on screen. */
function inOrder(corners: readonly PlanPoint[]): PlanPoint[] {
  const turn = corners.reduce((sum, p, i) => {
    const q = corners[(i + 1) % 4] as PlanPoint;
    return sum + p.x * q.y - q.x * p.y;
  }, 0);
  const round = turn > 0 ? [...corners] : corners.toReversed();
  let first = 0;
  round.forEach((p, i) => {
    const best = round[first] as PlanPoint;
    if (p.x + p.y < best.x + best.y) first = i;
  });
  return [...round.slice(first), ...round.slice(0, first)];
}

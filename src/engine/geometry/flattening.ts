import type { Mm, PlanPoint, Px } from '../model/units.ts';
import { choleskyInverse, choleskyOf, choleskySolve, normalEquations } from './leastSquares.ts';
import type { Matrix } from './leastSquares.ts';
import { seenAt, seenDerivatives } from './seen.ts';
import type { View } from './seen.ts';

/** A place on a picture, px from its top left corner: `col` to the right, `row` down. */
export interface PictureSpot {
  readonly col: Px;
  readonly row: Px;
}

/** A spot of the picture whose place on the flat thing photographed (a sheet, a wall) is known, mm. */
export interface FlatMark {
  readonly at: PictureSpot;
  readonly flat: PlanPoint;
}

/** How far off a mark on a picture may be, one standard deviation. Own estimate: half a pixel, at full zoom. */
export const MARK_SD: Px = 0.5;

/**
 * How strongly the lens may bow the picture's corners, one standard deviation as a share of their distance from the
 * middle. Own estimate: phones straighten most of it themselves. Below `LENS_MARKS` marks it only widens the ±.
 */
export const LENS_SD = 0.01;
/** As wide open as any phone needs once there are marks enough to find the bow. */
const LENS_SD_FREE = 0.05;
export const LENS_MARKS = 6;

/** How a flat thing lies in a photograph of it: fitted by least squares of the marks' distances on the picture. */
export interface Flattening {
  readonly view: View;
  /** Of the eight numbers of the perspective and the bow of the lens, in the view's own scale. */
  readonly covariance: Matrix;
  /** px, one standard deviation of a mark: `MARK_SD`, or more where the marks disagree by more. */
  readonly markSd: Px;
  /** Distance of each mark from where the fit puts it, on the flat thing, mm. All 0 with four marks. */
  readonly residuals: readonly Mm[];
}

export type FlatteningResult =
  { readonly ok: true; readonly flattening: Flattening } | { readonly ok: false; readonly reason: string };

const no = (reason: string): FlatteningResult => ({ ok: false, reason });

/** Start of the fit: the eight numbers by the linear equations h·X - w(h·Z) = 0, in normalised coordinates. */
function linearStart(view: View, marks: readonly FlatMark[]): number[] | null {
  const rows: number[][] = [];
  const right: number[] = [];
  for (const { at, flat } of marks) {
    const x = (flat.x - view.flatX) / view.flatScale;
    const y = (flat.y - view.flatY) / view.flatScale;
    const p = (at.col - view.centreCol) / view.radius;
    const q = (at.row - view.centreRow) / view.radius;
    rows.push([x, y, 1, 0, 0, 0, -p * x, -p * y], [0, 0, 0, x, y, 1, -q * x, -q * y]);
    right.push(p, q);
  }
  const normal = normalEquations(rows, right);
  const low = choleskyOf(normal.matrix, 1e-13);
  return low && choleskySolve(low, normal.right);
}

/** All marks lie on the same side of the horizon, so one camera can have seen them all. */
const inFront = (view: View, marks: readonly FlatMark[]): boolean =>
  marks.every((m) => seenAt(view, m.flat) !== null);

/** Residuals (picture, in the view's scale) and their derivatives, with a last row that holds the bow near 0. */
function equations(
  view: View,
  marks: readonly FlatMark[],
  lensWeight: number,
): { readonly rows: number[][]; readonly off: number[] } {
  const rows: number[][] = [];
  const off: number[] = [];
  for (const m of marks) {
    const d = seenDerivatives(view, m.flat);
    rows.push(d.colBy, d.rowBy);
    off.push((m.at.col - d.col) / view.radius, (m.at.row - d.row) / view.radius);
  }
  rows.push([0, 0, 0, 0, 0, 0, 0, 0, lensWeight]);
  off.push(-lensWeight * view.bow);
  return { rows, off };
}

const squares = (values: readonly number[]): number => values.reduce((sum, v) => sum + v * v, 0);

/** Gauss-Newton with a step that is halved until it helps. */
function refined(start: View, marks: readonly FlatMark[], lensWeight: number): View | null {
  let view = start;
  let now = equations(view, marks, lensWeight);
  for (let turn = 0; turn < 50; turn++) {
    const normal = normalEquations(now.rows, now.off);
    const low = choleskyOf(normal.matrix, 1e-15);
    if (!low) return null;
    const step = choleskySolve(low, normal.right);
    let share = 1;
    let next: View | null = null;
    for (; share > 1e-6; share /= 2) {
      const tried: View = {
        ...view,
        h: view.h.map((v, i) => v + share * (step[i] as number)),
        bow: view.bow + share * (step[8] as number),
      };
      if (!inFront(tried, marks)) continue;
      const then = equations(tried, marks, lensWeight);
      if (squares(then.off) <= squares(now.off)) {
        next = tried;
        now = then;
        break;
      }
    }
    if (!next) return view;
    view = next;
    if (share * Math.sqrt(squares(step)) < 1e-14) break;
  }
  return view;
}

/** Why four marks cannot be corners: three in one line, or another turn on the picture than on the flat; else null. */
function quadrilateralProblem(marks: readonly FlatMark[]): string | null {
  if (marks.length !== 4) return null;
  const turn = (a: PlanPoint, b: PlanPoint, c: PlanPoint): number =>
    (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
  const spots = marks.map((m) => ({ x: m.at.col, y: m.at.row }));
  let order = true;
  for (let skip = 0; skip < 4; skip++) {
    const three = [0, 1, 2, 3].filter((i) => i !== skip) as [number, number, number];
    const [a, b, c] = three;
    const onPicture = turn(spots[a] as PlanPoint, spots[b] as PlanPoint, spots[c] as PlanPoint);
    const [fa, fb, fc] = [marks[a]?.flat, marks[b]?.flat, marks[c]?.flat] as [
      PlanPoint,
      PlanPoint,
      PlanPoint,
    ];
    const onFlat = turn(fa, fb, fc);
    if (Math.abs(onPicture) < 1 || Math.abs(onFlat) < 1e-6)
      return 'Three of the marks lie in one line: take corners that do not.';
    order &&= onPicture > 0 === onFlat > 0;
  }
  return order
    ? null
    : 'The corners are not in order: go round them one after the other, in the same turn as on the drawing.';
}

/**
 * Fits how a flat thing lies in a picture of `width` by `height` px from at least four marks. The perspective is eight
 * numbers; the bow of the lens is one more, held near none by `LENS_SD` and let go from `LENS_MARKS` marks on. Errors
 * are taken on the picture, where they are made. A value with a reason where the marks cannot be a flat thing seen once.
 */
export function fitFlattening(
  marks: readonly FlatMark[],
  width: Px,
  height: Px,
  markSd: Px = MARK_SD,
): FlatteningResult {
  if (marks.length < 4) return no('Four marks are needed at least.');
  const values = marks.flatMap((m) => [m.at.col, m.at.row, m.flat.x, m.flat.y]);
  if (!values.every(Number.isFinite)) return no('A mark is not a number.');
  const crossed = quadrilateralProblem(marks);
  if (crossed) return no(crossed);
  const n = marks.length;
  const flatX = marks.reduce((s, m) => s + m.flat.x, 0) / n;
  const flatY = marks.reduce((s, m) => s + m.flat.y, 0) / n;
  const flatScale = Math.sqrt(
    marks.reduce((s, m) => s + (m.flat.x - flatX) ** 2 + (m.flat.y - flatY) ** 2, 0) / n,
  );
  if (!(flatScale > 0)) return no('The marks all lie on one spot.');
  const empty: View = {
    h: [0, 0, 0, 0, 0, 0, 0, 0],
    bow: 0,
    centreCol: width / 2,
    centreRow: height / 2,
    radius: Math.hypot(width, height) / 2,
    flatX,
    flatY,
    flatScale,
  };
  const h = linearStart(empty, marks);
  if (!h) return no('The marks lie in one line, or on too few spots, to show how the picture is tilted.');
  const start = { ...empty, h };
  if (!inFront(start, marks)) return no('No camera can have seen the marks so: look at their order.');
  const sd = markSd / empty.radius;
  const lensWeight = sd / (n >= LENS_MARKS ? LENS_SD_FREE : LENS_SD);
  const view = refined(start, marks, lensWeight);
  if (!view) return no('The marks do not hold the picture: take some that lie further apart.');
  return { ok: true, flattening: withErrors(view, marks, lensWeight, markSd) };
}

function withErrors(view: View, marks: readonly FlatMark[], lensWeight: number, markSd: Px): Flattening {
  const { rows, off } = equations(view, marks, lensWeight);
  const free = 2 * marks.length - 8 - (marks.length >= LENS_MARKS ? 1 : 0);
  const seen = free > 0 ? Math.sqrt(squares(off) / free) * view.radius : 0;
  const used = Math.max(markSd, seen);
  const low = choleskyOf(normalEquations(rows, off).matrix, 0);
  const unit = low ? choleskyInverse(low) : rows.map(() => new Array<number>(9).fill(Infinity));
  const variance = (used / view.radius) ** 2;
  const first: Flattening = {
    view,
    covariance: unit.map((row) => row.map((v) => v * variance)),
    markSd: used,
    residuals: [],
  };
  const residuals = marks.map((m) => {
    const d = seenDerivatives(view, m.flat);
    const inverse = inverted(d.byFlat);
    const col = m.at.col - d.col;
    const row = m.at.row - d.row;
    return Math.hypot(inverse[0] * col + inverse[1] * row, inverse[2] * col + inverse[3] * row);
  });
  return { ...first, residuals };
}

type Four = readonly [number, number, number, number];

function inverted([a, b, c, d]: Four): Four {
  const det = a * d - b * c;
  return [d / det, -b / det, -c / det, a / det];
}

/** Where a spot of the picture lies on the flat thing, mm; null at or beyond the horizon, or where the lens folds. */
export function flatOf(f: Flattening, spot: PictureSpot): PlanPoint | null {
  const { view } = f;
  const start = unbowed(view, spot);
  if (!start) return null;
  const [a, b, c, d, e, g, i, j] = view.h as [number, number, number, number, number, number, number, number];
  const { p, q } = start;
  // Two lines in x and y: (a - p i) x + (b - p j) y = p - c, and the same for q.
  const inverse = inverted([a - p * i, b - p * j, d - q * i, e - q * j]);
  const x = inverse[0] * (p - c) + inverse[1] * (q - g);
  const y = inverse[2] * (p - c) + inverse[3] * (q - g);
  if (!Number.isFinite(x) || !Number.isFinite(y) || i * x + j * y + 1 <= 1e-9) return null;
  return { x: view.flatX + x * view.flatScale, y: view.flatY + y * view.flatScale };
}

/** The picture spot as a lens without bow would have shown it, in the view's scale from the middle. */
function unbowed(view: View, spot: PictureSpot): { readonly p: number; readonly q: number } | null {
  const p = (spot.col - view.centreCol) / view.radius;
  const q = (spot.row - view.centreRow) / view.radius;
  const seen = Math.hypot(p, q);
  let r = seen;
  for (let turn = 0; turn < 30; turn++) {
    const slope = 1 + 3 * view.bow * r * r;
    if (slope <= 0) return null;
    const step = (r + view.bow * r * r * r - seen) / slope;
    r -= step;
    if (Math.abs(step) < 1e-15) break;
  }
  const by = seen === 0 ? 1 : r / seen;
  return { p: p * by, q: q * by };
}

/** Where a place of the flat thing is seen on the picture, px; null where the camera cannot see it. */
export function spotOf(f: Flattening, flat: PlanPoint): PictureSpot | null {
  return seenAt(f.view, flat);
}

/** Derivatives of a measured flat place: by the fit's nine numbers (two rows) and by its own mark. */
function placeDerivatives(
  f: Flattening,
  flat: PlanPoint,
): { readonly by: [number[], number[]]; readonly own: Four } {
  const d = seenDerivatives(f.view, flat);
  const own = inverted(d.byFlat);
  const { radius } = f.view;
  const along = (first: number, second: number): number[] =>
    d.colBy.map((v, i) => -(first * v + second * (d.rowBy[i] as number)) * radius);
  return { by: [along(own[0], own[1]), along(own[2], own[3])], own };
}

const quadratic = (m: Matrix, a: readonly number[], b: readonly number[]): number =>
  m.reduce((sum, row, i) => sum + (a[i] as number) * row.reduce((s, v, j) => s + v * (b[j] as number), 0), 0);

/** ± of a place marked on the picture, mm, in its worst direction: two standard deviations. */
export function placeError(f: Flattening, flat: PlanPoint): Mm {
  const { by, own } = placeDerivatives(f, flat);
  const mark = f.markSd ** 2;
  const xx = quadratic(f.covariance, by[0], by[0]) + mark * (own[0] ** 2 + own[1] ** 2);
  const yy = quadratic(f.covariance, by[1], by[1]) + mark * (own[2] ** 2 + own[3] ** 2);
  const xy = quadratic(f.covariance, by[0], by[1]) + mark * (own[0] * own[2] + own[1] * own[3]);
  return 2 * Math.sqrt((xx + yy) / 2 + Math.hypot((xx - yy) / 2, xy));
}

/** ± of a length measured between two places marked on the picture, mm: two standard deviations. */
export function lengthError(f: Flattening, a: PlanPoint, b: PlanPoint): Mm {
  const length = Math.hypot(b.x - a.x, b.y - a.y);
  if (length === 0) return placeError(f, a);
  const [ux, uy] = [(b.x - a.x) / length, (b.y - a.y) / length];
  const [da, db] = [placeDerivatives(f, a), placeDerivatives(f, b)];
  const by = da.by[0].map(
    (_, i) =>
      ux * ((db.by[0][i] as number) - (da.by[0][i] as number)) +
      uy * ((db.by[1][i] as number) - (da.by[1][i] as number)),
  );
  const marks = [da.own, db.own].reduce(
    (sum, own) => sum + (ux * own[0] + uy * own[2]) ** 2 + (ux * own[1] + uy * own[3]) ** 2,
    0,
  );
  return 2 * Math.sqrt(quadratic(f.covariance, by, by) + f.markSd ** 2 * marks);
}

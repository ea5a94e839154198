import type { KnownLength, Straighten, StraightenMark, TracingSource } from '../model/tracing.ts';
import type { Mm, PlanPoint, Px } from '../model/units.ts';
import type { Flattening, FlatteningResult, PictureSpot } from './flattening.ts';
import { fitFlattening, flatOf, lengthError, spotOf } from './flattening.ts';
import { polygonArea } from './polygon.ts';
import type { SourcePoint } from './tracing.ts';

export type PictureSource = Extract<TracingSource, { readonly kind: 'picture' }>;

/** How a photograph lies, fitted to its marks, or why they cannot be a flat thing seen once. */
export function fitStraighten(s: Straighten): FlatteningResult {
  return fitFlattening(
    s.marks.map((m) => ({ at: { col: m.col, row: m.row }, flat: { x: m.x, y: m.y } })),
    s.pictureWidth,
    s.pictureHeight,
    s.markSd,
  );
}

/** The same; null where the marks hold nothing. */
export function flatteningOf(s: Straighten): Flattening | null {
  const result = fitStraighten(s);
  return result.ok ? result.flattening : null;
}

/** mm of the flat thing to a pixel of the photograph, in the mean over what the marks enclose. */
export function grainOf(s: Straighten): Mm {
  const flat = polygonArea(s.marks.map((m) => ({ x: m.x, y: m.y })));
  // Geometry of the plan, its numbers px here.
  const seen = polygonArea(s.marks.map((m) => ({ x: m.col as number, y: m.row as number })));
  return Math.sqrt(Math.abs(flat / seen));
}

/** Where a pixel of the photograph is on the straightened picture, mm from its top left corner; null past the horizon. */
export function straightenedSpot(s: Straighten, pixel: SourcePoint): SourcePoint | null {
  const f = flatteningOf(s);
  const flat = f && flatOf(f, { col: pixel.x, row: pixel.y });
  return flat && { x: flat.x - s.left, y: flat.y - s.top };
}

/** Where a spot of the straightened picture is on the photograph, px; null where the camera cannot see it. */
export function photographSpot(s: Straighten, at: SourcePoint): SourcePoint | null {
  const f = flatteningOf(s);
  const spot = f && spotOf(f, { x: at.x + s.left, y: at.y + s.top });
  return spot && { x: spot.col, y: spot.row };
}

/** A known length carried from one way of showing a picture to another; null where an end cannot be seen there. */
export function carriedLength(
  known: KnownLength,
  from: Straighten | null,
  to: Straighten | null,
): KnownLength | null {
  const carried = (p: SourcePoint): SourcePoint | null => {
    const pixel = from ? photographSpot(from, p) : p;
    return pixel && to ? straightenedSpot(to, pixel) : pixel;
  };
  const [a, b] = [carried({ x: known.ax, y: known.ay }), carried({ x: known.bx, y: known.by })];
  return a && b && { ax: a.x, ay: a.y, bx: b.x, by: b.y, length: known.length };
}

/** The length that a straightened picture is judged by: a wall of a room. Own choice. */
export const JUDGED_LENGTH: Mm = 4000;

/**
 * ± mm in each metre that a straightened picture adds to what is traced over it: of a length of 4 m of the building (or the
 * longest that it shows), laid from each corner of what is shown, and each mark, towards each other, the worst; two standard
 * deviations. `mmPerUnit` is mm of the building for each mm of the flat thing.
 */
export function straightenError(s: Straighten, mmPerUnit: number): Mm {
  const f = flatteningOf(s);
  if (!f) return Infinity;
  const box = [
    { x: s.left, y: s.top },
    { x: s.left + s.width, y: s.top },
    { x: s.left + s.width, y: s.top + s.height },
    { x: s.left, y: s.top + s.height },
  ];
  const corners = [...box.filter((c) => inPicture(s, spotOf(f, c))), ...s.marks];
  let worst = 0;
  for (const a of corners)
    for (const b of corners) {
      const whole = Math.hypot(b.x - a.x, b.y - a.y);
      if (whole === 0) continue;
      const length = Math.min(whole, JUDGED_LENGTH / mmPerUnit);
      const end = { x: a.x + ((b.x - a.x) * length) / whole, y: a.y + ((b.y - a.y) * length) / whole };
      worst = Math.max(worst, errorPerMetre(f, a, end));
    }
  return worst;
}

const inPicture = (s: Straighten, spot: PictureSpot | null): boolean =>
  spot !== null &&
  spot.col >= 0 &&
  spot.row >= 0 &&
  spot.col <= s.pictureWidth &&
  spot.row <= s.pictureHeight;

function errorPerMetre(f: Flattening, a: PlanPoint, b: PlanPoint): Mm {
  return (1000 * lengthError(f, a, b)) / Math.hypot(b.x - a.x, b.y - a.y);
}

/** The four corners of a rectangle of `width` by `height` mm, marked on a photograph from the top left one, clockwise. */
export function rectangleMarks(
  corners: readonly SourcePoint[],
  width: Mm,
  height: Mm,
): readonly StraightenMark[] {
  const flat = [
    { x: 0, y: 0 },
    { x: width, y: 0 },
    { x: width, y: height },
    { x: 0, y: height },
  ];
  return corners.map((c, i) => ({ col: c.x, row: c.y, ...(flat[i] as SourcePoint) }));
}

/** How much is shown about a rectangle of the drawing, as a share of its size on each side. Own choice: the rooms about one. */
const AROUND = 1.5;

/**
 * How to show a photograph of which the four corners of a sheet of paper, or of something rectangular on the drawing, are
 * marked. A sheet is shown to its edges, a rectangle with what is round it, as far as the picture goes.
 */
export function straightenBy(
  by: Straighten['by'],
  corners: readonly SourcePoint[],
  size: { readonly width: Mm; readonly height: Mm },
  picture: { readonly width: Px; readonly height: Px },
  markSd: Px,
): Straighten {
  const whole: Straighten = {
    by,
    marks: rectangleMarks(corners, size.width, size.height),
    markSd,
    pictureWidth: picture.width,
    pictureHeight: picture.height,
    left: 0,
    top: 0,
    width: size.width,
    height: size.height,
  };
  return by === 'sheet' ? whole : { ...whole, ...shownAround(whole) };
}

/** The box of what the picture's edge shows of the flat thing, no further round the marks than `AROUND`. */
function shownAround(s: Straighten): Pick<Straighten, 'left' | 'top' | 'width' | 'height'> {
  const [w, h] = [s.pictureWidth, s.pictureHeight];
  const edge = [
    { x: 0, y: 0 },
    { x: w, y: 0 },
    { x: w, y: h },
    { x: 0, y: h },
  ].map((p) => straightenedSpot(s, p));
  const reach = (axis: 'x' | 'y', size: Mm): readonly [Mm, Mm] => {
    const seen = edge.map((p) => p?.[axis]);
    // A corner past the horizon shows no end: as far as is shown at all.
    const known = seen.filter((v) => v !== undefined);
    const all = known.length === edge.length;
    const low = all ? Math.max(-AROUND * size, Math.min(...known)) : -AROUND * size;
    const high = all ? Math.min((1 + AROUND) * size, Math.max(...known)) : (1 + AROUND) * size;
    return [Math.min(0, low), Math.max(size, high)];
  };
  const [left, right] = reach('x', s.width);
  const [top, bottom] = reach('y', s.height);
  return { left, top, width: right - left, height: bottom - top };
}

import type { Mm, PlanPoint, Px } from '../model/units.ts';
import type { FlatMark, PictureSpot } from './flattening.ts';

/** A line drawn on a picture along something straight, px. */
export interface PictureLine {
  readonly a: PictureSpot;
  readonly b: PictureSpot;
}

/** A line of the picture whose true length is known, mm. */
export interface PictureLength extends PictureLine {
  readonly length: Mm;
}

export type HorizonResult =
  | {
      readonly ok: true;
      /** Four spots of the picture with their true places, from which the flattening is fitted as from any corners. */
      readonly marks: readonly FlatMark[];
      /** How far each known length is from what the marks make of it, as a share of it. All but 0 where none is spare. */
      readonly residuals: readonly number[];
    }
  | { readonly ok: false; readonly reason: string };

type Homogeneous = readonly [number, number, number];

const cross = (a: Homogeneous, b: Homogeneous): Homogeneous => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
const dot = (a: Homogeneous, b: Homogeneous): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const unit = (a: Homogeneous): Homogeneous => {
  const n = Math.sqrt(dot(a, a));
  return [a[0] / n, a[1] / n, a[2] / n];
};

/** Two parallels this near to parallel on the picture (sine of their angle) meet too far off to tell the lens. */
const FLAT_ON = 0.01;

/**
 * The true shape of a flat thing from two pairs of parallels that are square to each other (walls, say) and one or two
 * known lengths. Each pair meets in a vanishing point; the two tell how the picture is tilted and, when both are near
 * enough, the lens's focal length (square pixels, its axis in the picture's middle), so that one known length is enough.
 * Where a pair stays parallel on the picture, two lengths in different directions are needed. Distances in px of the
 * picture are scaled by half its diagonal within.
 */
export function horizonMarks(
  across: readonly [PictureLine, PictureLine],
  along: readonly [PictureLine, PictureLine],
  lengths: readonly PictureLength[],
  width: Px,
  height: Px,
): HorizonResult {
  if (lengths.length === 0) return { ok: false, reason: 'One length on the picture must be known.' };
  const radius = Math.hypot(width, height) / 2;
  const seen = (s: PictureSpot): Homogeneous => [
    (s.col - width / 2) / radius,
    (s.row - height / 2) / radius,
    1,
  ];
  const lineOf = (l: PictureLine): Homogeneous => unit(cross(seen(l.a), seen(l.b)));
  const [v1, v2] = [across, along].map(([p, q]) => cross(lineOf(p), lineOf(q))) as [Homogeneous, Homogeneous];
  const size = (v: Homogeneous): number => Math.sqrt(dot(v, v));
  if (size(v1) < 1e-9 || size(v2) < 1e-9)
    return { ok: false, reason: 'The two lines of a pair lie on one another: draw them further apart.' };
  const [u1, u2] = [
    towards(unit(v1), lineEnds(across[0], seen)),
    towards(unit(v2), lineEnds(along[0], seen)),
  ];
  const turn = dot(cross(u1, u2), [0, 0, 1]);
  if (Math.abs(turn) < 1e-4)
    return {
      ok: false,
      reason: 'The two pairs run the same way on the picture: one must be square to the other.',
    };
  const ratio = axesRatio(u1, u2);
  return scaled(u1, u2, ratio, lengths, seen, radius, width, height);
}

const lineEnds = (
  l: PictureLine,
  seen: (s: PictureSpot) => Homogeneous,
): readonly [Homogeneous, Homogeneous] => [seen(l.a), seen(l.b)];

/** The vanishing point signed so that going along the axis moves on the picture the way its first line was drawn. */
function towards(v: Homogeneous, [a, b]: readonly [Homogeneous, Homogeneous]): Homogeneous {
  // From spot a the picture moves along v - a v_w.
  const moved = (v[0] - a[0] * v[2]) * (b[0] - a[0]) + (v[1] - a[1] * v[2]) * (b[1] - a[1]);
  return moved >= 0 ? v : [-v[0], -v[1], -v[2]];
}

/** mm of the second axis for one of the first, from the lens's axis in the middle; null where the lens can't be told. */
function axesRatio(u1: Homogeneous, u2: Homogeneous): number | null {
  const near = (u: Homogeneous): boolean => Math.abs(u[2]) > FLAT_ON * Math.hypot(u[0], u[1]);
  if (!near(u1) || !near(u2)) return null;
  const focal2 = -(u1[0] * u2[0] + u1[1] * u2[1]) / (u1[2] * u2[2]);
  // Half a diagonal is a field of view of 90° across corners; no phone is wider than 125° or longer than 12° so.
  if (!(focal2 > 0.27 && focal2 < 90)) return null;
  const true1 = Math.sqrt((u1[0] ** 2 + u1[1] ** 2) / focal2 + u1[2] ** 2);
  const true2 = Math.sqrt((u2[0] ** 2 + u2[1] ** 2) / focal2 + u2[2] ** 2);
  return true1 / true2;
}

/** Flat place of a spot when one unit of each axis is 1: the picture is (x u1 + y u2 + o). */
function flatUnits(u1: Homogeneous, u2: Homogeneous, o: Homogeneous, p: Homogeneous): PlanPoint {
  const depth = dot(cross(u1, u2), p);
  return { x: -dot(cross(u2, p), o) / depth, y: -dot(cross(p, u1), o) / depth };
}

function scaled(
  u1: Homogeneous,
  u2: Homogeneous,
  ratio: number | null,
  lengths: readonly PictureLength[],
  seen: (s: PictureSpot) => Homogeneous,
  radius: number,
  width: Px,
  height: Px,
): HorizonResult {
  const o = middleOf(lengths, seen);
  const spans = lengths.map((l) => {
    const [a, b] = [flatUnits(u1, u2, o, seen(l.a)), flatUnits(u1, u2, o, seen(l.b))];
    return { x: (b.x - a.x) ** 2, y: (b.y - a.y) ** 2, length: l.length };
  });
  // length² = sx² x + sy² y: least squares, relative to each length, of one unknown or two.
  const [sx2, sy2] = ratio === null ? twoScales(spans) : oneScale(spans, ratio);
  if (!(sx2 > 0) || !(sy2 > 0) || !Number.isFinite(sx2 + sy2))
    return {
      ok: false,
      reason:
        ratio === null
          ? 'A pair is all but parallel on the picture: two known lengths are needed, one each way.'
          : 'The known length does not fit the lines.',
    };
  const [sx, sy] = [Math.sqrt(sx2), Math.sqrt(sy2)];
  const residuals = spans.map((s) => Math.sqrt(sx2 * s.x + sy2 * s.y) / s.length - 1);
  const reach = reachOf(lengths, u1, u2, o, seen);
  const marks = [
    [reach.x0, reach.y0],
    [reach.x1, reach.y0],
    [reach.x1, reach.y1],
    [reach.x0, reach.y1],
  ].map(([x, y]) => {
    const p = [0, 1, 2].map(
      (i) => (x as number) * (u1[i] as number) + (y as number) * (u2[i] as number) + (o[i] as number),
    ) as unknown as Homogeneous;
    return {
      at: { col: width / 2 + (radius * p[0]) / p[2], row: height / 2 + (radius * p[1]) / p[2] },
      flat: { x: (x as number) * sx, y: (y as number) * sy },
    };
  });
  return { ok: true, marks, residuals };
}

/** Middle of the known lengths, as a spot seen: the origin of the flat places, in front of the camera for certain. */
function middleOf(lengths: readonly PictureLength[], seen: (s: PictureSpot) => Homogeneous): Homogeneous {
  const ends = lengths.flatMap((l) => [seen(l.a), seen(l.b)]);
  const mean = (i: 0 | 1): number => ends.reduce((s, e) => s + e[i], 0) / ends.length;
  return [mean(0), mean(1), 1];
}

/** The box of the known lengths' ends in flat units, never thinner than a third of its length. */
function reachOf(
  lengths: readonly PictureLength[],
  u1: Homogeneous,
  u2: Homogeneous,
  o: Homogeneous,
  seen: (s: PictureSpot) => Homogeneous,
): { x0: number; x1: number; y0: number; y1: number } {
  const ends = lengths.flatMap((l) => [l.a, l.b]).map((s) => flatUnits(u1, u2, o, seen(s)));
  const [xs, ys] = [ends.map((e) => e.x), ends.map((e) => e.y)];
  const box = { x0: Math.min(...xs), x1: Math.max(...xs), y0: Math.min(...ys), y1: Math.max(...ys) };
  const least = Math.max(box.x1 - box.x0, box.y1 - box.y0) / 3;
  const widened = (low: number, high: number): readonly [number, number] =>
    high - low >= least ? [low, high] : [(low + high - least) / 2, (low + high + least) / 2];
  const [x0, x1] = widened(box.x0, box.x1);
  const [y0, y1] = widened(box.y0, box.y1);
  return { x0, x1, y0, y1 };
}

interface Span {
  readonly x: number;
  readonly y: number;
  readonly length: Mm;
}

function oneScale(spans: readonly Span[], ratio: number): readonly [number, number] {
  let top = 0;
  let bottom = 0;
  for (const s of spans) {
    const v = (s.x + s.y / ratio ** 2) / s.length ** 2;
    top += v;
    bottom += v * v;
  }
  return [top / bottom, top / bottom / ratio ** 2];
}

function twoScales(spans: readonly Span[]): readonly [number, number] {
  let [xx, xy, yy, x1, y1] = [0, 0, 0, 0, 0];
  for (const s of spans) {
    const [a, b] = [s.x / s.length ** 2, s.y / s.length ** 2];
    xx += a * a;
    xy += a * b;
    yy += b * b;
    x1 += a;
    y1 += b;
  }
  const det = xx * yy - xy * xy;
  if (Math.abs(det) < 1e-6 * xx * yy) return [NaN, NaN];
  return [(x1 * yy - y1 * xy) / det, (y1 * xx - x1 * xy) / det];
}

import { segmentCrossing, segmentNearest } from '../engine/geometry/segment.ts';
import type { Mm, PlanPoint, Px } from '../engine/model/units.ts';
import type { PlanShapes } from './planShapes.ts';
import type { DrawnStroke } from './drawn.ts';
import type { PreviewMark } from './types.ts';

/** Where a place on the plan was drawn to, and why. */
export interface Snap {
  readonly at: PlanPoint;
  /** "End of wall", "Level, wall face"; null when nothing was near. */
  readonly label: string | null;
  /** Guide lines that show the reason. */
  readonly marks: readonly PreviewMark[];
}

export interface SnapOptions {
  /** Screen pixels per mm, and how near counts. */
  readonly scale: number;
  readonly tolerance: Px;
  /** The last corner of what is drawn: gives level, plumb and square lines and round lengths. */
  readonly from?: PlanPoint | null;
  /** Unit direction of the wall before, to be square to. */
  readonly square?: PlanPoint | null;
  /**
   * What is drawn is a wall: no snap makes it barely off level, plumb or square to the one before, but for the corner
   * that closes a chain and an end of a wall that the pointer is nearer to than to the straight line.
   */
  readonly upright?: boolean;
  /** More places to snap to, such as the first corner of a chain. */
  readonly extra?: readonly { readonly at: PlanPoint; readonly label: string }[];
  /** Lines of a tracing near the pointer. */
  readonly drawn?: readonly DrawnStroke[];
  /** Nodes and walls that are being moved themselves. */
  readonly without?: ReadonlySet<string>;
  /** Snapping turned off, or held off with Alt. */
  readonly off?: boolean;
}

interface Spot {
  readonly at: PlanPoint;
  readonly label: string;
  readonly rank: number;
  /** One of the extra places asked for. */
  readonly asked: boolean;
}
interface Line {
  readonly a: PlanPoint;
  readonly dir: PlanPoint;
  /** mm along `dir` between which it holds. */
  readonly low: Mm;
  readonly high: Mm;
  readonly label: string;
  readonly rank: number;
  /** Worth a guide line from its source. */
  readonly source: PlanPoint | null;
  readonly fromLast: boolean;
}

/** Directions this near to level, plumb or square are taken as meant so (radians, about 6°). */
const NEARLY = 0.105;

/** A wall so far off level, plumb or square is a slip and not a slant (radians: 0.3° to 3°). */
const BARELY: readonly [number, number] = [(0.3 * Math.PI) / 180, (3 * Math.PI) / 180];

/**
 * The place meant by a pointer at `p`: an end, crossing or middle of a wall first; else where two of the near lines
 * meet (level, plumb and square from the last corner, wall faces, centre lines, in line with a corner); else the nearest
 * of these lines; else round millimetres. Exact: no distance is accumulated from move to move.
 */
export function snapPlan(shapes: PlanShapes, p: PlanPoint, options: SnapOptions): Snap {
  const step = roundStep(options.scale);
  const reach = options.tolerance / options.scale;
  if (options.off) return { at: { x: Math.round(p.x), y: Math.round(p.y) }, label: null, marks: [] };
  const lines = linesNear(shapes, p, reach, options);
  const straight = options.upright
    ? (byRank(
        lines.filter((l) => l.fromLast),
        p,
      )[0] ?? null)
    : null;
  const slips = (at: PlanPoint) => options.upright === true && barelyOff(at, options);
  const spots = spotsNear(shapes, p, reach * 1.3, options).filter(
    (s) =>
      s.asked ||
      !slips(s.at) ||
      (s.rank === 0 && (straight === null || distance(s.at, p) < away(straight, p))),
  );
  const spot = bestSpot(spots, p);
  if (spot) return { at: spot.at, label: spot.label, marks: [{ kind: 'spot', at: spot.at, look: 'snap' }] };
  // Held straight, what counts as near is near to where the line comes, not to a pointer that strays beside it.
  const foot = straight === null ? null : onLine(straight, p, null);
  const pair =
    bestMeeting(lines, p, reach * 1.5, slips) ??
    (foot && straight
      ? bestMeeting(
          [straight, ...linesNear(shapes, foot, reach, { ...options, from: null })],
          foot,
          reach * 1.5,
          slips,
        )
      : null);
  if (pair) return { at: pair.at, label: labelOf(pair.lines), marks: marksOf(pair.at, pair.lines) };
  for (const line of byRank(lines, p)) {
    const at = line.rank === 4 ? inLine(line, p, step) : onLine(line, p, line.fromLast ? step : null);
    if (!slips(at)) return { at, label: line.label, marks: marksOf(at, [line]) };
  }
  return { at: roundPlace(p, options.from ?? null, step), label: null, marks: [] };
}

function byRank(lines: readonly Line[], p: PlanPoint): readonly Line[] {
  return [...lines].sort((a, b) => a.rank - b.rank || away(a, p) - away(b, p));
}

/** True when a wall from the last corner to `at` would lie just off level, plumb or the wall before. */
function barelyOff(at: PlanPoint, { from, square }: SnapOptions): boolean {
  if (!from) return false;
  const dx = at.x - from.x;
  const dy = at.y - from.y;
  const along = square ? [square, { x: -square.y, y: square.x }] : [];
  const off = [{ x: 1, y: 0 }, { x: 0, y: 1 }, ...along].map((dir) =>
    Math.atan2(Math.abs(dx * dir.y - dy * dir.x), Math.abs(dx * dir.x + dy * dir.y)),
  );
  const least = Math.min(...off);
  return least > BARELY[0] && least < BARELY[1];
}

/** The round number a pixel stands for, at most 10 mm: lengths drawn by hand come out in these. */
export function roundStep(scale: number): Mm {
  return scale >= 1 ? 1 : scale >= 0.2 ? 5 : 10;
}

function roundPlace(p: PlanPoint, from: PlanPoint | null, step: Mm): PlanPoint {
  if (from === null) return { x: Math.round(p.x / step) * step, y: Math.round(p.y / step) * step };
  const length = Math.hypot(p.x - from.x, p.y - from.y);
  if (length < step) return from;
  const by = (Math.round(length / step) * step) / length;
  return { x: from.x + (p.x - from.x) * by, y: from.y + (p.y - from.y) * by };
}

function spotsNear(shapes: PlanShapes, p: PlanPoint, reach: Mm, options: SnapOptions): Spot[] {
  const near = (at: PlanPoint) => distance(at, p) <= reach;
  const out: Spot[] = [];
  const offer = (at: PlanPoint, label: string, rank: number, asked = false) => {
    if (near(at)) out.push({ at, label, rank, asked });
  };
  for (const { at, label } of options.extra ?? []) offer(at, label, 0, true);
  for (const node of shapes.nodes) if (!options.without?.has(node.id)) offer(node.at, 'End of wall', 0);
  for (const { a, b } of options.drawn ?? []) {
    offer(a, 'End of a drawn line', 1);
    offer(b, 'End of a drawn line', 1);
  }
  const walls = shapes.walls.filter(
    (w) => !options.without?.has(w.id) && segmentNearest(p, w.frame.from, w.frame.to).distance <= reach,
  );
  walls.forEach((wall, i) => {
    const { from, to } = wall.frame;
    offer({ x: (from.x + to.x) / 2, y: (from.y + to.y) / 2 }, 'Middle of wall', 2);
    for (const other of walls.slice(i + 1)) {
      const met = segmentCrossing(from, to, other.frame.from, other.frame.to, 0.01);
      if (met) offer(met.point, 'Crossing', 1);
    }
  });
  return out;
}

function bestSpot(spots: readonly Spot[], p: PlanPoint): Spot | null {
  const far = (s: Spot) => distance(s.at, p);
  return [...spots].sort((a, b) => a.rank - b.rank || far(a) - far(b))[0] ?? null;
}

function linesNear(shapes: PlanShapes, p: PlanPoint, reach: Mm, options: SnapOptions): Line[] {
  const out: Line[] = [];
  const endless = { low: -Infinity, high: Infinity };
  const { from, square, without } = options;
  if (from) {
    const away = Math.hypot(p.x - from.x, p.y - from.y);
    const meant = (dir: PlanPoint) => {
      const off = Math.abs((p.x - from.x) * dir.y - (p.y - from.y) * dir.x);
      return away > reach && (off <= reach || off <= away * NEARLY);
    };
    const offer = (dir: PlanPoint, label: string, rank: number) => {
      if (meant(dir)) out.push({ a: from, dir, ...endless, label, rank, source: from, fromLast: true });
    };
    offer({ x: 1, y: 0 }, 'Straight across', 0);
    offer({ x: 0, y: 1 }, 'Straight down', 0);
    const askew = square && Math.abs(square.x) > 1e-6 && Math.abs(square.y) > 1e-6;
    if (askew) {
      offer({ x: -square.y, y: square.x }, 'Square to the last wall', 1);
      offer(square, 'In line with the last wall', 1);
    }
  }
  const between = (a: PlanPoint, b: PlanPoint, label: string, rank: number) => {
    if (segmentNearest(p, a, b).distance > reach) return;
    const length = Math.hypot(b.x - a.x, b.y - a.y);
    if (length < 1) return;
    const dir = { x: (b.x - a.x) / length, y: (b.y - a.y) / length };
    out.push({ a, dir, low: 0, high: length, label, rank, source: null, fromLast: false });
  };
  for (const wall of shapes.walls) {
    if (without?.has(wall.id)) continue;
    const { frame, quad } = wall;
    between(frame.from, frame.to, 'Centre of wall', 2);
    between(quad[0], quad[1], 'Wall face', 3);
    between(quad[3], quad[2], 'Wall face', 3);
  }
  for (const { a, b } of options.drawn ?? []) between(a, b, 'Drawn line', 3);
  for (const axis of ['x', 'y'] as const) {
    let best: { at: PlanPoint; off: Mm } | null = null;
    for (const place of [...shapes.nodes, ...(options.extra ?? [])]) {
      if ('id' in place && without?.has(place.id)) continue;
      const off = Math.abs(place.at[axis] - p[axis]);
      const behind = from && Math.abs(place.at.x - from.x) < 0.5 && Math.abs(place.at.y - from.y) < 0.5;
      if (off <= reach * 0.75 && !behind && (best === null || off < best.off)) best = { at: place.at, off };
    }
    if (best) {
      const dir = axis === 'x' ? { x: 0, y: 1 } : { x: 1, y: 0 };
      out.push({
        a: best.at,
        dir,
        ...endless,
        label: 'In line with a corner',
        rank: 4,
        source: best.at,
        fromLast: false,
      });
    }
  }
  return out;
}

function distance(a: PlanPoint, b: PlanPoint): Mm {
  return Math.hypot(b.x - a.x, b.y - a.y);
}

function away(line: Line, p: PlanPoint): Mm {
  return Math.abs((p.x - line.a.x) * line.dir.y - (p.y - line.a.y) * line.dir.x);
}

function onLine(line: Line, p: PlanPoint, step: Mm | null): PlanPoint {
  let s = (p.x - line.a.x) * line.dir.x + (p.y - line.a.y) * line.dir.y;
  if (step !== null) s = Math.round(s / step) * step;
  s = Math.max(line.low, Math.min(line.high, s));
  return { x: line.a.x + line.dir.x * s, y: line.a.y + line.dir.y * s };
}

/** On a line across or down the plan the free coordinate is round, not the distance from the corner far away. */
function inLine(line: Line, p: PlanPoint, step: Mm): PlanPoint {
  const round = (v: Mm) => Math.round(v / step) * step;
  return line.dir.x === 0 ? { x: line.a.x, y: round(p.y) } : { x: round(p.x), y: line.a.y };
}

function bestMeeting(
  lines: readonly Line[],
  p: PlanPoint,
  reach: Mm,
  slips: (at: PlanPoint) => boolean,
): { at: PlanPoint; lines: readonly [Line, Line] } | null {
  let best: { at: PlanPoint; lines: readonly [Line, Line]; cost: number } | null = null;
  lines.forEach((one, i) => {
    for (const other of lines.slice(i + 1)) {
      const cross = one.dir.x * other.dir.y - one.dir.y * other.dir.x;
      if (Math.abs(cross) < 0.05) continue;
      const s = ((other.a.x - one.a.x) * other.dir.y - (other.a.y - one.a.y) * other.dir.x) / cross;
      const t = ((other.a.x - one.a.x) * one.dir.y - (other.a.y - one.a.y) * one.dir.x) / cross;
      if (s < one.low || s > one.high || t < other.low || t > other.high) continue;
      const at = { x: one.a.x + one.dir.x * s, y: one.a.y + one.dir.y * s };
      const far = Math.hypot(at.x - p.x, at.y - p.y);
      // A meeting of lines from the last corner must leave that corner.
      if (far > reach || (one.fromLast && other.fromLast) || slips(at)) continue;
      const cost = one.rank + other.rank + far / reach;
      if (best === null || cost < best.cost) best = { at, lines: [one, other], cost };
    }
  });
  return best;
}

function labelOf(lines: readonly Line[]): string {
  const labels = [...lines].sort((a, b) => a.rank - b.rank).map((line) => line.label);
  return [...new Set(labels)].map((label, i) => (i === 0 ? label : label.toLowerCase())).join(', ');
}

function marksOf(at: PlanPoint, lines: readonly Line[]): PreviewMark[] {
  const guides = lines.flatMap((line): PreviewMark[] =>
    line.source && Math.hypot(line.source.x - at.x, line.source.y - at.y) > 1
      ? [{ kind: 'line', points: [line.source, at], look: 'guide' }]
      : [],
  );
  return lines.some((line) => !line.fromLast) ? [...guides, { kind: 'spot', at, look: 'snap' }] : guides;
}

import type { Interval } from '../../engine/geometry/interval.ts';
import type { ProposedOpening, ProposedWall } from '../../engine/model/proposedWall.ts';
import type { Mm, PlanPoint } from '../../engine/model/units.ts';
import type { Band } from './bands.ts';
import { bandsOf } from './bands.ts';
import type { Family } from './tracks.ts';
import { familiesOf } from './tracks.ts';
import type { ProposalRules, Stroke } from './types.ts';

/** Pieces of one wall, in line: its faces' offsets and where it is solid. */
interface Line {
  readonly family: Family;
  readonly low: Mm;
  readonly high: Mm;
  /** Sorted, apart. */
  readonly solid: readonly Interval[];
}

const middle = (line: Line): Mm => (line.low + line.high) / 2;
const thick = (line: Line): Mm => line.high - line.low;

/**
 * Walls with thickness from the lines of a drawing: pairs of parallel lines, pieces in line joined over doors and windows,
 * ends drawn on to the middle of the wall they meet. What it cannot see: single-line walls (see `outlineWalls`), curved
 * walls, and whether two lines are a wall at all; so it proposes, and a person accepts.
 */
export function wallsFromStrokes(strokes: readonly Stroke[], rules: ProposalRules): ProposedWall[] {
  const families = familiesOf(strokes, rules);
  const lines = families.flatMap((family) => linesOf(family, bandsOf(family, rules), rules));
  return lines
    .flatMap((line) => split(line, lines, rules))
    .filter((line) => total(line) >= rules.shortest)
    .map((line, _, all) => finished(line, all))
    .filter((w) => Math.hypot(w.b.x - w.a.x, w.b.y - w.a.y) >= rules.shortest);
}

const total = (line: Line): Mm => line.solid.reduce((sum, s) => sum + s.hi - s.lo, 0);

/** Bands in line with one another, of one thickness, however far apart. */
function linesOf(family: Family, bands: readonly Band[], rules: ProposalRules): Line[] {
  const lines: { low: Mm; high: Mm; solid: Interval[] }[] = [];
  for (const band of [...bands].sort((a, b) => a.span.lo - b.span.lo)) {
    const same = lines.find(
      (l) => Math.abs(l.low - band.low) <= 2 * rules.near && Math.abs(l.high - band.high) <= 2 * rules.near,
    );
    if (same) same.solid.push(band.span);
    else lines.push({ low: band.low, high: band.high, solid: [band.span] });
  }
  return lines.map((l) => ({ family, ...l }));
}

/** Where the middle of `other` meets the line's middle, along the line; null where they run the same way. */
function meeting(line: Line, other: Line): Mm | null {
  const { dir, normal } = line.family;
  const o = other.family;
  const cross = dir.x * o.normal.x + dir.y * o.normal.y;
  if (Math.abs(cross) < 0.05) return null;
  const m = middle(line);
  return (middle(other) - m * (normal.x * o.normal.x + normal.y * o.normal.y)) / cross;
}

/** Along `other`, where the spot `along` of the line lies. */
function alongOther(line: Line, along: Mm, other: Line): Mm {
  const { dir, normal } = line.family;
  const o = other.family.dir;
  const m = middle(line);
  return (dir.x * along + normal.x * m) * o.x + (dir.y * along + normal.y * m) * o.y;
}

/** The other wall is there, or all but there, where it meets the line. */
function reaches(line: Line, along: Mm, other: Line): boolean {
  const at = alongOther(line, along, other);
  const slack = thick(line) + 50;
  return other.solid.some((s) => at >= s.lo - slack && at <= s.hi + slack);
}

/** Breaks a line where it is open for more than an opening may be, and nothing runs in. */
function split(line: Line, lines: readonly Line[], rules: ProposalRules): Line[] {
  const out: Interval[][] = [];
  for (const span of line.solid) {
    const group = out.at(-1);
    const before = group?.at(-1);
    const gap = before ? { lo: before.hi, hi: span.lo } : null;
    if (group && gap && (gap.hi - gap.lo <= rules.widestOpening || bridged(line, gap, lines)))
      group.push(span);
    else out.push([span]);
  }
  return out.map((solid) => ({ ...line, solid }));
}

/** Other walls run in and fill the gap: the lines of this wall stop at their faces. */
function bridged(line: Line, gap: Interval, lines: readonly Line[]): boolean {
  return lines.some((other) => {
    if (other === line) return false;
    const at = meeting(line, other);
    if (at === null || at < gap.lo || at > gap.hi || !reaches(line, at, other)) return false;
    return gap.hi - gap.lo <= thick(other) + 60;
  });
}

/** A wall with its openings, its ends drawn on to the middle of the wall each one meets. */
function finished(line: Line, lines: readonly Line[]): ProposedWall {
  const first = (line.solid[0] as Interval).lo;
  const last = (line.solid.at(-1) as Interval).hi;
  const from = drawnOn(line, first, -1, lines);
  const to = drawnOn(line, last, 1, lines);
  const openings: ProposedOpening[] = [];
  for (let i = 1; i < line.solid.length; i++) {
    const gap = { lo: (line.solid[i - 1] as Interval).hi, hi: (line.solid[i] as Interval).lo };
    if (gap.hi - gap.lo < 300 || bridged(line, gap, lines)) continue;
    openings.push({ along: gap.lo - from, width: gap.hi - gap.lo });
  }
  const at = (along: Mm): PlanPoint => {
    const { dir, normal } = line.family;
    const m = middle(line);
    return { x: dir.x * along + normal.x * m, y: dir.y * along + normal.y * m };
  };
  return {
    a: at(from),
    b: at(to),
    thickness: thick(line),
    openings,
    assumed: false,
  };
}

/** The end `along` moved to the nearest middle of another wall that is within that wall's thickness and a little. */
function drawnOn(line: Line, along: Mm, way: 1 | -1, lines: readonly Line[]): Mm {
  let best = along;
  let least = Infinity;
  for (const other of lines) {
    if (other === line) continue;
    const at = meeting(line, other);
    if (at === null || !reaches(line, at, other)) continue;
    const on = (at - along) * way;
    if (on < -thick(other) || on > thick(other) + 60) continue;
    if (Math.abs(on) < least) {
      least = Math.abs(on);
      best = at;
    }
  }
  return best;
}

/** The thickness given to walls that a drawing shows as one line. Own choice: an inner stud wall. */
export const SINGLE_LINE_THICKNESS: Mm = 100;

/** Walls along closed outlines that bound no proposed wall: a plan of single lines. Sides under the shortest are kept. */
export function outlineWalls(
  outlines: readonly (readonly PlanPoint[])[],
  found: readonly ProposedWall[],
  rules: ProposalRules,
): ProposedWall[] {
  const free = outlines.filter(
    (o) => areaOf(o) > 1.5e6 && !o.some((p) => found.some((w) => onWall(p, w, rules))),
  );
  return free.flatMap((o) =>
    o.flatMap((a, i): ProposedWall[] => {
      const b = o[(i + 1) % o.length] as PlanPoint;
      if (Math.hypot(b.x - a.x, b.y - a.y) <= rules.near) return [];
      return [{ a, b, thickness: SINGLE_LINE_THICKNESS, openings: [], assumed: true }];
    }),
  );
}

function areaOf(o: readonly PlanPoint[]): number {
  const twice = o.reduce((sum, p, i) => {
    const q = o[(i + 1) % o.length] as PlanPoint;
    return sum + p.x * q.y - q.x * p.y;
  }, 0);
  return Math.abs(twice) / 2;
}

function onWall(p: PlanPoint, w: ProposedWall, rules: ProposalRules): boolean {
  const length = Math.hypot(w.b.x - w.a.x, w.b.y - w.a.y);
  const [ux, uy] = [(w.b.x - w.a.x) / length, (w.b.y - w.a.y) / length];
  const along = (p.x - w.a.x) * ux + (p.y - w.a.y) * uy;
  const off = Math.abs((p.y - w.a.y) * ux - (p.x - w.a.x) * uy);
  const slack = w.thickness / 2 + rules.near;
  return off <= slack && along >= -slack && along <= length + slack;
}

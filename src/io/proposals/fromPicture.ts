import { segmentNearest } from '../../engine/geometry/segment.ts';
import type { ProposedWall } from '../../engine/model/proposedWall.ts';
import type { Mm, PlanPoint, Px, Radians } from '../../engine/model/units.ts';
import type { Grey, Ink } from './ink.ts';
import { inkOf, turnOf, turnedBack } from './ink.ts';
import { levelBands, onItsSide } from './inkBands.ts';
import type { InkBand } from './inkBands.ts';
import type { ProposalRules, Stroke } from './types.ts';
import { LINE_RULES } from './types.ts';
import { wallsFromStrokes } from './walls.ts';

/** What a picture shows of walls, in mm from the picture's top left corner along its own rows and columns. */
export interface PictureProposal {
  readonly walls: readonly ProposedWall[];
  /** How far the picture was turned, radians clockwise. */
  readonly turn: Radians;
  /** How the walls are drawn: as solid bars, or as two lines each. */
  readonly drawn: 'solid' | 'lines';
}

/** Walls found solid of at least this length in all are taken as the way the plan draws walls. */
const SOLID_ENOUGH: Mm = 6000;
/** Pieces of a wall between others that run in may be this short. */
const SHORT_BAR: Mm = 120;
/** Groups of walls that touch nothing of the plan and are shorter than this share of it are a legend or a frame. */
const STRAY_SHARE = 0.15;

/**
 * Proposes walls from a picture of a plan whose scale is known: its turn is found and taken out, ink parted from paper,
 * and level and plumb bars as thick as walls are found; where there are hardly any, pairs of lines. What it cannot see:
 * walls at a slant, curved or grey walls, walls hidden under furniture or text; and it may take a solid worktop or a bar
 * of the title block for a wall. `mmPerPixel` decides
 * what is as thick as a wall.
 */
export function wallsFromPicture(grey: Grey, mmPerPixel: Mm): PictureProposal {
  const reach = Math.max(16, Math.round(1200 / mmPerPixel));
  const turn = turnFound(grey, reach, mmPerPixel);
  const straight = turn === 0 ? grey : turnedBack(grey, turn);
  const ink = inkOf(straight, reach);
  // A picture's lines wander by a pixel or two.
  const rules = { ...LINE_RULES, near: Math.max(15, 2 * mmPerPixel) };
  const solid = connected(wallsFromStrokes(barStrokes(ink, mmPerPixel), rules), rules);
  const solidEnough = lengthOf(solid) >= SOLID_ENOUGH;
  const walls = solidEnough ? solid : connected(wallsFromStrokes(lineStrokes(ink, mmPerPixel), rules), rules);
  const back = backTurned(grey, straight, turn, mmPerPixel);
  return {
    walls: walls.map((w) => ({ ...w, a: back(w.a), b: back(w.b) })),
    turn,
    drawn: solidEnough ? 'solid' : 'lines',
  };
}

/** Beyond this the edges' own directions are looked at first; below it the slopes of long lines tell more. */
const COARSE: Radians = 0.06;
/** Less than this moves no wall of a sheet by a pixel. */
const STRAIGHT: Radians = 0.0004;

/** How far the picture is turned: coarsely by its edges where that is much, then by the slopes of its long lines. */
function turnFound(grey: Grey, reach: Px, mmPerPixel: Mm): Radians {
  const rough = turnOf(grey);
  let turn = Math.abs(rough) > COARSE ? rough : 0;
  for (let round = 0; round < 2; round++) {
    const more = slopeOfLines(inkOf(turn === 0 ? grey : turnedBack(grey, turn), reach), mmPerPixel);
    turn += more;
    if (Math.abs(more) < STRAIGHT) break;
  }
  return Math.abs(turn) < STRAIGHT ? 0 : turn;
}

/** Middle of the slopes of all long stripes, level and plumb, each counted by its length. */
function slopeOfLines(ink: Ink, mmPerPixel: Mm): Radians {
  const long = 1000 / mmPerPixel;
  const thickest = LINE_RULES.thickest / mmPerPixel;
  const slopes = [
    ...levelBands(ink, 1, thickest, long).map((b) => ({ slope: b.slope, weight: b.to - b.from })),
    ...levelBands(onItsSide(ink), 1, thickest, long).map((b) => ({ slope: -b.slope, weight: b.to - b.from })),
  ].sort((a, b) => a.slope - b.slope);
  const half = slopes.reduce((sum, s) => sum + s.weight, 0) / 2;
  let sum = 0;
  for (const s of slopes) {
    sum += s.weight;
    if (sum >= half) return Math.atan(s.slope);
  }
  return 0;
}

/** Both faces of every bar as thick as a wall and longer than it is thick, level and plumb. */
function barStrokes(ink: Ink, mmPerPixel: Mm): Stroke[] {
  const thinnest = Math.max(3, LINE_RULES.thinnest / mmPerPixel - 1);
  const thickest = LINE_RULES.thickest / mmPerPixel + 1;
  const bars = (from: Ink): InkBand[] =>
    levelBands(from, thinnest, thickest, SHORT_BAR / mmPerPixel).filter(
      (b) => b.to - b.from > 0.8 * (b.bottom - b.top),
    );
  const faces = (b: InkBand): Stroke[] => [level(b, b.top, mmPerPixel), level(b, b.bottom, mmPerPixel)];
  return [...bars(ink).flatMap(faces), ...bars(onItsSide(ink)).flatMap(faces).map(sideways)];
}

/** The middle of every thin line that is as long as a wall at least. */
function lineStrokes(ink: Ink, mmPerPixel: Mm): Stroke[] {
  const thickest = Math.max(3, LINE_RULES.thinnest / mmPerPixel - 1);
  const lines = (from: Ink): Stroke[] =>
    levelBands(from, 1, thickest, (2 * LINE_RULES.shortest) / mmPerPixel).map((b) =>
      level(b, (b.top + b.bottom) / 2, mmPerPixel),
    );
  return [...lines(ink), ...lines(onItsSide(ink)).map(sideways)];
}

const level = (band: InkBand, row: Px, mm: Mm): Stroke => ({
  a: { x: band.from * mm, y: row * mm },
  b: { x: band.to * mm, y: row * mm },
});
const flipped = (p: PlanPoint): PlanPoint => ({ x: p.y, y: p.x });
const sideways = (s: Stroke): Stroke => ({ a: flipped(s.a), b: flipped(s.b) });

/** From the turned frame to the picture as it is. */
function backTurned(grey: Grey, straight: Grey, turn: Radians, mm: Mm): (p: PlanPoint) => PlanPoint {
  if (straight === grey) return (p) => p;
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
  return (p) => {
    const [dx, dy] = [p.x - (straight.width * mm) / 2, p.y - (straight.height * mm) / 2];
    return {
      x: cos * dx - sin * dy + (grey.width * mm) / 2,
      y: sin * dx + cos * dy + (grey.height * mm) / 2,
    };
  };
}

const wallLength = (w: ProposedWall): number => Math.hypot(w.b.x - w.a.x, w.b.y - w.a.y);
const lengthOf = (walls: readonly ProposedWall[]): number => walls.reduce((sum, w) => sum + wallLength(w), 0);

/** The walls without the small groups that touch nothing of the rest: legends, frames, furniture. */
function connected(walls: readonly ProposedWall[], rules: ProposalRules): ProposedWall[] {
  const group = walls.map((_, i) => i);
  const root = (i: number): number => {
    let at = i;
    while (group[at] !== at) at = group[at] as number;
    return at;
  };
  for (let i = 0; i < walls.length; i++)
    for (let j = 0; j < i; j++)
      if (touch(walls[i] as ProposedWall, walls[j] as ProposedWall, rules)) group[root(i)] = root(j);
  const lengths = new Map<number, number>();
  for (const [i, w] of walls.entries()) lengths.set(root(i), (lengths.get(root(i)) ?? 0) + wallLength(w));
  const longest = Math.max(0, ...lengths.values());
  return walls.filter((_, i) => (lengths.get(root(i)) as number) >= STRAY_SHARE * longest);
}

function touch(a: ProposedWall, b: ProposedWall, rules: ProposalRules): boolean {
  const slack = (a.thickness + b.thickness) / 2 + 2 * rules.near;
  return [a.a, a.b].some((p) => distance(p, b) <= slack) || [b.a, b.b].some((p) => distance(p, a) <= slack);
}

const distance = (p: PlanPoint, w: ProposedWall): Mm => segmentNearest(p, w.a, w.b).distance;

import { resolveRun } from '../fabric/resolve.ts';
import type { Cable, Id, Place, Run } from '../model/document.ts';
import { find, rows } from '../model/tables.ts';
import type { Mm } from '../model/units.ts';
import { checkRun } from '../zones/checkRun.ts';
import type { ZoneContext } from '../zones/surfaces.ts';
import { laneGround, type LaneGround } from './laneGround.ts';
import { laneIndex, type Lane, type LaneIndex } from './laneIndex.ts';
import { flatOf, placeFrom, type Flat } from './laneSpace.ts';
import { withSuggestion } from './trial.ts';
import { countCost, countSum, NOTHING, type CircuitPlan } from './types.ts';

/** Clear room left beyond the width of the wider cable, so that neighbours read as two lines, mm. */
const CLEAR: Mm = 5;
/** Legs that share less than this of a line are left on it, mm. */
const SHARED: Mm = 50;
/** Offsets tried, and how far a leg may be moved, mm. */
const STEP: Mm = 5;
const FURTHEST: Mm = 150;
/** What a mm off the line counts for, against a mm of cable. */
const OFF_LINE = 0.2;
/** A leg never becomes shorter than this by moving its neighbour, mm. */
const SHORTEST: Mm = 10;

/**
 * Corners with which runs that share a stretch of a line lie side by side: clear of each other by the width of the
 * wider cable and 5 mm, where there is room. Only a leg whose ends may move is moved: between two legs square to it on
 * the same surface, and in a void also beside a drop, which it then reaches by a short step aside. `runs` are placed
 * in their order, `fixed` stay. A run that would then not pass the zone check keeps its corners.
 */
export function keptApart(
  ctx: ZoneContext,
  runs: readonly Run[],
  fixed: readonly Run[],
): ReadonlyMap<Id, readonly Place[]> {
  const index = laneIndex();
  const ground = laneGround(ctx);
  for (const run of fixed) addLanes(ctx, index, run, run.corners);
  const found = new Map<Id, readonly Place[]>();
  for (const run of runs) {
    const moved = placed(ctx, ground, index, run);
    const corners = moved === null || !passes(ctx, run, moved) ? run.corners : moved;
    if (corners !== run.corners) found.set(run.id, corners);
    addLanes(ctx, index, run, corners);
  }
  return found;
}

const cableOf = (ctx: ZoneContext, run: Run): Cable | undefined => find(ctx.doc, 'cables', run.cable);

function pathOf(ctx: ZoneContext, run: Run, corners: readonly Place[]): Place[] | null {
  const from = find(ctx.doc, 'points', run.from)?.place;
  const to = find(ctx.doc, 'points', run.to)?.place;
  return from === undefined || to === undefined ? null : [from, ...corners, to];
}

function addLanes(ctx: ZoneContext, index: LaneIndex, run: Run, corners: readonly Place[]): void {
  const width = cableOf(ctx, run)?.width ?? 0;
  const path = pathOf(ctx, run, corners) ?? corners;
  for (let i = 1; i < path.length; i += 1) {
    const lane = laneOf(path[i - 1] as Place, path[i] as Place, width);
    if (lane !== null) index.add(lane);
  }
}

/** The straight between two places of one surface; null where they share none or it has no length. */
function laneOf(a: Place, b: Place, width: Mm): Lane | null {
  const [p, q] = [flatOf(a), flatOf(b)];
  if (p === null || q === null || p.surface !== q.surface) return null;
  const length = Math.hypot(q.x - p.x, q.y - p.y);
  if (length < 1) return null;
  const dir = { x: (q.x - p.x) / length, y: (q.y - p.y) / length };
  // One heading for both ways round, so that legs told from either end meet.
  const sign = dir.x < -1e-9 || (Math.abs(dir.x) <= 1e-9 && dir.y < 0) ? -1 : 1;
  const [dx, dy] = [dir.x * sign, dir.y * sign];
  const [s, t] = [p.x * dx + p.y * dy, q.x * dx + q.y * dy];
  return {
    surface: p.surface,
    dx,
    dy,
    off: p.y * dx - p.x * dy,
    from: Math.min(s, t),
    to: Math.max(s, t),
    width,
  };
}

const isSquare = (a: Lane, b: Lane): boolean => Math.abs(a.dx * b.dx + a.dy * b.dy) < 1e-6;

/** The corners with crowded legs moved; null when none is. */
function placed(ctx: ZoneContext, ground: LaneGround, index: LaneIndex, run: Run): Place[] | null {
  const width = cableOf(ctx, run)?.width ?? 0;
  let path = pathOf(ctx, run, run.corners);
  if (path === null) return null;
  let any = false;
  for (let i = 1; i < path.length; i += 1) {
    const lane = laneOf(path[i - 1] as Place, path[i] as Place, width);
    if (lane === null || crowding(index, lane) === 0) continue;
    const better = besides(ground, index, path, i, lane);
    if (better === null) continue;
    path = better.path;
    i = better.end;
    any = true;
  }
  return any ? path.slice(1, -1) : null;
}

/** Metres of a lane that others crowd, mm. */
function crowding(index: LaneIndex, lane: Lane): Mm {
  let sum = 0;
  for (const other of index.near(lane, FURTHEST)) {
    const shared = Math.min(lane.to, other.to) - Math.max(lane.from, other.from);
    const room = (lane.width + other.width) / 2 + Math.max(lane.width, other.width) + CLEAR;
    if (shared > SHARED && Math.abs(lane.off - other.off) < room - 1e-6) sum += shared;
  }
  return sum;
}

/**
 * The path with leg i (from place i - 1 to place i) moved to where it is crowded least, and the number of the place it
 * then ends at; null when it cannot be.
 */
function besides(
  ground: LaneGround,
  index: LaneIndex,
  path: readonly Place[],
  i: number,
  lane: Lane,
): { readonly path: Place[]; readonly end: number; readonly crowd: Mm } | null {
  const a = flatOf(path[i - 1] as Place) as Flat;
  const b = flatOf(path[i] as Place) as Flat;
  const start = endOf(path, i - 1, i - 2, lane);
  const end = endOf(path, i, i + 1, lane);
  if (start === null || end === null) return null;
  const before = flatLength(path);
  let best: { path: Place[]; end: number; crowd: Mm; price: Mm } | null = null;
  const now = crowding(index, lane);
  for (const side of [1, -1]) {
    for (let step = 1; step * STEP <= FURTHEST; step += 1) {
      const by = side * step * STEP;
      const crowd = crowding(index, { ...lane, off: lane.off + by });
      if (crowd > (best?.crowd ?? now - 1)) continue;
      const shift = (p: Flat): Flat => ({ ...p, x: p.x - lane.dy * by, y: p.y + lane.dx * by });
      const [a2, b2] = [shift(a), shift(b)];
      if (!start.allows(a, a2) || !end.allows(b, b2)) continue;
      if (!ground.isFree(a, a2) || !ground.isFree(a2, b2) || !ground.isFree(b2, b)) continue;
      const moved = [
        ...path.slice(0, start.moves ? i - 1 : i),
        placeFrom(path[i - 1] as Place, a2),
        placeFrom(path[i] as Place, b2),
        ...path.slice(end.moves ? i + 1 : i),
      ];
      // Least crowded first; of those, the least cable, and a little for being far off the line.
      const price = flatLength(moved) - before + Math.abs(by) * OFF_LINE;
      if (best === null || crowd < best.crowd || price < best.price)
        best = { path: moved, end: start.moves ? i : i + 1, crowd, price };
      if (crowd === 0) break;
    }
  }
  return best;
}

/** Metres of a path on its surfaces; steps from one surface to another count nothing, mm. */
function flatLength(path: readonly Place[]): Mm {
  let sum = 0;
  for (let i = 1; i < path.length; i += 1) {
    const [p, q] = [flatOf(path[i - 1] as Place), flatOf(path[i] as Place)];
    if (p !== null && q !== null && p.surface === q.surface) sum += Math.hypot(q.x - p.x, q.y - p.y);
  }
  return sum;
}

interface LegEnd {
  /** The corner itself moves; else it stays, and a step aside is put beside it. */
  readonly moves: boolean;
  readonly allows: (was: Flat, is: Flat) => boolean;
}

/** What may happen at an end of a leg: place `at`, whose other neighbour is place `next`; null when nothing may. */
function endOf(path: readonly Place[], at: number, next: number, lane: Lane): LegEnd | null {
  const here = path[at] as Place;
  const there = path[next];
  const beyond = there === undefined ? null : laneOf(here, there, 0);
  if (beyond !== null && there !== undefined && isSquare(beyond, lane)) {
    const far = flatOf(there) as Flat;
    return {
      moves: true,
      // The neighbour only grows or shrinks: it never turns round.
      allows: (was, is) =>
        (was.x - far.x) * (is.x - far.x) + (was.y - far.y) * (is.y - far.y) > 0 &&
        Math.hypot(is.x - far.x, is.y - far.y) >= SHORTEST,
    };
  }
  return here.on === 'face' || beyond !== null ? null : { moves: false, allows: () => true };
}

/** Does the run pass the zone check with its new corners? */
function passes(ctx: ZoneContext, run: Run, corners: readonly Place[]): boolean {
  const as = { ...run, corners };
  const now = checkRun(ctx, as, resolveRun(ctx.doc, ctx.fabrics, as));
  return (
    now.missing === null &&
    now.legs.every(
      (l) =>
        l.leg.kind !== 'loose' &&
        l.offLevel === 0 &&
        l.crossings.length === 0 &&
        l.answer !== 'outside' &&
        l.answer !== 'disputed',
    )
  );
}

/** Plans whose runs lie clear of each other and of the runs that stay. */
export function plansApart(ctx: ZoneContext, plans: readonly CircuitPlan[]): CircuitPlan[] {
  const trial = withSuggestion(ctx.doc, plans);
  const made = new Set(trial.made);
  const then = { ...ctx, doc: trial.doc };
  const all = rows(trial.doc.runs);
  const moved = keptApart(
    then,
    all.filter((r) => made.has(r.id)),
    all.filter((r) => !made.has(r.id)),
  );
  if (moved.size === 0) return [...plans];
  let at = 0;
  return plans.map((plan) => {
    const runs = plan.runs.map((suggested) => {
      const run = find(trial.doc, 'runs', trial.made[at++] ?? null);
      const corners = moved.get(run?.id ?? '');
      if (run === undefined || corners === undefined) return suggested;
      const more = lengthOf(then, { ...run, corners }) - lengthOf(then, run);
      const bends = corners.length - run.corners.length;
      const { count } = suggested;
      return {
        ...suggested,
        corners,
        count: { ...count, metres: count.metres + more / 1000, bends: count.bends + bends },
      };
    });
    const count = runs.reduce((sum, r) => countSum(sum, r.count), NOTHING);
    return { ...plan, runs, count, cost: countCost(count, ctx.doc.job.routeCosts) };
  });
}

/** Metres of a run along its way, without tails, mm. */
export function lengthOf(ctx: ZoneContext, run: Run): Mm {
  return resolveRun(ctx.doc, ctx.fabrics, run).legs.reduce((sum, leg) => sum + leg.length, 0);
}

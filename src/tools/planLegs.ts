import type { Leg, LegKind } from '../engine/fabric/types.ts';
import type { Id, PlanDocument } from '../engine/model/document.ts';
import type { Derived } from '../engine/derive/types.ts';
import type { Mm, PlanPoint } from '../engine/model/units.ts';
import type { WallFrame } from '../engine/fabric/wallFrame.ts';
import type { Answer } from '../engine/zones/types.ts';

/** A leg of a run as it lies on the plan. Plumb legs have a = b: a drop. */
export interface PlanLeg {
  readonly run: Id;
  /** Number of the leg in its run, and of the stretch of the drawn path it belongs to. */
  readonly leg: number;
  readonly stretch: number;
  readonly kind: LegKind;
  readonly answer: Answer;
  readonly a: PlanPoint;
  readonly b: PlanPoint;
  readonly plumb: boolean;
  /** Which place in its bundle it has: legs in one line are drawn `lane` widths apart along `aside`. */
  readonly lane: number;
  /** Unit vector in which lanes count up: into the room for legs on a wall. */
  readonly aside: PlanPoint;
}

/** Shorter on the plan than this is plumb. */
const PLUMB: Mm = 1;
/** Lines nearer than this and of the same direction are one bundle. */
const BUNDLE: Mm = 25;
const SAME_ANGLE = 0.01;

interface Draft {
  readonly leg: PlanLeg;
  readonly key: string;
  readonly start: Mm;
  readonly end: Mm;
  readonly oneSided: boolean;
}

/** The legs of all runs that lie on a storey, in run order, with their lanes. `frames`: the storey's walls. Pure. */
export function planLegs(
  runs: PlanDocument['runs'],
  checks: Derived['runs'],
  frames: ReadonlyMap<Id, WallFrame>,
  storey: Id,
): PlanLeg[] {
  const drafts: Draft[] = [];
  for (const run of runs.order) {
    checks.get(run)?.legs.forEach(({ leg, answer }, i) => {
      if (leg.storey === storey) drafts.push(draftOf(frames, run, i, leg, answer));
    });
  }
  const lanes = laneOf(drafts);
  return drafts.map((d, i) => ({ ...d.leg, lane: lanes[i] ?? 0 }));
}

function draftOf(
  frames: ReadonlyMap<Id, WallFrame>,
  run: Id,
  index: number,
  leg: Leg,
  answer: Answer,
): Draft {
  const a = { x: leg.a.x, y: leg.a.y };
  const b = { x: leg.b.x, y: leg.b.y };
  const length = Math.hypot(b.x - a.x, b.y - a.y);
  const plumb = length < PLUMB;
  // One direction for both ways along a line, so that there and back share a bundle.
  const forward = b.x - a.x > PLUMB / 2 || (Math.abs(b.x - a.x) <= PLUMB / 2 && b.y > a.y);
  const dir = plumb
    ? { x: 1, y: 0 }
    : { x: ((b.x - a.x) / length) * (forward ? 1 : -1), y: ((b.y - a.y) / length) * (forward ? 1 : -1) };
  let aside: PlanPoint = { x: -dir.y, y: dir.x };
  const oneSided = leg.kind === 'face';
  if (oneSided && leg.wall !== null) aside = outOfWall(frames.get(leg.wall), a) ?? aside;
  const offset = -a.x * dir.y + a.y * dir.x;
  const s = a.x * dir.x + a.y * dir.y;
  const t = b.x * dir.x + b.y * dir.y;
  const where = oneSided ? 'face' : 'void';
  return {
    leg: { run, leg: index, stretch: leg.stretch, kind: leg.kind, answer, a, b, plumb, lane: 0, aside },
    key: `${where}/${Math.round(Math.atan2(dir.y, dir.x) / SAME_ANGLE)}/${Math.round(offset / BUNDLE)}`,
    start: Math.min(s, t),
    end: Math.max(s, t),
    oneSided,
  };
}

/** From the wall's centre line towards the place on its surface. */
function outOfWall(frame: WallFrame | undefined, at: PlanPoint): PlanPoint | null {
  if (!frame) return null;
  const off = (at.x - frame.from.x) * frame.normal.x + (at.y - frame.from.y) * frame.normal.y;
  const way = off >= 0 ? 1 : -1;
  return { x: frame.normal.x * way, y: frame.normal.y * way };
}

/** In each bundle the lowest lane that is free along the whole leg; from 1 on walls, 0, 1, -1, 2 ... in voids. */
function laneOf(drafts: readonly Draft[]): number[] {
  const bundles = new Map<string, number[]>();
  drafts.forEach((draft, i) => {
    if (draft.leg.plumb) return;
    const list = bundles.get(draft.key);
    if (list) list.push(i);
    else bundles.set(draft.key, [i]);
  });
  const lanes = drafts.map(() => 0);
  for (const list of bundles.values()) {
    const taken: { lane: number; start: Mm; end: Mm }[] = [];
    for (const i of list) {
      const { start, end, oneSided } = drafts[i] as Draft;
      let n = 0;
      while (taken.some((t) => t.lane === n && t.start < end - PLUMB && start < t.end - PLUMB)) n++;
      taken.push({ lane: n, start, end });
      lanes[i] = oneSided ? n + 1 : n % 2 === 1 ? (n + 1) / 2 : -n / 2;
    }
  }
  return lanes.map((lane) => lane + 0);
}

/** How far apart lanes are drawn, mm: four pixels, but never so far that a bundle leaves its wall when zoomed out. */
export function laneWidth(scale: number): Mm {
  return Math.min(4 / scale, 60);
}

/** The leg shifted into its lane. */
export function legInLane(leg: PlanLeg, width: Mm): readonly [PlanPoint, PlanPoint] {
  const by = leg.lane * width;
  const shift = (p: PlanPoint) => ({ x: p.x + leg.aside.x * by, y: p.y + leg.aside.y * by });
  return [shift(leg.a), shift(leg.b)];
}

/**
 * The drawn line of each leg as x, y, x, y ...: shifted into its lane, meeting its neighbour where their shifted
 * lines cross, and led back to the true place at a drop or at the end of the run. Same order as `legs`.
 */
export function legLines(legs: readonly PlanLeg[], width: Mm): number[][] {
  return legs.map((leg, i) => {
    if (leg.plumb) return [leg.a.x, leg.a.y];
    const [a, b] = legInLane(leg, width);
    const before = neighbour(legs[i - 1], leg);
    const after = neighbour(legs[i + 1], leg);
    const start = before ? joint(leg, before, leg.a, width) : null;
    const end = after ? joint(leg, after, leg.b, width) : null;
    const line: number[] = [];
    if (start) line.push(start.x, start.y);
    else line.push(leg.a.x, leg.a.y, a.x, a.y);
    if (end) line.push(end.x, end.y);
    else line.push(b.x, b.y, leg.b.x, leg.b.y);
    return line;
  });
}

function neighbour(other: PlanLeg | undefined, leg: PlanLeg): PlanLeg | null {
  return other && other.run === leg.run && !other.plumb ? other : null;
}

/** Where the shifted lines of two legs that share `at` cross; null when they do not meet there or run alike. */
function joint(one: PlanLeg, other: PlanLeg, at: PlanPoint, width: Mm): PlanPoint | null {
  const meets = [other.a, other.b].some((p) => Math.hypot(p.x - at.x, p.y - at.y) < 3);
  if (!meets) return null;
  const [a, b] = legInLane(one, width);
  const [c, d] = legInLane(other, width);
  const ux = b.x - a.x;
  const uy = b.y - a.y;
  const vx = d.x - c.x;
  const vy = d.y - c.y;
  const cross = ux * vy - uy * vx;
  if (Math.abs(cross) < 0.2 * Math.hypot(ux, uy) * Math.hypot(vx, vy)) {
    const near = Math.hypot(c.x - at.x, c.y - at.y) < Math.hypot(d.x - at.x, d.y - at.y) ? c : d;
    const own = Math.hypot(a.x - at.x, a.y - at.y) < Math.hypot(b.x - at.x, b.y - at.y) ? a : b;
    return { x: (near.x + own.x) / 2, y: (near.y + own.y) / 2 };
  }
  const t = ((c.x - a.x) * vy - (c.y - a.y) * vx) / cross;
  return { x: a.x + ux * t, y: a.y + uy * t };
}

import type { Interval } from '../geometry/interval.ts';
import { intervalGaps, intervalOverlap, intervalTotal } from '../geometry/interval.ts';
import type { Fabric } from '../fabric/types.ts';
import type { Joists, PlanDocument, Storey } from '../model/document.ts';
import { rows } from '../model/tables.ts';
import type { Mm, PlanPoint, Radians } from '../model/units.ts';
import { insideIntervals, isCovered } from './coverage.ts';
import { distinct } from './faceLines.ts';
import { addCrossing, addStraight, type LineNet } from './lineNet.ts';
import type { RouteCount } from './types.ts';

/** More trunk crossings than this and only the lines beside walls run through; others join the nearest of them. */
const MOST_CROSSINGS = 20_000;
const EDGE: Mm = 0.01;

/** A spot from which a void is entered. `trunk`: its lines run right across the storey (they are beside a wall). */
export interface Entry extends PlanPoint {
  readonly trunk: boolean;
}

interface Axes {
  /** Which heading of the turned axes the given direction has. */
  readonly along: 0 | 1;
  readonly turn: (p: PlanPoint) => PlanPoint;
  readonly back: (p: PlanPoint) => PlanPoint;
}

function axesOf(angle: Radians): Axes {
  // Quarter turns stay exact, so that plans drawn square give square numbers.
  const quarter = Math.round(angle / (Math.PI / 2));
  const square = Math.abs(angle - quarter * (Math.PI / 2)) < 1e-9;
  const c = square ? 1 : Math.cos(angle);
  const s = square ? 0 : Math.sin(angle);
  return {
    along: square && quarter % 2 !== 0 ? 1 : 0,
    turn: (p) => ({ x: c * p.x + s * p.y, y: c * p.y - s * p.x }),
    back: (p) => ({ x: c * p.x - s * p.y, y: c * p.y + s * p.x }),
  };
}

/** The void of a storey as it is to a route. */
export interface VoidFacts {
  readonly on: 'ceiling' | 'floor';
  readonly storey: Storey;
  readonly joists: Joists | null;
  readonly insulated: boolean;
}

/** The void over or under a storey; null when it is solid. */
export function voidFacts(storey: Storey, on: 'ceiling' | 'floor'): VoidFacts | null {
  const build = on === 'ceiling' ? storey.ceiling : storey.floor;
  if (build.kind !== 'void') return null;
  return {
    on,
    storey,
    joists: build.joists,
    insulated: on === 'ceiling' && storey.ceiling.insulation !== 'none',
  };
}

/**
 * Adds the lines of a void, square to its joists (else to the plan): through every entry when there are few, else
 * through the trunk entries, with a stub from every other entry to the next trunk line each way. Lines stay within the
 * outer walls and clear of beams and no-cable places. Returns the crossing number of each entry (-1 outside the building).
 */
export function addVoidLines(
  net: LineNet,
  doc: PlanDocument,
  fabric: Fabric,
  facts: VoidFacts,
  entries: readonly Entry[],
): number[] {
  const axes = axesOf(facts.joists?.direction ?? 0);
  const spots = entries.map((e) => axes.turn(e));
  const outer = fabric.outside.map((loop) =>
    loop.map((id) => axes.turn(fabric.faces.get(id)?.a ?? { x: 0, y: 0 })),
  );
  const stops: PlanPoint[][] = [];
  const wool: PlanPoint[][] = [];
  for (const { kind, place } of rows(doc.things)) {
    if (place.on !== 'plan' || place.storey !== facts.storey.id || place.where !== facts.on) continue;
    if (kind === 'no-cable' || kind === 'beam') stops.push(place.outline.map((p) => axes.turn(p)));
    if (kind === 'insulation' || kind === 'polystyrene') wool.push(place.outline.map((p) => axes.turn(p)));
  }
  const all = {
    xs: distinct(spots.map((p) => p.x)),
    ys: distinct(spots.map((p) => p.y)),
  };
  const few = all.xs.length * all.ys.length <= MOST_CROSSINGS;
  const trunk = spots.filter((_, i) => entries[i]?.trunk);
  const xs = few ? all.xs : distinct(trunk.map((p) => p.x));
  const ys = few ? all.ys : distinct(trunk.map((p) => p.y));
  if (xs.length === 0 || ys.length === 0) return entries.map(() => -1);

  const near = (values: readonly Mm[], v: Mm): number => values.findIndex((w) => Math.abs(w - v) <= 0.01);
  const known = new Map<string, number>();
  const crossing = (x: Mm, y: Mm): number => {
    const key = `${Math.round(x * 100)},${Math.round(y * 100)}`;
    let number = known.get(key);
    if (number === undefined) {
      number = addCrossing(net, { on: facts.on, storey: facts.storey.id, ...axes.back({ x, y }) });
      known.set(key, number);
    }
    return number;
  };

  // Every line with the crossings it carries, so that a stub's foot splits the trunk it meets.
  const alongX = new Map<number, Set<Mm>>(ys.map((_, j) => [j, new Set(xs)]));
  const alongY = new Map<number, Set<Mm>>(xs.map((_, i) => [i, new Set(ys)]));
  const stubs: { a: PlanPoint; b: PlanPoint; heading: 0 | 1 }[] = [];
  for (const p of spots) {
    const i = near(xs, p.x);
    const j = near(ys, p.y);
    if (i >= 0) alongY.get(i)?.add(j >= 0 ? (ys[j] as Mm) : p.y);
    if (j >= 0) alongX.get(j)?.add(i >= 0 ? (xs[i] as Mm) : p.x);
    if (i < 0) {
      for (const x of [xs.findLast((v) => v < p.x), xs.find((v) => v > p.x)]) {
        if (x === undefined || j >= 0) continue;
        stubs.push({ a: p, b: { x, y: p.y }, heading: 0 });
        alongY.get(near(xs, x))?.add(p.y);
      }
    }
    if (j < 0) {
      for (const y of [ys.findLast((v) => v < p.y), ys.find((v) => v > p.y)]) {
        if (y === undefined || i >= 0) continue;
        stubs.push({ a: p, b: { x: p.x, y }, heading: 1 });
        alongX.get(near(ys, y))?.add(p.x);
      }
    }
  }

  const straights = (line: readonly PlanPoint[], heading: 0 | 1): void => {
    const first = line[0] as PlanPoint;
    const last = line[line.length - 1] as PlanPoint;
    const whole = { lo: 0, hi: Math.hypot(last.x - first.x, last.y - first.y) };
    const blockedParts = insideIntervals(first, last, stops, EDGE);
    const free = insideIntervals(first, last, outer, EDGE).flatMap((part) =>
      intervalGaps(part, blockedParts, EDGE),
    );
    const wrapped = facts.insulated ? [whole] : insideIntervals(first, last, wool, EDGE);
    const at = (p: PlanPoint): Mm => (heading === 0 ? p.x - first.x : p.y - first.y);
    for (let k = 1; k < line.length; k += 1) {
      const a = line[k - 1] as PlanPoint;
      const b = line[k] as PlanPoint;
      if (!isCovered(free, at(a), at(b))) continue;
      addStraight(net, crossing(a.x, a.y), crossing(b.x, b.y), heading, voidCount(at(a), at(b), wrapped));
    }
    function voidCount(lo: Mm, hi: Mm, list: readonly Interval[]): Partial<RouteCount> {
      const length = hi - lo;
      const inWool = intervalTotal(list.flatMap((i) => intervalOverlap(i, { lo, hi }) ?? []));
      const across = facts.joists !== null && heading !== axes.along;
      return {
        metres: length / 1000,
        timberHoles: across ? length / (facts.joists?.centres ?? length) : 0,
        insulationMetres: inWool / 1000,
      };
    }
  };
  const sorted = (set: ReadonlySet<Mm>): Mm[] => distinct([...set]);
  ys.forEach((y, j) => {
    const line = sorted(alongX.get(j) ?? new Set()).map((x) => ({ x, y }));
    if (line.length > 1) straights(line, 0);
  });
  xs.forEach((x, i) => {
    const line = sorted(alongY.get(i) ?? new Set()).map((y) => ({ x, y }));
    if (line.length > 1) straights(line, 1);
  });
  for (const { a, b, heading } of stubs) {
    const forward = heading === 0 ? a.x <= b.x : a.y <= b.y;
    straights(forward ? [a, b] : [b, a], heading);
  }
  return spots.map((p) => {
    const i = near(xs, p.x);
    const j = near(ys, p.y);
    return crossing(i >= 0 ? (xs[i] as Mm) : p.x, j >= 0 ? (ys[j] as Mm) : p.y);
  });
}

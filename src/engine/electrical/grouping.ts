import { spaceSub } from '../geometry/vector.ts';
import type { Leg } from '../fabric/types.ts';
import type { Cable, Id, Run } from '../model/document.ts';
import { ask, type Derivation } from '../memo/derivation.ts';
import { same, sameMembers } from '../memo/same.ts';
import { find } from '../model/tables.ts';
import type { Mm, SpacePoint } from '../model/units.ts';
import type { ElectricalInput } from './net.ts';

/** A leg of a mains cable and whose it is. */
export interface OwnedLeg {
  readonly run: Run;
  readonly cable: Cable;
  readonly leg: Leg;
}

/** A stretch of a leg with another cable beside it. */
export interface Beside {
  readonly t0: number;
  readonly t1: number;
  readonly other: OwnedLeg;
}

/** Lines are hashed by strips this wide, cut every so often, and slanting ones by squares, mm. */
const STRIP: Mm = 250;
const CUT: Mm = 4000;
/** No two cables of a group are further apart than this, mm. */
const PAD: Mm = 100;
/** Legs whose directions differ by less than this (sine) are parallel. */
const PARALLEL = 0.02;
/** Overlaps shorter than this are rounding, mm. */
const LEAST: Mm = 1;

// Legs outlive a change of the plan, so their squares are worked out once.
const squares = new WeakMap<Leg, readonly string[]>();

/** Names of the strips and squares a leg lies in: only legs that share one can lie beside each other. */
export function squaresOfLeg(leg: Leg): readonly string[] {
  const known = squares.get(leg);
  if (known !== undefined) return known;
  const keys = leg.length < LEAST ? [] : stripsOf(leg);
  squares.set(leg, keys);
  return keys;
}

/** One coordinate of a leg from end to end, and how long the squares are that way. */
interface Way {
  readonly from: Mm;
  readonly to: Mm;
  readonly size: Mm;
}

/**
 * Numbers of the squares a leg comes within the pad of: [along `main`, along `cross`]. Walks along the leg, so that there
 * are as many as it is long, not as the square round it is large.
 */
function* squaresAlong(main: Way, cross: Way): Generator<readonly [number, number]> {
  const span = main.to - main.from;
  const [low, high] = [Math.min(main.from, main.to), Math.max(main.from, main.to)];
  const crossAt = (p: Mm): Mm => cross.from + (span === 0 ? 0 : ((p - main.from) / span) * (cross.to - cross.from));
  const last = Math.floor((high + PAD) / main.size);
  for (let i = Math.floor((low - PAD) / main.size); i <= last; i++) {
    const p = Math.max(low, i * main.size - PAD);
    const q = Math.min(high, (i + 1) * main.size + PAD);
    const ends = span === 0 ? [cross.from, cross.to] : [crossAt(p), crossAt(q)];
    const to = Math.floor((Math.max(...ends) + PAD) / cross.size);
    for (let j = Math.floor((Math.min(...ends) - PAD) / cross.size); j <= to; j++) yield [i, j];
  }
}

const wayX = ({ a, b }: Leg, size: Mm): Way => ({ from: a.x, to: b.x, size });
const wayY = ({ a, b }: Leg, size: Mm): Way => ({ from: a.y, to: b.y, size });

/** Squares [x, y] of a leg that may go any way in plan. */
function* squaresAnyWay(leg: Leg, size: Mm): Generator<readonly [number, number]> {
  const [x, y] = [wayX(leg, size), wayY(leg, size)];
  if (Math.abs(x.to - x.from) >= Math.abs(y.to - y.from)) yield* squaresAlong(x, y);
  else for (const [j, i] of squaresAlong(y, x)) yield [i, j];
}

/**
 * Parallel legs only are ever compared, so each axis has strips of its own. A leg a little off an axis is filed under the
 * axis and among the slanting ones, so that no two legs parallel within the tolerance are filed apart.
 */
function stripsOf(leg: Leg): string[] {
  const { a, b, storey, length } = leg;
  const keys: string[] = [];
  const file = (kind: string, squares: Iterable<readonly [number, number]>): void => {
    for (const [i, j] of squares) keys.push(`${storey} ${kind} ${i} ${j}`);
  };
  const offAxis = (along: Mm): number => Math.sqrt(Math.max(0, 1 - (along / length) ** 2));
  const offX = offAxis(b.x - a.x);
  const offY = offAxis(b.y - a.y);
  const offZ = Math.hypot(b.x - a.x, b.y - a.y) / length;
  if (offX <= 1.5 * PARALLEL) file('x', squaresAlong(wayX(leg, CUT), wayY(leg, STRIP)));
  if (offY <= 1.5 * PARALLEL) file('y', squaresAlong(wayY(leg, CUT), wayX(leg, STRIP)));
  if (offZ <= 1.5 * PARALLEL) file('z', squaresAnyWay(leg, STRIP));
  if (Math.min(offX, offY, offZ) > PARALLEL / 4) file('d', squaresAnyWay(leg, CUT));
  return keys;
}

interface OwnLegs {
  readonly legs: readonly OwnedLeg[];
  readonly bySquare: ReadonlyMap<string, readonly OwnedLeg[]>;
}

const NO_LEGS: OwnLegs = { legs: [], bySquare: new Map() };

/** The legs of a mains cable and the squares they lie in. One that lies as before is the same object. */
const OWN_LEGS: Derivation<ElectricalInput, OwnLegs> = {
  name: 'loaded legs of a run',
  work: ({ doc, checks }, id, before) => {
    const run = find(doc, 'runs', id);
    const cable = find(doc, 'cables', run?.cable ?? null);
    if (run === undefined || cable === undefined || cable.use === 'data' || run.circuit === null) return NO_LEGS;
    const legs = (checks.get(id)?.legs ?? []).map(({ leg }, i): OwnedLeg => {
      const [old, now] = [before?.legs[i], { run, cable, leg }];
      return old !== undefined && same(old, now) ? old : now;
    });
    const bySquare = new Map<string, OwnedLeg[]>();
    for (const own of legs) {
      for (const key of squaresOfLeg(own.leg)) {
        const list = bySquare.get(key);
        if (list === undefined) bySquare.set(key, [own]);
        else list.push(own);
      }
    }
    return { legs, bySquare };
  },
  equal: (a, b) => sameMembers(a.legs, b.legs),
};

const RUNS_BY_SQUARE: Derivation<ElectricalInput, ReadonlyMap<string, readonly Id[]>> = {
  name: 'runs by square',
  work: (input) => {
    const bySquare = new Map<string, Id[]>();
    for (const id of input.doc.runs.order) {
      for (const square of ask(input, OWN_LEGS, id).bySquare.keys()) {
        const list = bySquare.get(square);
        if (list === undefined) bySquare.set(square, [id]);
        else list.push(id);
      }
    }
    return bySquare;
  },
};

/** Loaded legs in a square: of the runs kept by square where there are any, else out of a table of the whole plan. */
const LEGS_IN: Derivation<ElectricalInput, readonly OwnedLeg[]> = {
  name: 'legs in a square',
  work: (input, square) =>
    ((input.squareRuns ?? ask(input, RUNS_BY_SQUARE)).get(square) ?? []).flatMap(
      (id) => ask(input, OWN_LEGS, id).bySquare.get(square) ?? [],
    ),
  equal: sameMembers,
};

const dot = (a: SpacePoint, b: SpacePoint): number => a.x * b.x + a.y * b.y + a.z * b.z;

/** Clear space between two cables up to which they are a group: one width of the wider (spaced further, 4C1 eases off). */
function nearEnough(a: Cable, b: Cable): Mm {
  return (a.width + b.width) / 2 + Math.max(a.width, b.width);
}

/** The stretch of leg `a` that leg `b` runs beside, as fractions; null when it does not. Parallel legs only. */
export function besideStretch(a: Leg, b: Leg, near: Mm): { readonly t0: number; readonly t1: number } | null {
  const [d, e] = [spaceSub(a.b, a.a), spaceSub(b.b, b.a)];
  if (a.length < LEAST || b.length < LEAST) return null;
  const cos = dot(d, e) / (a.length * b.length);
  if (1 - cos * cos > PARALLEL * PARALLEL) return null;
  const along = (p: SpacePoint): number => dot(spaceSub(p, a.a), d) / (a.length * a.length);
  const off = (p: SpacePoint): number => {
    const v = spaceSub(p, a.a);
    return Math.sqrt(Math.max(0, dot(v, v) - (dot(v, d) / a.length) ** 2));
  };
  if (Math.min(off(b.a), off(b.b)) > near) return null;
  const [s, t] = [along(b.a), along(b.b)];
  const [t0, t1] = [Math.max(0, Math.min(s, t)), Math.min(1, Math.max(s, t))];
  return (t1 - t0) * a.length < LEAST ? null : { t0, t1 };
}

/** Cables of other circuits that run beside a leg. */
export function besideLeg(input: ElectricalInput, own: OwnedLeg): Beside[] {
  const seen = new Set<OwnedLeg>();
  const found: Beside[] = [];
  for (const key of squaresOfLeg(own.leg)) {
    for (const other of ask(input, LEGS_IN, key)) {
      if (other.run.circuit === own.run.circuit || seen.has(other)) continue;
      seen.add(other);
      const part = besideStretch(own.leg, other.leg, nearEnough(own.cable, other.cable));
      if (part !== null) found.push({ ...part, other });
    }
  }
  return found;
}

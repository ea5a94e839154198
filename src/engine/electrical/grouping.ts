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
const squares = new WeakMap<Leg, ReadonlySet<string>>();

/** Names of the strips and squares a leg lies in: only legs that share one can lie beside each other. */
export function squaresOfLeg(leg: Leg): ReadonlySet<string> {
  const known = squares.get(leg);
  if (known !== undefined) return known;
  const keys = new Set(leg.length < LEAST ? [] : stripsOf(leg));
  squares.set(leg, keys);
  return keys;
}

/** Numbers of the cells of this size within reach of a stretch. */
function* cells(p: Mm, q: Mm, size: Mm): Generator<number> {
  const to = Math.floor((Math.max(p, q) + PAD) / size);
  for (let i = Math.floor((Math.min(p, q) - PAD) / size); i <= to; i++) yield i;
}

/**
 * Cells of a grid within reach of a line from `a` to `b`, given across and along: row by row only those the line passes
 * over, so that their number grows with its length and not with the area it spans.
 */
function* cellsAlong(
  a: readonly [Mm, Mm],
  b: readonly [Mm, Mm],
  across: Mm,
  along: Mm,
): Generator<readonly [number, number]> {
  const [far, rise] = [b[1] - a[1], b[0] - a[0]];
  const at = (v: Mm): Mm => a[0] + rise * Math.min(1, Math.max(0, (v - a[1]) / far));
  for (const j of cells(a[1], b[1], along)) {
    const [p, q] = far === 0 ? [a[0], b[0]] : [at(j * along - PAD), at((j + 1) * along + PAD)];
    for (const i of cells(p, q, across)) yield [i, j];
  }
}

/**
 * Parallel legs only are ever compared, so each axis has strips of its own. A leg a little off an axis is filed under the
 * axis and among the slanting ones, so that no two legs parallel within the tolerance are filed apart.
 */
function* stripsOf({ a, b, storey, length }: Leg): Generator<string> {
  const level = Math.hypot(b.x - a.x, b.y - a.y) / length;
  const alongX = Math.abs(b.x - a.x) / length;
  const alongY = Math.abs(b.y - a.y) / length;
  const off = {
    x: Math.sqrt(Math.max(0, 1 - alongX ** 2)),
    y: Math.sqrt(Math.max(0, 1 - alongY ** 2)),
    z: level,
  };
  const [p, q] = [
    [a.x, a.y],
    [b.x, b.y],
  ] as const;
  const [pTurned, qTurned] = [
    [a.y, a.x],
    [b.y, b.x],
  ] as const;
  if (off.x <= 1.5 * PARALLEL) {
    for (const [i, j] of cellsAlong(pTurned, qTurned, STRIP, CUT)) yield `${storey} x ${i} ${j}`;
  }
  if (off.y <= 1.5 * PARALLEL) {
    for (const [i, j] of cellsAlong(p, q, STRIP, CUT)) yield `${storey} y ${i} ${j}`;
  }
  if (off.z <= 1.5 * PARALLEL) {
    for (const [i, j] of cellsAlong(p, q, STRIP, STRIP)) yield `${storey} z ${i} ${j}`;
  }
  if (Math.min(off.x, off.y, off.z) > PARALLEL / 4) {
    for (const [i, j] of cellsAlong(p, q, CUT, CUT)) yield `${storey} d ${i} ${j}`;
  }
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
    if (run === undefined || cable === undefined || cable.use === 'data' || run.circuit === null)
      return NO_LEGS;
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

/** Distance of a spot from the line of a leg, which goes on past its ends, mm. The leg has a length. */
export function offLine({ a, b, length }: Leg, p: SpacePoint): Mm {
  const v = spaceSub(p, a);
  return Math.sqrt(Math.max(0, dot(v, v) - (dot(v, spaceSub(b, a)) / length) ** 2));
}

/** The stretch of leg `a` that leg `b` runs beside, as fractions; null when it does not. Parallel legs only. */
export function besideStretch(a: Leg, b: Leg, near: Mm): { readonly t0: number; readonly t1: number } | null {
  const [d, e] = [spaceSub(a.b, a.a), spaceSub(b.b, b.a)];
  if (a.length < LEAST || b.length < LEAST) return null;
  const cos = dot(d, e) / (a.length * b.length);
  if (1 - cos * cos > PARALLEL * PARALLEL) return null;
  const along = (p: SpacePoint): number => dot(spaceSub(p, a.a), d) / (a.length * a.length);
  if (Math.min(offLine(a, b.a), offLine(a, b.b)) > near) return null;
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

import { spaceSub } from '../geometry/vector.ts';
import type { Leg } from '../fabric/types.ts';
import type { Cable, Id, Run } from '../model/document.ts';
import { find, rows } from '../model/tables.ts';
import type { Mm, SpacePoint } from '../model/units.ts';
import { indexOf, type ElectricalInput } from './net.ts';

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

const tables = new WeakMap<ElectricalInput, Map<string, OwnedLeg[]>>();

function tableOf(input: ElectricalInput): Map<string, OwnedLeg[]> {
  let table = tables.get(input);
  if (table !== undefined) return table;
  table = new Map();
  for (const run of rows(input.doc.runs)) {
    const cable = find(input.doc, 'cables', run.cable);
    if (cable === undefined || cable.use === 'data' || run.circuit === null) continue;
    for (const { leg } of input.checks.get(run.id)?.legs ?? []) {
      if (leg.length < LEAST) continue;
      const owned = { run, cable, leg };
      for (const key of squaresOfLeg(leg)) {
        const list = table.get(key);
        if (list === undefined) table.set(key, [owned]);
        else list.push(owned);
      }
    }
  }
  tables.set(input, table);
  return table;
}

/** Loaded legs in a square: from the runs kept by square where there are any, else from a table of the whole plan. */
function legsIn(input: ElectricalInput, square: string): readonly OwnedLeg[] {
  if (input.squareRuns === undefined) return tableOf(input).get(square) ?? [];
  let asked = tables.get(input);
  if (asked === undefined) {
    asked = new Map();
    tables.set(input, asked);
  }
  let legs = asked.get(square);
  if (legs === undefined) {
    legs = [];
    for (const id of input.squareRuns.get(square) ?? []) {
      const run = find(input.doc, 'runs', id);
      const cable = find(input.doc, 'cables', run?.cable ?? null);
      if (run === undefined || cable === undefined || cable.use === 'data' || run.circuit === null) continue;
      for (const { leg } of input.checks.get(id)?.legs ?? []) {
        if (squaresOfLeg(leg).has(square)) legs.push({ run, cable, leg });
      }
    }
    asked.set(square, legs);
  }
  return legs;
}

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
  const seen = new Set<Leg>();
  const found: Beside[] = [];
  for (const key of squaresOfLeg(own.leg)) {
    for (const other of legsIn(input, key)) {
      if (other.run.circuit === own.run.circuit || seen.has(other.leg)) continue;
      seen.add(other.leg);
      const part = besideStretch(own.leg, other.leg, nearEnough(own.cable, other.cable));
      if (part !== null) found.push({ ...part, other });
    }
  }
  return found;
}

/** Circuits with a cable beside one of these runs. */
export function circuitsBesideRuns(input: ElectricalInput, runs: Iterable<Id>): Set<Id> {
  const found = new Set<Id>();
  for (const id of runs) {
    const run = find(input.doc, 'runs', id);
    if (run === undefined) continue;
    const cable = find(input.doc, 'cables', run.cable);
    if (cable === undefined || cable.use === 'data' || run.circuit === null) continue;
    for (const { leg } of input.checks.get(run.id)?.legs ?? []) {
      for (const { other } of besideLeg(input, { run, cable, leg })) {
        if (other.run.circuit !== null) found.add(other.run.circuit);
      }
    }
  }
  return found;
}

/** Circuits with a cable beside one of this circuit's. */
export function circuitsBeside(input: ElectricalInput, circuit: Id): ReadonlySet<Id> {
  return circuitsBesideRuns(input, indexOf(input).circuitRuns.get(circuit) ?? []);
}

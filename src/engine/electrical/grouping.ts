import { spaceSub } from '../geometry/vector.ts';
import type { Leg } from '../fabric/types.ts';
import type { Cable, Id, Run } from '../model/document.ts';
import { find, rows } from '../model/tables.ts';
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

/** Voids are hashed by squares of this size, mm. */
const CELL: Mm = 2000;
/** No two cables of a group are further apart than this, mm. */
const PAD: Mm = 100;
/** Legs whose directions differ by less than this (sine) are parallel. */
const PARALLEL = 0.02;
/** Overlaps shorter than this are rounding, mm. */
const LEAST: Mm = 1;

// Legs outlive a change of the plan, so their squares are worked out once.
const squares = new WeakMap<Leg, readonly string[]>();

function keysOf({ leg }: OwnedLeg): readonly string[] {
  const known = squares.get(leg);
  if (known !== undefined) return known;
  const keys = squaresOf(leg);
  squares.set(leg, keys);
  return keys;
}

function squaresOf(leg: Leg): string[] {
  if (leg.face !== null) return [leg.face];
  const keys: string[] = [];
  const cell = (v: number) => Math.floor(v / CELL);
  for (let i = cell(Math.min(leg.a.x, leg.b.x) - PAD); i <= cell(Math.max(leg.a.x, leg.b.x) + PAD); i++) {
    for (let j = cell(Math.min(leg.a.y, leg.b.y) - PAD); j <= cell(Math.max(leg.a.y, leg.b.y) + PAD); j++) {
      keys.push(`${leg.storey} ${i} ${j}`);
    }
  }
  return keys;
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
      for (const key of keysOf(owned)) {
        const list = table.get(key);
        if (list === undefined) table.set(key, [owned]);
        else list.push(owned);
      }
    }
  }
  tables.set(input, table);
  return table;
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
  const table = tableOf(input);
  const seen = new Set<Leg>();
  const found: Beside[] = [];
  for (const key of keysOf(own)) {
    for (const other of table.get(key) ?? []) {
      if (other.run.circuit === own.run.circuit || seen.has(other.leg)) continue;
      seen.add(other.leg);
      const part = besideStretch(own.leg, other.leg, nearEnough(own.cable, other.cable));
      if (part !== null) found.push({ ...part, other });
    }
  }
  return found;
}

/** Circuits with a cable beside one of this circuit's. */
export function circuitsBeside(input: ElectricalInput, circuit: Id): ReadonlySet<Id> {
  const found = new Set<Id>();
  for (const run of rows(input.doc.runs)) {
    if (run.circuit !== circuit) continue;
    const cable = find(input.doc, 'cables', run.cable);
    if (cable === undefined || cable.use === 'data') continue;
    for (const { leg } of input.checks.get(run.id)?.legs ?? []) {
      for (const { other } of besideLeg(input, { run, cable, leg })) {
        if (other.run.circuit !== null) found.add(other.run.circuit);
      }
    }
  }
  return found;
}

import type { Mm, PlanPoint, Radians } from '../model/units.ts';
import { choleskyOf, choleskySolve, normalEquations } from './leastSquares.ts';

/** One side of an outline as it was taped, and the turn at its end towards the next. */
export interface TapedSide {
  readonly length: Mm;
  /** Turn at the end of this side, clockwise on screen; π/2 for a square corner. Null where nobody knows it. */
  readonly turn: Radians | null;
}

/** A length taped straight across, from corner to corner; corner i is where side i begins. */
export interface TapedDiagonal {
  readonly from: number;
  readonly to: number;
  readonly length: Mm;
}

/** A tape's standard deviation: 3 mm, and 1 mm in each metre. Own estimate of a careful hand with a steel tape. */
export const tapeSd = (length: Mm): Mm => 3 + length / 1000;
/** A corner said to be square, standard deviation: 0.3°, about 5 mm in a metre. Own estimate. */
export const CORNER_SD: Radians = (0.3 * Math.PI) / 180;

export interface Closing {
  /** How far the last side ends from where the first begins, as typed, mm; null while a turn is not known. */
  readonly gap: Mm | null;
  /** Corners as adjusted; corner 0 at the origin, side 0 to the right. */
  readonly corners: readonly PlanPoint[];
  /** Adjusted less taped, mm, a side each. */
  readonly sides: readonly Mm[];
  /** Adjusted less taped, mm, a diagonal each. */
  readonly diagonals: readonly Mm[];
  /** Adjusted less said, radians, a corner each (at the end of each side); 0 where the turn was not known. */
  readonly turns: readonly Radians[];
  /** Root of the weighted mean square: 1 is what tapes do; 3 or more means that a size is wrong, not just inexact. */
  readonly tension: number;
}

export type ClosingResult =
  { readonly ok: true; readonly closing: Closing } | { readonly ok: false; readonly reason: string };

/** Corners as typed, one after the other; the last entry is where the last side ends. Unknown turns count as square. */
export function walkSides(sides: readonly TapedSide[]): PlanPoint[] {
  const spots: PlanPoint[] = [{ x: 0, y: 0 }];
  let heading = 0;
  let at: PlanPoint = { x: 0, y: 0 };
  for (const s of sides) {
    at = { x: at.x + s.length * Math.cos(heading), y: at.y + s.length * Math.sin(heading) };
    spots.push(at);
    heading += s.turn ?? Math.PI / 2;
  }
  return spots;
}

/**
 * Spreads the closing error of a taped outline by least squares: sides, diagonals and corners each give as their error
 * allows. Gauss-Newton from the typed outline with its gap shared along it. A value with a reason where the sizes do not
 * hold the outline (unknown turns without diagonals) or cannot be an outline at all.
 */
export function closeOutline(
  sides: readonly TapedSide[],
  diagonals: readonly TapedDiagonal[] = [],
): ClosingResult {
  const n = sides.length;
  if (n < 3) return { ok: false, reason: 'An outline needs three sides at least.' };
  if (![...sides, ...diagonals].every((s) => Number.isFinite(s.length) && s.length > 0))
    return { ok: false, reason: 'Each length must be more than nothing.' };
  if (diagonals.some((d) => d.from === d.to || !inRange(d.from, n) || !inRange(d.to, n)))
    return { ok: false, reason: 'A diagonal goes from one corner to another.' };
  const walked = walkSides(sides);
  const end = walked[n] as PlanPoint;
  const total = sides.reduce((sum, s) => sum + s.length, 0);
  let gone = 0;
  let corners = sides.map((s, i) => {
    const at = walked[i] as PlanPoint;
    const share = gone / total;
    gone += s.length;
    return { x: at.x - end.x * share, y: at.y - end.y * share };
  });
  for (let turn = 0; turn < 60; turn++) {
    const { rows, off } = equations(sides, diagonals, corners);
    const normal = normalEquations(rows, off);
    const low = choleskyOf(normal.matrix, 1e-12);
    if (!low)
      return {
        ok: false,
        reason: 'These sizes do not hold the outline: tape a diagonal, or say which corners are square.',
      };
    const step = choleskySolve(low, normal.right);
    corners = corners.map((c, i) => ({
      x: c.x + stepOf(step, i, 0),
      y: c.y + stepOf(step, i, 1),
    }));
    if (!corners.every((c) => Number.isFinite(c.x) && Number.isFinite(c.y)))
      return { ok: false, reason: 'These sizes cannot be one outline: look for a wrong one.' };
    if (Math.max(...step.map(Math.abs)) < 1e-9) break;
  }
  const gap = sides.some((s, i) => s.turn === null && i < n - 1) ? null : Math.hypot(end.x, end.y);
  return { ok: true, closing: { gap, corners, ...answers(sides, diagonals, corners) } };
}

const inRange = (i: number, n: number): boolean => Number.isInteger(i) && i >= 0 && i < n;

/** Unknowns: x of corner 1, then x and y of corners 2 onwards; corner 0 and the y of corner 1 stay 0. */
function stepOf(step: readonly number[], corner: number, axis: 0 | 1): number {
  const k = unknownOf(corner, axis);
  return k === null ? 0 : (step[k] as number);
}

function unknownOf(corner: number, axis: 0 | 1): number | null {
  if (corner === 0) return null;
  if (corner === 1) return axis === 0 ? 0 : null;
  return 2 * corner - 3 + axis;
}

const wrapped = (a: Radians): Radians => Math.atan2(Math.sin(a), Math.cos(a));

/** The corners i-1, i, i+1 about the end of side i-1, their headings and the turn between them. */
function turnAt(corners: readonly PlanPoint[], side: number) {
  const n = corners.length;
  const [a, b, c] = [side, (side + 1) % n, (side + 2) % n] as const;
  const [pa, pb, pc] = [corners[a], corners[b], corners[c]] as [PlanPoint, PlanPoint, PlanPoint];
  const before = { x: pb.x - pa.x, y: pb.y - pa.y };
  const after = { x: pc.x - pb.x, y: pc.y - pb.y };
  const turn = wrapped(Math.atan2(after.y, after.x) - Math.atan2(before.y, before.x));
  return { a, b, c, before, after, turn };
}

function equations(
  sides: readonly TapedSide[],
  diagonals: readonly TapedDiagonal[],
  corners: readonly PlanPoint[],
): { readonly rows: number[][]; readonly off: number[] } {
  const n = corners.length;
  const rows: number[][] = [];
  const off: number[] = [];
  const add = (parts: readonly (readonly [number, 0 | 1, number])[], misfit: number, sd: number): void => {
    const row = new Array<number>(2 * n - 3).fill(0);
    for (const [corner, axis, by] of parts) {
      const k = unknownOf(corner, axis);
      if (k !== null) row[k] = (row[k] as number) + by / sd;
    }
    rows.push(row);
    off.push(misfit / sd);
  };
  const distance = (from: number, to: number, length: Mm): void => {
    const [p, q] = [corners[from] as PlanPoint, corners[to] as PlanPoint];
    const now = Math.hypot(q.x - p.x, q.y - p.y);
    const [ux, uy] = [(q.x - p.x) / now, (q.y - p.y) / now];
    add(
      [
        [from, 0, -ux],
        [from, 1, -uy],
        [to, 0, ux],
        [to, 1, uy],
      ],
      length - now,
      tapeSd(length),
    );
  };
  for (const [i, s] of sides.entries()) distance(i, (i + 1) % n, s.length);
  for (const d of diagonals) distance(d.from, d.to, d.length);
  for (const [i, s] of sides.entries()) {
    if (s.turn === null) continue;
    const { a, b, c, before, after, turn } = turnAt(corners, i);
    const [b2, a2] = [before.x ** 2 + before.y ** 2, after.x ** 2 + after.y ** 2];
    // The heading of (x, y) changes by (-y dx + x dy) / r².
    add(
      [
        [c, 0, -after.y / a2],
        [c, 1, after.x / a2],
        [b, 0, after.y / a2 + before.y / b2],
        [b, 1, -after.x / a2 - before.x / b2],
        [a, 0, -before.y / b2],
        [a, 1, before.x / b2],
      ],
      wrapped(s.turn - turn),
      CORNER_SD,
    );
  }
  return { rows, off };
}

function answers(
  sides: readonly TapedSide[],
  diagonals: readonly TapedDiagonal[],
  corners: readonly PlanPoint[],
): Pick<Closing, 'sides' | 'diagonals' | 'turns' | 'tension'> {
  const n = corners.length;
  const between = (from: number, to: number): Mm => {
    const [p, q] = [corners[from] as PlanPoint, corners[to] as PlanPoint];
    return Math.hypot(q.x - p.x, q.y - p.y);
  };
  const { off } = equations(sides, diagonals, corners);
  const spare = off.length - (2 * n - 3);
  return {
    sides: sides.map((s, i) => between(i, (i + 1) % n) - s.length),
    diagonals: diagonals.map((d) => between(d.from, d.to) - d.length),
    turns: sides.map((s, i) => (s.turn === null ? 0 : wrapped(turnAt(corners, i).turn - s.turn))),
    tension: spare > 0 ? Math.sqrt(off.reduce((sum, v) => sum + v * v, 0) / spare) : 0,
  };
}

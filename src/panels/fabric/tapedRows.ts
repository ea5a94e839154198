import type { TapedDiagonal, TapedSide } from '../../engine/geometry/closing.ts';
import type { Mm } from '../../engine/model/units.ts';

/** How the next wall turns: square, by so many degrees to the right, or nobody knows. */
export type Turn = 'right' | 'left' | 'other' | 'unknown';

export interface SideRow {
  readonly length: Mm | null;
  readonly turn: Turn;
  /** To the right, for `other`. */
  readonly degrees: number;
}

export interface DiagonalRow {
  readonly from: number;
  readonly to: number;
  readonly length: Mm | null;
}

export const NEW_WALL: SideRow = { length: null, turn: 'right', degrees: 90 };
export const FOUR_WALLS: readonly SideRow[] = [NEW_WALL, NEW_WALL, NEW_WALL, NEW_WALL];

const TURNS: Readonly<Record<Turn, (row: SideRow) => number | null>> = {
  right: () => Math.PI / 2,
  left: () => -Math.PI / 2,
  other: (row) => (row.degrees * Math.PI) / 180,
  unknown: () => null,
};

/** What was typed, for the working-out; null while a length is missing. */
export function sidesOf(rows: readonly SideRow[]): TapedSide[] | null {
  const sides = rows.flatMap((row) =>
    row.length === null ? [] : [{ length: row.length, turn: TURNS[row.turn](row) }],
  );
  return sides.length === rows.length ? sides : null;
}

export function diagonalsOf(rows: readonly DiagonalRow[]): TapedDiagonal[] {
  return rows.flatMap((row) => (row.length === null ? [] : [{ ...row, length: row.length }]));
}

/** "+4 mm", "−12 mm", "as taped". */
export function correctionText(mm: Mm): string {
  const whole = Math.round(mm);
  if (whole === 0) return 'as taped';
  return `${whole > 0 ? '+' : '−'}${Math.abs(whole)} mm`;
}

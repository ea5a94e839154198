/** One line of the bench: a ratio measured within one run, beside what it should not exceed. */
export interface Row {
  readonly what: string;
  readonly ratio: number;
  /** At most this; null where the figure is only for information. */
  readonly atMost: number | null;
  readonly detail: string;
}

/** Prints rows as a table and tells how many are over their limit. */
export function printRows(rows: readonly Row[]): number {
  const over = rows.filter((r) => r.atMost !== null && !(r.ratio <= r.atMost));
  for (const r of rows) {
    const limit = r.atMost === null ? '' : ` (at most ${r.atMost})`;
    const mark = over.includes(r) ? 'OVER' : 'ok  ';
    console.log(`${mark} ${r.what}: ${r.ratio.toPrecision(3)}${limit}\n       ${r.detail}`);
  }
  return over.length;
}

/** Median of numbers; throws on none. */
export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted[Math.floor(sorted.length / 2)];
  if (middle === undefined) throw new Error('no values');
  return middle;
}

/** Milliseconds a call takes. */
export function timed(call: () => void): number {
  const start = performance.now();
  call();
  return performance.now() - start;
}

/** Rows of numbers, row by row. Never changed by these functions. */
export type Matrix = readonly (readonly number[])[];

/**
 * Cholesky factor (lower triangle) of a symmetric matrix that is positive definite; null where it is not, seen by a pivot
 * no larger than `tolerance` times the largest diagonal value.
 */
export function choleskyOf(a: Matrix, tolerance: number): number[][] | null {
  const n = a.length;
  const largest = Math.max(...a.map((row, i) => Math.abs(row[i] as number)));
  const low = a.map(() => new Array<number>(n).fill(0));
  for (let i = 0; i < n; i++) {
    const li = low[i] as number[];
    for (let j = 0; j <= i; j++) {
      const lj = low[j] as number[];
      let sum = (a[i] as readonly number[])[j] as number;
      for (let k = 0; k < j; k++) sum -= (li[k] as number) * (lj[k] as number);
      if (i === j) {
        if (!(sum > tolerance * largest)) return null;
        li[i] = Math.sqrt(sum);
      } else li[j] = sum / (lj[j] as number);
    }
  }
  return low;
}

/** x of L Lᵀ x = b, L from `choleskyOf`. */
export function choleskySolve(low: Matrix, b: readonly number[]): number[] {
  const n = low.length;
  const x = [...b];
  for (let i = 0; i < n; i++) {
    const row = low[i] as readonly number[];
    for (let k = 0; k < i; k++) x[i] = (x[i] as number) - (row[k] as number) * (x[k] as number);
    x[i] = (x[i] as number) / (row[i] as number);
  }
  for (let i = n - 1; i >= 0; i--) {
    for (let k = i + 1; k < n; k++)
      x[i] = (x[i] as number) - ((low[k] as readonly number[])[i] as number) * (x[k] as number);
    x[i] = (x[i] as number) / ((low[i] as readonly number[])[i] as number);
  }
  return x;
}

/** Inverse of L Lᵀ: the covariance of a least-squares fit of unit weight when L is the factor of its normal matrix. */
export function choleskyInverse(low: Matrix): number[][] {
  return low.map((_, i) =>
    choleskySolve(
      low,
      low.map((_row, k) => (k === i ? 1 : 0)),
    ),
  );
}

/** Normal matrix JᵀJ and right side Jᵀr of rows of a Jacobian and their residuals. */
export function normalEquations(
  rows: Matrix,
  residuals: readonly number[],
): { readonly matrix: number[][]; readonly right: number[] } {
  const n = rows[0]?.length ?? 0;
  const matrix = Array.from({ length: n }, () => new Array<number>(n).fill(0));
  const right = new Array<number>(n).fill(0);
  for (const [r, row] of rows.entries())
    for (let i = 0; i < n; i++) {
      const ri = row[i] as number;
      right[i] = (right[i] as number) + ri * (residuals[r] as number);
      const into = matrix[i] as number[];
      for (let j = 0; j < n; j++) into[j] = (into[j] as number) + ri * (row[j] as number);
    }
  return { matrix, right };
}

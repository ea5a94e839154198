/** A resistance between two nodes. */
export interface Resistor {
  readonly a: number;
  readonly b: number;
  readonly ohm: number;
}

/**
 * Volts at each node, node 0 being the reference, when the given currents (A) are drawn from the nodes: the nodal
 * equations solved by elimination with pivoting. Every node must be joined to node 0, every resistance above zero.
 */
export function nodalVolts(
  count: number,
  resistors: readonly Resistor[],
  drawn: readonly number[],
): number[] {
  const n = count - 1;
  const rows = Array.from({ length: n }, (_, i) => {
    const row = new Array<number>(n + 1).fill(0);
    row[n] = -(drawn[i + 1] ?? 0);
    return row;
  });
  const add = (i: number, j: number, g: number): void => {
    const row = rows[i];
    if (row !== undefined && j < n) row[j] = (row[j] as number) + g;
  };
  for (const { a, b, ohm } of resistors) {
    if (!(ohm > 0)) throw new RangeError('a resistance must be above zero');
    const g = 1 / ohm;
    if (a > 0) add(a - 1, a - 1, g);
    if (b > 0) add(b - 1, b - 1, g);
    if (a > 0 && b > 0) {
      add(a - 1, b - 1, -g);
      add(b - 1, a - 1, -g);
    }
  }
  for (let k = 0; k < n; k++) {
    let pivot = k;
    for (let i = k + 1; i < n; i++) {
      if (Math.abs(rows[i]?.[k] as number) > Math.abs(rows[pivot]?.[k] as number)) pivot = i;
    }
    [rows[k], rows[pivot]] = [rows[pivot] as number[], rows[k] as number[]];
    const top = rows[k] as number[];
    if (Math.abs(top[k] as number) < 1e-15) throw new RangeError('a node is joined to nothing');
    for (let i = k + 1; i < n; i++) {
      const row = rows[i] as number[];
      const f = (row[k] as number) / (top[k] as number);
      if (f === 0) continue;
      for (let j = k; j <= n; j++) row[j] = (row[j] as number) - f * (top[j] as number);
    }
  }
  const volts = new Array<number>(count).fill(0);
  for (let k = n - 1; k >= 0; k--) {
    const row = rows[k] as number[];
    let sum = row[n] as number;
    for (let j = k + 1; j < n; j++) sum -= (row[j] as number) * (volts[j + 1] as number);
    volts[k + 1] = sum / (row[k] as number);
  }
  return volts;
}

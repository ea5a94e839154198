import { readFileSync } from 'node:fs';
import type { PackingTask } from '../../../../src/engine/takeoff/packing/types.ts';

export interface Published {
  readonly name: string;
  readonly task: PackingTask;
  /** The best number of bins printed in the file; two of binpack1 have since been bettered (README). */
  readonly printed: number;
}

/** Reads an OR-Library bin packing file: count, then name, capacity, items and best known, and one size a line. */
export function published(file: string): Published[] {
  const words = readFileSync(new URL(file, import.meta.url), 'utf8')
    .split(/\s+/)
    .filter((w) => w !== '');
  let at = 1;
  const next = () => Number(words[at++]);
  return Array.from({ length: Number(words[0]) }, () => {
    const name = words[at++] ?? '';
    const capacity = next();
    const count = next();
    const printed = next();
    const sizes = Array.from({ length: count }, next).sort((a, b) => b - a);
    return { name, printed, task: { sizes, kinds: [{ capacity, cost: 1 }], owned: [] } };
  });
}

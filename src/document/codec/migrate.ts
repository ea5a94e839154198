import type { Migration } from './migrations/plain.ts';
import { toVersion2 } from './migrations/toVersion2.ts';

/** Step N of this list brings a file of version N + 1 to version N + 2. Version 1 is the first there ever was. */
export const MIGRATIONS: readonly Migration[] = [toVersion2];

/** Brings a file from its version up to the newest, one step at a time. Throws when a step forgets its version. */
export function migrated(
  file: Readonly<Record<string, unknown>>,
  version: number,
  steps: readonly Migration[] = MIGRATIONS,
): Readonly<Record<string, unknown>> {
  let now = file;
  for (let v = version; v <= steps.length; v++) {
    const step = steps[v - 1] as Migration;
    now = step(now);
    if (now['version'] !== v + 1)
      throw new Error(`the migration of version ${v} did not set version ${v + 1}`);
  }
  return now;
}

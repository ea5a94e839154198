import type { Migration } from '../migrate.ts';

type Plain = Readonly<Record<string, unknown>>;

/** What version 2 changed, one small pure step per change, in the order they are applied. */
const CHANGES: readonly ((file: Plain) => Plain)[] = [];

/** Version 1 to version 2: plain JSON in, plain JSON out, the given value untouched. */
export const toVersion2: Migration = (file) => ({
  ...CHANGES.reduce((now, change) => change(now), file),
  version: 2,
});

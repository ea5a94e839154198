import type { Cited } from './cited.ts';
import * as circuits from './circuits.ts';
import * as factors from './factors.ts';
import * as limits from './limits.ts';
import * as ratings from './ratings.ts';
import * as resistance from './resistance.ts';
import * as siting from './siting.ts';

const isCited = (x: unknown): x is Cited<unknown> =>
  typeof x === 'object' && x !== null && 'values' in x && 'evidence' in x && 'source' in x;

/** Every table there is, by name: for the list of sources and for the tests that hold each value to its reference. */
export const ALL_TABLES: Readonly<Record<string, Cited<unknown>>> = Object.fromEntries(
  [circuits, factors, limits, ratings, resistance, siting]
    .flatMap((module) =>
      Object.entries(module as Record<string, unknown>).flatMap(([name, value]) =>
        isCited(value) ? [[name, value] as const] : [],
      ),
    )
    // The order of a module's exports depends on what bundled it.
    .sort(([a], [b]) => (a < b ? -1 : 1)),
);

/**
 * How a value is known. `two-sources`: two public pages agree, or one page and a closed-form check. `one-source`: one
 * public page. `memory`: an editable default, never a test oracle.
 */
export type Evidence = 'two-sources' | 'one-source' | 'memory';

/** A table of a standard or of guidance, with where it was seen. */
export interface Cited<T> {
  readonly values: T;
  readonly unit: string;
  readonly source: string;
  readonly evidence: Evidence;
}

/** How a value of the table is to be named beside a result: memory is said. */
export const sourceOf = ({ source, evidence }: Cited<unknown>): string =>
  evidence === 'memory' ? `${source} (from memory: check it)` : source;

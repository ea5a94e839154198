import { weakest, type Evidence, type Source } from '../../model/evidence.ts';

/** A table of a standard or of guidance, with where it was seen. */
export interface Cited<T> {
  readonly values: T;
  readonly unit: string;
  readonly source: string;
  readonly evidence: Evidence;
}

/** A table as it is named beside a result. */
export const sourceOf = ({ source, evidence }: Cited<unknown>): Source => ({ text: source, rank: evidence });

/** What rests on several tables: their sources, each once, and the weakest rank. */
export function sourcesOf(first: Cited<unknown>, ...more: readonly Cited<unknown>[]): Source {
  return {
    text: [...new Set([first, ...more].map((t) => t.source))].join('; '),
    rank: weakest(first.evidence, ...more.map((t) => t.evidence)),
  };
}

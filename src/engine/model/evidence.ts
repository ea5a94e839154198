/**
 * How well a figure or a rule is known. `two-sources`: independent published sources agree, or one and a closed-form
 * check. `one-source`: one published source. `memory`: from memory or common practice, an editable default or a
 * question, never a pass of its own and never the expectation of a test.
 */
export type Evidence = 'two-sources' | 'one-source' | 'memory';

/** Where a rule or figure comes from, as printed, and how well it is known. */
export interface Source {
  readonly text: string;
  readonly rank: Evidence;
}

const WEAKEST: readonly Evidence[] = ['memory', 'one-source', 'two-sources'];

/** What rests on several figures is known as well as the least of them. */
export function weakest(first: Evidence, ...more: readonly Evidence[]): Evidence {
  return WEAKEST.find((rank) => rank === first || more.includes(rank)) ?? first;
}

/** As it stands beside a result, in words. */
export const EVIDENCE_WORDS: Readonly<Record<Evidence, string>> = {
  'two-sources': 'agreed by independent published sources',
  'one-source': 'one published source',
  memory: 'from memory or common practice: look it up',
};

/** Something printed at two public pages or more. */
export const agreed = (text: string): Source => ({ text, rank: 'two-sources' });

/** Something printed at one public page. */
export const once = (text: string): Source => ({ text, rank: 'one-source' });

/** Something no published page was seen for. */
export const remembered = (text: string): Source => ({ text, rank: 'memory' });

/** Source and rank in one line, for sheets and reports. */
export const ranked = ({ text, rank }: Source): string => `${text} [${EVIDENCE_WORDS[rank]}]`;

import type { Finding } from '../checks/types.ts';

/** Something for which cable is not counted yet, with the findings that tell of it. */
export interface Gap {
  readonly what: string;
  readonly findings: readonly Finding[];
}

/** Rules that mean cable is still missing from the take-off, or counted without an end; and how many of each are told. */
const MISSING: readonly { readonly rules: readonly string[]; readonly one: string; readonly many: string }[] =
  [
    { rules: ['ring-open'], one: 'ring not closed', many: 'rings not closed' },
    {
      rules: ['circuit-not-reaching-board', 'circuit-no-board'],
      one: 'part of a circuit not joined to its board',
      many: 'parts of circuits not joined to their board',
    },
    { rules: ['point-unreached'], one: 'point no run reaches', many: 'points no run reaches' },
    { rules: ['point-unassigned'], one: 'point on no circuit', many: 'points on no circuit' },
    {
      rules: ['parked-end'],
      one: 'run with an end on no point (counted as far as it is drawn)',
      many: 'runs with an end on no point (counted as far as they are drawn)',
    },
    {
      rules: ['run-unresolved'],
      one: 'run whose way through the building is not clear',
      many: 'runs whose way through the building is not clear',
    },
    {
      rules: ['run-longer-than-drum'],
      one: 'run longer than any drum, on no drum below',
      many: 'runs longer than any drum, on no drum below',
    },
  ];

/**
 * What keeps a take-off from being complete, out of the findings nobody has accepted. Each subject is told once a rule.
 * Empty when every circuit is closed, every point reached, and every run whole and on a drum.
 */
export function takeOffGaps(open: readonly Finding[]): Gap[] {
  return MISSING.flatMap(({ rules, one, many }) => {
    const findings = open.filter((f) => rules.includes(f.rule));
    if (findings.length === 0) return [];
    return [{ what: `${findings.length} ${findings.length === 1 ? one : many}`, findings }];
  });
}

/** The same in one line, for the top of lists and letters; null when nothing is missing. */
export function gapsLine(gaps: readonly Gap[]): string | null {
  if (gaps.length === 0) return null;
  return `NOT COMPLETE: ${gaps.map((g) => g.what).join('; ')}. More cable will be needed than is listed here.`;
}

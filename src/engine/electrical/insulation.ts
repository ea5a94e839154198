import type { Run } from '../model/document.ts';
import type { Mm } from '../model/units.ts';
import { runConditions, type ConditionStretch } from './conditions.ts';
import type { ElectricalInput } from './net.ts';

/** What of a run lies wholly surrounded by thermal insulation. */
export interface InInsulation {
  /** All of it together. */
  readonly totalMm: Mm;
  /** The longest piece, which decides the factor, and a stretch of it. */
  readonly longestMm: Mm;
  readonly at: ConditionStretch;
  readonly pieces: number;
}

/** Metres of a run wholly surrounded by insulation, whatever its rating comes to; null when there are none. */
export function inInsulation(input: ElectricalInput, run: Run): InInsulation | null {
  const { stretches } = runConditions(input, run);
  let found: InInsulation | null = null;
  stretches.forEach((s, i) => {
    if (s.surrounded <= 0) return;
    const before = stretches[i - 1];
    // A piece may be cut into stretches by what runs beside it.
    const goesOn =
      before !== undefined && before.surrounded > 0 && before.leg === s.leg && before.t1 === s.t0;
    const longer = found === null || s.surrounded > found.longestMm;
    found = {
      totalMm: (found?.totalMm ?? 0) + s.length,
      longestMm: longer ? s.surrounded : (found?.longestMm ?? 0),
      at: longer ? s : (found?.at ?? s),
      pieces: (found?.pieces ?? 0) + (goesOn ? 0 : 1),
    };
  });
  return found;
}

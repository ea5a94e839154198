import { agreed, type Evidence } from '../../model/evidence.ts';
import { find } from '../../model/tables.ts';
import { neededRating, shortfallsOf, type Shortfall } from '../../electrical/bundle.ts';
import type { ConditionStretch } from '../../electrical/conditions.ts';
import type { CircuitFacts } from '../../electrical/facts.ts';
import type { ElectricalInput } from '../../electrical/net.ts';
import { TABLE_4D5, TABLE_4D5_B } from '../../electrical/tables/ratings.ts';
import { amps, circuitName, type ElectricalCheck } from './check.ts';
import { lengthsByPlace } from './grouped.ts';

/** A rating with the factors that went into it. */
function factorsOf(worst: ConditionStretch): string {
  return [
    `Table 4D5 method ${worst.method} ${worst.it} A`,
    ...(worst.ca === 1 ? [] : [`Ca ${worst.ca}`]),
    ...(worst.cg === 1 ? [] : [`Cg ${worst.cg} for ${worst.grouped.length} circuits side by side`]),
    ...(worst.ci === 1 ? [] : [`Ci ${worst.ci} for ${Math.round(worst.surrounded)} mm in insulation`]),
  ].join(' x ');
}

function saidOf(input: ElectricalInput, facts: CircuitFacts, worst: ConditionStretch): string {
  const run = find(input.doc, 'runs', worst.run);
  const csa = find(input.doc, 'cables', run?.cable ?? null)?.csa ?? 0;
  return `${circuitName(facts)}: ${run?.label ?? worst.run} in ${csa} mm² carries ${amps(worst.iz ?? 0)} where it lies ${worst.why} (${factorsOf(worst)})`;
}

const least = (found: readonly Shortfall[]): Shortfall | undefined =>
  found.toSorted((a, b) => (a.worst.iz ?? 0) - (b.worst.iz ?? 0))[0];

const rankOf = ({ method }: ConditionStretch): Evidence =>
  (method === 'B' ? TABLE_4D5_B : TABLE_4D5).evidence;

/** In <= Iz with the factors of the worst stretch; a ring needs 20 A in each leg. What only crowds at a board is asked. */
export const ratingTooLow: ElectricalCheck = {
  id: 'rating-too-low',
  title: 'Cable rating below its device',
  severity: 'error',
  stage: 'circuits',
  source: (rules) =>
    agreed(
      `${rules.name} 433.1.1 (clause number from memory), 433.1.204 (rings), Tables 4D5, 4C1, 4B1 and 52.2`,
    ),
  look: (facts, input) => {
    const { circuit, worst, iz, conditions } = facts;
    if (conditions.length === 0) return [{ state: 'not-asked' }];
    const needed = neededRating(facts);
    const unknown = conditions.find((c) => c.unknown !== null);
    if (worst === null || worst.iz === null)
      return [{ state: 'open', said: `No rating: ${unknown?.unknown ?? 'nothing is known of its runs'}.` }];
    const asked =
      circuit.topology === 'ring' ? `a ring needs ${needed} A in each leg` : `its device is ${needed} A`;
    const short = shortfallsOf(input, facts);
    const wrong = least(short.filter((s) => s.board === null));
    if (wrong !== undefined) {
      return [
        {
          state: 'breaks',
          said: `${saidOf(input, facts, wrong.worst)}; ${asked}. Too little over ${(wrong.lengthMm / 1000).toFixed(2)} m of it: ${lengthsByPlace(wrong)}.`,
          rank: rankOf(wrong.worst),
          fix: 'Take the run another way, keep it clear of insulation and other loaded cables, or have the designer choose a larger cable or smaller device.',
          where: { stretch: wrong.worst },
        },
      ];
    }
    const rank = rankOf(worst);
    const crowded = least(short);
    if (crowded !== undefined) {
      return [
        {
          state: 'open',
          said: `${saidOf(input, facts, crowded.worst)}; ${asked}. So it is over its first ${(crowded.lengthMm / 1000).toFixed(2)} m from the board, beside other cables: ${lengthsByPlace(crowded)}.`,
          rank,
        },
      ];
    }
    const said = saidOf(input, facts, worst);
    return iz === null
      ? [{ state: 'open', said: `${said}; elsewhere not known: ${unknown?.unknown ?? ''}.`, rank }]
      : [{ state: 'keeps', said: `${said}; ${asked}.`, rank }];
  },
};

import { find } from '../../model/tables.ts';
import { RING_MIN_RATING } from '../../electrical/tables/circuits.ts';
import { amps, circuitName, type ElectricalCheck } from './check.ts';
import { agreed } from '../../model/evidence.ts';

/** In <= Iz with the factors of the worst stretch; a ring needs 20 A in each leg. */
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
    const needed = circuit.topology === 'ring' ? RING_MIN_RATING.values : circuit.device.rating;
    const unknown = conditions.find((c) => c.unknown !== null);
    if (worst === null || worst.iz === null)
      return [{ state: 'open', said: `No rating: ${unknown?.unknown ?? 'nothing is known of its runs'}.` }];
    const run = find(input.doc, 'runs', worst.run);
    const csa = find(input.doc, 'cables', run?.cable ?? null)?.csa ?? 0;
    const factors = [
      `Table 4D5 method ${worst.method} ${worst.it} A`,
      ...(worst.ca === 1 ? [] : [`Ca ${worst.ca}`]),
      ...(worst.cg === 1 ? [] : [`Cg ${worst.cg} for ${worst.grouped.length} circuits side by side`]),
      ...(worst.ci === 1 ? [] : [`Ci ${worst.ci} for ${Math.round(worst.surrounded)} mm in insulation`]),
    ].join(' x ');
    const said = `${circuitName(facts)}: ${run?.label ?? worst.run} in ${csa} mm² carries ${amps(worst.iz)} where it lies ${worst.why} (${factors})`;
    const asked =
      circuit.topology === 'ring' ? `a ring needs ${needed} A in each leg` : `its device is ${needed} A`;
    if (worst.iz < needed - 1e-9) {
      return [
        {
          state: 'breaks',
          said: `${said}; ${asked}.`,
          fix: 'Take the run another way, keep it clear of insulation and other loaded cables, or have the designer choose a larger cable or smaller device.',
          where: { stretch: worst },
        },
      ];
    }
    return iz === null
      ? [{ state: 'open', said: `${said}; elsewhere not known: ${unknown?.unknown ?? ''}.` }]
      : [{ state: 'keeps', said: `${said}; ${asked}.` }];
  },
};

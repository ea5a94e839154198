import { find } from '../../model/tables.ts';
import { ADIABATIC_K, INSTANT_TRIP, TRIP_MULTIPLE } from '../../electrical/tables/limits.ts';
import { circuitName, type ElectricalCheck } from './check.ts';
import { remembered } from '../../model/evidence.ts';

/** Cross-section that stands a fault of so many A for so many s: I sqrt(t) / k, mm². */
export function adiabaticCsa(amps: number, seconds: number, k: number): number {
  return (amps * Math.sqrt(seconds)) / k;
}

/**
 * The protective conductor under a fault at the end of the circuit, cleared at once. Nearer the board the breaker
 * limits what it lets through, which only its maker's figures tell: that is left as a question.
 */
export const adiabatic: ElectricalCheck = {
  id: 'adiabatic',
  title: 'Protective conductor too small for the fault',
  severity: 'warning',
  stage: 'circuits',
  source: (rules) => remembered(`${rules.name} 543.1.3; ${ADIABATIC_K.source}; ${INSTANT_TRIP.source}`),
  look: (facts, input) => {
    const { supply } = input.doc.job;
    if (supply.faultCurrent === null || facts.net.edges.length === 0) return [{ state: 'not-asked' }];
    if (facts.loop === null) return [{ state: 'open', said: facts.net.problem ?? 'No resistance is known.' }];
    const { device } = facts.circuit;
    const least = facts.net.edges.reduce((a, b) => ((b.cable?.cpc ?? 0) < (a.cable?.cpc ?? 0) ? b : a));
    const cpc = least.cable?.cpc ?? 0;
    const fault = Math.min(supply.faultCurrent, supply.nominalV / (supply.ze + facts.loop.r1r2));
    const needed = adiabaticCsa(fault, INSTANT_TRIP.values, ADIABATIC_K.values);
    const withstand = Math.round(ADIABATIC_K.values ** 2 * cpc ** 2);
    const at = find(input.doc, 'points', facts.loop.at)?.label ?? facts.loop.at;
    const said = `${circuitName(facts)}: a fault of ${Math.round(fault)} A at ${at} for ${INSTANT_TRIP.values} s needs ${needed.toFixed(2)} mm² of protective conductor, ${least.run.label} has ${cpc} mm²`;
    if (fault < TRIP_MULTIPLE.values[device.type] * device.rating)
      return [{ state: 'open', said: `${said}; the breaker may take longer than that.` }];
    if (needed > cpc + 1e-9) {
      return [
        {
          state: 'breaks',
          said: `${said}.`,
          fix: 'Have the designer check it with the let-through energy the maker of the device gives.',
          where: { run: least.run.id },
        },
      ];
    }
    return [
      {
        state: 'open',
        said: `${said}. At the board the device must let through no more than ${withstand} A²s of the ${supply.faultCurrent} A: see its maker's figures.`,
      },
    ];
  },
};

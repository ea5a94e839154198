import { find } from '../../model/tables.ts';
import { RING_FAR_LOAD } from '../../electrical/tables/circuits.ts';
import { ratedSize, unratedBecause } from '../../electrical/tables/ratings.ts';
import { circuitName, type ElectricalCheck } from './check.ts';
import { agreed } from '../../model/evidence.ts';

/** 3 % for lights and 5 % for the rest, along the drawn way. */
export const voltageDrop: ElectricalCheck = {
  id: 'voltage-drop',
  title: 'Voltage drop above the limit',
  severity: 'error',
  stage: 'circuits',
  source: (rules) =>
    agreed(`${rules.name} 525.202 and Appendix 4, 6.4 (3 % lighting, 5 % other); mV/A/m: Table 4D5`),
  look: (facts, input) => {
    const { drop, net, current } = facts;
    if (net.edges.length === 0) return [{ state: 'not-asked' }];
    if (net.problem !== null) return [{ state: 'open', said: net.problem }];
    const unrated = net.edges.find((e) => e.cable !== null && ratedSize(e.cable) === null)?.cable;
    if (drop === null) {
      const why = current.amps === null || unrated == null ? current.working : unratedBecause(unrated);
      return [{ state: 'open', said: `The drop is not known: ${why}.` }];
    }
    // The load model of a ring was seen at one source only.
    const rank = facts.circuit.topology === 'ring' ? RING_FAR_LOAD.evidence : 'two-sources';
    const label = find(input.doc, 'points', drop.at)?.label ?? drop.at;
    const share = (drop.volts / input.doc.job.supply.nominalV) * 100;
    const said = `${circuitName(facts)}: ${drop.volts.toFixed(2)} V (${share.toFixed(1)} %) drop at ${label}, limit ${drop.limit.toFixed(1)} V (${drop.working})`;
    if (drop.volts <= drop.limit + 1e-9) return [{ state: 'keeps', said: `${said}.`, rank }];
    return [
      {
        state: 'breaks',
        rank,
        said: `${said}.`,
        fix: 'Shorten the way, part the loads, or have the designer choose a larger cable.',
        where: { point: drop.at },
      },
    ];
  },
};

import { amps, circuitName, type ElectricalCheck } from './check.ts';
import { agreed } from '../../model/evidence.ts';

/** Ib <= In. */
export const currentOverDevice: ElectricalCheck = {
  id: 'current-over-device',
  title: 'Design current above its device',
  severity: 'error',
  stage: 'circuits',
  source: (rules) =>
    agreed(`${rules.name} 433.1.1 (clause number from memory); diversity: IET On-Site Guide Table A2`),
  look: (facts) => {
    const { current, circuit } = facts;
    if (current.amps === null) {
      return current.unstated.length === 0
        ? [{ state: 'not-asked' }]
        : [{ state: 'open', said: 'No load is stated.' }];
    }
    const said = `${circuitName(facts)}: design current ${amps(current.amps)} (${current.working}), device ${circuit.device.rating} A`;
    if (current.amps > circuit.device.rating + 1e-9) {
      return [
        {
          state: 'breaks',
          said: `${said}: the device would trip in use.`,
          fix: 'Part the loads between circuits, or have the designer choose a larger device and cable.',
          where: null,
        },
      ];
    }
    return current.unstated.length > 0
      ? [{ state: 'open', said: `${said}, with loads not stated.` }]
      : [{ state: 'keeps', said: `${said}.` }];
  },
};

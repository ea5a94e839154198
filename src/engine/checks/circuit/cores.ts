import { find } from '../../model/tables.ts';
import { circuitName, type ElectricalCheck } from './check.ts';
import { remembered } from '../../model/evidence.ts';

/** Cores the switching needs, against those of the cable. */
export const tooFewCores: ElectricalCheck = {
  id: 'too-few-cores',
  title: 'Too few cores for the switching',
  severity: 'error',
  stage: 'circuits',
  source: () => remembered('counted from which switch works which point (circuit law, common practice)'),
  look: (facts, input) => {
    if (facts.wiring === null)
      return facts.circuit.topology === 'lighting'
        ? [{ state: 'open', said: facts.net.problem ?? 'Its runs make a loop.' }]
        : [{ state: 'not-asked' }];
    return facts.wiring.runs.map(({ run, cores, available, why }) => {
      const label = find(input.doc, 'runs', run)?.label ?? run;
      const said = `${circuitName(facts)}: ${label} needs ${cores.length} cores and earth (${why}) and has ${available}`;
      return cores.length <= available
        ? { state: 'keeps', said: `${said}.` }
        : {
            state: 'breaks',
            said: `${said}.`,
            fix: 'Choose a cable with more cores for it, or wire the switches another way.',
            where: { run, about: run },
          };
    });
  },
};

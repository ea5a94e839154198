import { AREAS } from '../../electrical/tables/circuits.ts';
import { sourceOf } from '../../electrical/tables/cited.ts';
import type { CircuitFacts } from '../../electrical/facts.ts';
import { circuitName, type ElectricalCheck } from './check.ts';

function limitOf({ circuit, net }: CircuitFacts): number | null {
  if (!net.points.some((p) => p.kind === 'socket')) return null;
  const { ring32, radial32, radial20 } = AREAS.values;
  if (circuit.topology === 'ring') return ring32;
  return circuit.device.rating > 20 ? radial32 : radial20;
}

/** Floor area of the rooms a circuit of socket-outlets serves. */
export const areaTooLarge: ElectricalCheck = {
  id: 'area-too-large',
  title: 'Floor area above the standard circuit',
  severity: 'warning',
  stage: 'circuits',
  source: () => sourceOf(AREAS),
  look: (facts) => {
    const limit = limitOf(facts);
    if (limit === null) return [{ state: 'not-asked' }];
    if (facts.area === null) return [{ state: 'open', said: 'One of its points stands in no room.' }];
    const said = `${circuitName(facts)} serves rooms of ${facts.area.toFixed(1)} m², ${limit} m² at most`;
    if (facts.area <= limit + 1e-9) return [{ state: 'keeps', said: `${said}.` }];
    return [
      {
        state: 'breaks',
        said: `${said}.`,
        fix: 'Part the rooms between circuits, or have the designer justify it.',
        where: null,
      },
    ];
  },
};

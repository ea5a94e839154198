import { find } from '../../model/tables.ts';
import type { CircuitFacts } from '../../electrical/facts.ts';
import { ampsOf } from '../../electrical/loads.ts';
import { treeFrom, type ElectricalInput, type Net, type NetEdge } from '../../electrical/net.ts';
import { FUSE_MAX, RING_STANDARD } from '../../electrical/tables/circuits.ts';
import { sourceOf } from '../../electrical/tables/cited.ts';
import { amps, circuitName, type ElectricalCheck, type Outcome } from './check.ts';

/** The edges that no fused connection unit stands before: the ring itself, and its spurs up to their first fuse. */
export function unfusedEdges(net: Net): readonly NetEdge[] {
  const kind = (id: string) => net.points.find((p) => p.id === id)?.kind;
  const onRing = new Set([...net.loop].flatMap((i) => [net.edges[i]?.a ?? '', net.edges[i]?.b ?? '']));
  const behind = new Set<string>();
  const fused = new Set<number>();
  for (const [id, { edge, from }] of treeFrom(net, [...onRing], (i) => !net.loop.has(i))) {
    if (!behind.has(from) && kind(from) !== 'fused-spur') continue;
    behind.add(id);
    fused.add(edge);
  }
  return net.edges.filter((_, i) => !fused.has(i));
}

function deviceOf(facts: CircuitFacts): Outcome {
  const { device } = facts.circuit;
  const { devices } = RING_STANDARD.values;
  const said = `${circuitName(facts)}: its device is ${device.type}${device.rating}, a ring has ${devices.join(' or ')} A`;
  if (devices.includes(device.rating)) return { state: 'keeps', said: `${said}.` };
  return {
    state: 'breaks',
    said: `${said}.`,
    fix: `Choose a device of ${devices.join(' or ')} A, or make a radial of it.`,
    where: facts.net.board === null ? null : { point: facts.net.board.id, about: 'device' },
  };
}

function cablesOf(facts: CircuitFacts): Outcome {
  const { net } = facts;
  const { line, cpc } = RING_STANDARD.values;
  if (net.problem !== null) return { state: 'open', said: net.problem };
  const thin = unfusedEdges(net).filter((e) => (e.cable?.csa ?? 0) < line || (e.cable?.cpc ?? 0) < cpc);
  const asked = `every leg of a ring and its unfused spurs are ${line} mm² or more, with ${cpc} mm² or more of protective conductor`;
  const first = thin[0];
  if (first === undefined) return { state: 'keeps', said: `${circuitName(facts)}: ${asked}.` };
  const named = thin.map((e) => `${e.run.label} in ${e.cable?.csa ?? 0}/${e.cable?.cpc ?? 0} mm²`);
  return {
    state: 'breaks',
    said: `${circuitName(facts)}: ${named.join(', ')}; ${asked}.`,
    fix: 'Draw these runs in the cable of the ring.',
    where: { run: first.run.id, about: 'cable' },
  };
}

/** The ring final circuit as the rule deems it to hold: its device, and its cable in every leg (433.1.204). */
export const ringStandard: ElectricalCheck = {
  id: 'ring-standard',
  title: 'Ring not as the standard circuit',
  severity: 'error',
  stage: 'circuits',
  source: () => sourceOf(RING_STANDARD),
  look: (facts) =>
    facts.circuit.topology === 'ring' ? [deviceOf(facts), cablesOf(facts)] : [{ state: 'not-asked' }],
};

function heavyOn(facts: CircuitFacts, input: ElectricalInput): Outcome[] {
  const volts = input.doc.job.supply.nominalV;
  return facts.net.points.flatMap((point): Outcome[] => {
    const label = `${circuitName(facts)}: ${find(input.doc, 'points', point.id)?.label ?? point.id}`;
    if (point.load === null) {
      return point.kind === 'heavy-outlet'
        ? [{ state: 'open', said: `${label} is an outlet for a heavy load, and its load is not stated.` }]
        : [];
    }
    const taken = ampsOf(point.load, volts);
    const said = `${label} takes ${amps(taken)} (${point.load} W); on a ring and its spurs no load is above ${FUSE_MAX.values} A`;
    if (taken <= FUSE_MAX.values + 1e-9) return [{ state: 'keeps', said: `${said}.` }];
    return [
      {
        state: 'breaks',
        said: `${said}.`,
        fix: 'Give it a circuit of its own.',
        where: { point: point.id, about: point.id },
      },
    ];
  });
}

/** A cooker or a water heater on a ring or on a spur of it: more than the fuse of a plug or connection unit carries. */
export const ringLoad: ElectricalCheck = {
  id: 'ring-load',
  title: 'Load too heavy for a ring',
  severity: 'error',
  stage: 'circuits',
  source: () => sourceOf(FUSE_MAX),
  look: (facts, input) =>
    facts.circuit.topology === 'ring' ? heavyOn(facts, input) : [{ state: 'not-asked' }],
};

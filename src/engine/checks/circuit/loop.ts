import { find } from '../../model/tables.ts';
import type { CircuitFacts } from '../../electrical/facts.ts';
import type { ElectricalInput } from '../../electrical/net.ts';
import { circuitName, type ElectricalCheck } from './check.ts';
import { agreed } from '../../model/evidence.ts';
import { TOUCH_VOLTAGE } from '../../electrical/tables/limits.ts';

const ohm = (r: number): string => `${r.toFixed(3)} Ω`;

function said(facts: CircuitFacts, input: ElectricalInput): string {
  const { loop, circuit } = facts;
  if (loop === null) return '';
  const { supply } = input.doc.job;
  const label = find(input.doc, 'points', loop.at)?.label ?? loop.at;
  const by =
    loop.by === 'breaker'
      ? `${circuit.device.type}${circuit.device.rating}`
      : `RCD ${circuit.device.rcd} mA on a TT supply, 411.5.3 from memory`;
  return `${circuitName(facts)}: Zs at ${label} ${ohm(supply.ze)} + ${ohm(loop.r1r2)} x 1.20 = ${ohm(loop.hot)}, limit ${ohm(loop.limit)} (${by})`;
}

/** Zs hot, against 230 V x 0.95 / (multiple x rating). */
export const loopTooHigh: ElectricalCheck = {
  id: 'loop-too-high',
  title: 'Earth-fault loop above its limit',
  severity: 'error',
  stage: 'circuits',
  source: (rules) =>
    agreed(`${rules.name} 411.4 and Table 41.3; Zs = Ze + (R1 + R2) x 1.20, IET On-Site Guide`),
  look: (facts, input) => {
    const { loop, net } = facts;
    if (net.edges.length === 0) return [{ state: 'not-asked' }];
    if (loop === null) return [{ state: 'open', said: net.problem ?? 'A cable has no known resistance.' }];
    const rank = loop.by === 'rcd' ? TOUCH_VOLTAGE.evidence : 'two-sources';
    if (loop.hot <= loop.limit + 1e-9) return [{ state: 'keeps', said: `${said(facts, input)}.`, rank }];
    return [
      {
        state: 'breaks',
        rank,
        said: `${said(facts, input)}: a fault there would not be cleared in time.`,
        fix: 'Shorten the way, or have the designer choose a larger cable, a smaller device or one of type B.',
        where: { point: loop.at },
      },
    ];
  },
};

/** The reading to be expected cold, against 80 % of the limit. */
export const loopNearLimit: ElectricalCheck = {
  id: 'loop-near-limit',
  title: 'Earth-fault loop above 80 % of its limit',
  severity: 'warning',
  stage: 'circuits',
  source: (rules) =>
    agreed(`${rules.name} Table 41.3 at 80 % (rule of thumb for readings at ambient temperature)`),
  look: (facts, input) => {
    const { loop } = facts;
    if (loop === null || loop.hot > loop.limit + 1e-9) return [{ state: 'not-asked' }];
    const told = `${circuitName(facts)}: the reading of Zs to expect is ${ohm(loop.cold)}, 80 % of the limit ${ohm(loop.coldLimit)}`;
    if (loop.cold <= loop.coldLimit + 1e-9) return [{ state: 'keeps', said: `${told}.` }];
    return [
      {
        state: 'breaks',
        said: `${told}: a meter would show too much for the rule of thumb, though the calculation keeps the limit (${said(facts, input)}).`,
        fix: 'Shorten the way, or ask the designer.',
        where: { point: loop.at },
      },
    ];
  },
};

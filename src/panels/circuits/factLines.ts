import type { ConditionStretch } from '../../engine/electrical/conditions.ts';
import type { CircuitFacts } from '../../engine/electrical/facts.ts';
import type { ElectricalInput } from '../../engine/electrical/net.ts';
import { checkedRules, type CheckedRule } from '../../engine/circuitReport/schedule.ts';
import { sourcesOf } from '../../engine/electrical/tables/cited.ts';
import { TABLE_4D5, TABLE_4D5_B } from '../../engine/electrical/tables/ratings.ts';
import type { Outcome } from '../../engine/checks/circuit/check.ts';
import type { Id } from '../../engine/model/document.ts';
import { find } from '../../engine/model/tables.ts';
import type { Amp, Mm } from '../../engine/model/units.ts';
import { metres } from '../ui/lengths.tsx';
import type { Evidence, Source } from '../../engine/model/evidence.ts';
import { AMBIENT, GROUP_BUNCHED, GROUP_LAYER, SURROUNDED } from '../../engine/electrical/tables/factors.ts';

/** Where a fact can be seen on the plan. */
export type SeenAt =
  | { readonly kind: 'point'; readonly point: Id }
  | { readonly kind: 'leg'; readonly run: Id; readonly leg: number };

/** One fact about a circuit. A null value is not known: its working then says what is missing. */
export interface FactLine {
  readonly key: string;
  readonly name: string;
  readonly value: string | null;
  readonly working: string;
  readonly source: string;
  /** How well the source is known; null where it is the plan itself or the designer. */
  readonly rank: Evidence | null;
  /** What the check of it came to; `plain` where no rule looks at it. */
  readonly state: 'keeps' | 'breaks' | 'open' | 'plain';
  readonly fix: string | null;
  readonly at: SeenAt | null;
}

export const amps = (a: Amp): string => `${a.toFixed(1)} A`;
export const ohms = (r: number): string => `${r.toFixed(3)} Ω`;

const atLeg = (s: ConditionStretch | null): SeenAt | null =>
  s === null ? null : { kind: 'leg', run: s.run, leg: s.leg };
const atPoint = (point: Id | undefined): SeenAt | null =>
  point === undefined ? null : { kind: 'point', point };

/** What a check says, without the name of the circuit it stands under. */
function bare(said: string, { circuit }: CircuitFacts): string {
  const name = circuit.name === '' ? circuit.label : `${circuit.label} (${circuit.name})`;
  const rest = said.startsWith(`${name}: `)
    ? said.slice(name.length + 2)
    : said.startsWith(`${name} `)
      ? said.slice(name.length + 1)
      : said;
  return rest.charAt(0).toUpperCase() + rest.slice(1);
}

const WORST = { breaks: 0, open: 1, keeps: 2, 'not-asked': 3 } as const;

function worstOf(rule: CheckedRule | undefined): Outcome | undefined {
  return rule?.outcomes.toSorted((a, b) => WORST[a.state] - WORST[b.state])[0];
}

/** All facts of a circuit in the order a designer asks for them, each with its working, source and check. */
export function factLines(input: ElectricalInput, facts: CircuitFacts): FactLine[] {
  const rules = new Map(checkedRules(input, facts).map((rule) => [rule.id, rule]));
  const { circuit, net, loop, drop } = facts;
  const { device } = circuit;
  const lines: FactLine[] = [];
  const add = (
    key: string,
    name: string,
    value: string | null,
    more: Partial<Pick<FactLine, 'working' | 'source' | 'at'>> = {},
  ): void => {
    const rule = rules.get(key);
    rules.delete(key);
    const outcome = worstOf(rule);
    const said = outcome === undefined || outcome.state === 'not-asked' ? null : bare(outcome.said, facts);
    const state = outcome === undefined || outcome.state === 'not-asked' ? 'plain' : outcome.state;
    const fix = outcome?.state === 'breaks' ? outcome.fix : null;
    const working = more.working ?? said ?? '';
    lines.push({
      key,
      name,
      value,
      working,
      source: rule?.source.text ?? more.source ?? '',
      rank: rule?.source.rank ?? null,
      state,
      fix,
      at: more.at ?? null,
    });
  };
  const cables = [...new Set(net.edges.flatMap((e) => e.cable?.name ?? []))];
  add(
    'device',
    'Device',
    `${device.type}${device.rating}, ${device.rcd === null ? 'no RCD' : `RCD ${device.rcd} mA`}`,
    {
      working: 'As typed on the circuit.',
      source: 'the designer decides',
    },
  );
  add('cable', 'Cable', cables.length > 0 ? cables.join('; ') : null, {
    working: cables.length > 0 ? 'Of its runs, as drawn.' : 'No run of it is drawn yet.',
    source: 'the plan',
  });
  const length = net.edges.reduce((sum, e) => sum + e.lengthMm, 0);
  add('route', 'Route', length > 0 ? metres(length) : null, {
    working: net.edges.length > 0 ? 'All its runs as drawn, with their tails.' : 'No run of it is drawn yet.',
    source: 'the drawing and its tails',
  });
  const { amps: ib } = facts.current;
  add('current-over-device', 'Design current', ib === null ? null : amps(ib));
  add('rating-too-low', 'Rating with factors', facts.iz === null ? null : amps(facts.iz), {
    at: atLeg(facts.worst),
  });
  add(
    'voltage-drop',
    'Voltage drop',
    drop === null ? null : `${drop.volts.toFixed(2)} of ${drop.limit.toFixed(1)} V`,
    { at: atPoint(drop?.at) },
  );
  add(
    'loop-too-high',
    'Loop impedance Zs',
    loop === null ? null : `${loop.hot.toFixed(3)} of ${ohms(loop.limit)}`,
    {
      at: atPoint(loop?.at),
    },
  );
  if (loop !== null)
    add('loop-near-limit', 'Zs read cold, to 80 %', `${loop.cold.toFixed(3)} of ${ohms(loop.coldLimit)}`, {
      at: atPoint(loop.at),
    });
  if (circuit.topology === 'ring') {
    add('ring-too-long', 'Round the ring', facts.ringMm === null ? null : metres(facts.ringMm));
    add('spurs-too-many', 'Spurs', net.problem === null ? String(facts.spurs.length) : null);
    if (facts.spurs.length > 0)
      add(
        'spur-feeds-more',
        'Each spur feeds',
        `${Math.max(...facts.spurs.map((s) => s.feeds.length))} at most`,
      );
  }
  if (rules.has('area-too-large'))
    add('area-too-large', 'Floor area served', facts.area === null ? null : `${facts.area.toFixed(1)} m²`);
  if (rules.has('adiabatic')) add('adiabatic', 'Protective conductor under a fault', null);
  // What is left is told only where something is wrong or open: cores that suffice stand on the diagram.
  for (const rule of [...rules.values()]) {
    const outcome = worstOf(rule);
    if (outcome?.state === 'breaks' || outcome?.state === 'open') add(rule.id, rule.title, null);
  }
  return lines;
}

/** Metres that lie one way, with what a cable may carry there. */
export interface ConditionLine {
  readonly key: string;
  readonly method: string;
  readonly why: string;
  readonly lengthMm: Mm;
  /** Least rating of these metres; null where a table has no answer. */
  readonly iz: Amp | null;
  readonly runs: readonly Id[];
  /** Holds the stretch that governs the circuit. */
  readonly worst: boolean;
  /** The stretch of these metres with the least rating. */
  readonly at: ConditionStretch;
}

/** Metres of a circuit by how they lie, the least rating first. */
export function conditionLines(facts: CircuitFacts): ConditionLine[] {
  const lines = new Map<string, ConditionLine>();
  const less = (a: ConditionStretch, b: ConditionStretch): boolean =>
    a.iz !== null && (b.iz === null || a.iz < b.iz);
  for (const s of facts.conditions.flatMap((c) => c.stretches)) {
    const key = `${s.method ?? 'none'} ${s.why}`;
    const old = lines.get(key);
    const at = old === undefined || less(s, old.at) ? s : old.at;
    lines.set(key, {
      key,
      method: s.method ?? '–',
      why: s.why,
      lengthMm: (old?.lengthMm ?? 0) + s.length,
      iz: at.iz,
      runs: [...new Set([...(old?.runs ?? []), s.run])],
      worst: (old?.worst ?? false) || s === facts.worst,
      at,
    });
  }
  return [...lines.values()].sort((a, b) => (a.iz ?? Infinity) - (b.iz ?? Infinity));
}

/** The factors of a stretch in words: tabulated rating and all that comes off it. */
export function factorsOf(input: ElectricalInput, s: ConditionStretch): string {
  if (s.it === null) return s.why;
  const others = s.grouped.flatMap((id) => find(input.doc, 'circuits', id)?.label ?? []);
  return [
    `${s.it} A tabulated`,
    s.ca === null ? 'Ca not known' : `Ca ${s.ca}`,
    `Cg ${s.cg}${others.length > 1 ? ` (${others.join(', ')} side by side)` : ''}`,
    ...(s.ci === 1 ? [] : [`Ci ${s.ci} (${Math.round(s.surrounded)} mm surrounded)`]),
  ].join(' × ');
}

/** Where tabulated ratings and their factors come from. */
export const ratingSource = (methods: readonly string[]): Source =>
  sourcesOf(
    AMBIENT,
    ...(methods.some((m) => m !== 'B') ? [TABLE_4D5] : []),
    ...(methods.includes('B') ? [TABLE_4D5_B] : []),
    GROUP_BUNCHED,
    GROUP_LAYER,
    SURROUNDED,
  );

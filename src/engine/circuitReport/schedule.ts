import type { Circuit, Earthing, Id } from '../model/document.ts';
import { find, rows } from '../model/tables.ts';
import { weakest, type Source } from '../model/evidence.ts';
import type { Amp, Mm, Ohm } from '../model/units.ts';
import { EDITIONS } from '../zones/editions.ts';
import { ELECTRICAL_CHECKS } from '../checks/circuit/all.ts';
import type { Outcome } from '../checks/circuit/check.ts';
import { factsOfCircuit, type CircuitFacts } from '../electrical/facts.ts';
import { inKitchen } from '../electrical/loads.ts';
import type { ElectricalInput } from '../electrical/net.ts';
import { ALL_TABLES } from '../electrical/tables/all.ts';
import { TYPICAL_ZE, TYPICAL_ZE_TT } from '../electrical/tables/resistance.ts';

/** A line of the circuit schedule. Null is a blank: it is left blank on paper too. */
export interface ScheduleRow {
  readonly circuit: Id;
  readonly label: string;
  readonly name: string;
  readonly topology: Circuit['topology'];
  readonly device: string;
  readonly rcd: number | null;
  readonly cable: string;
  readonly csa: number | null;
  readonly cpc: number | null;
  readonly methods: readonly string[];
  readonly points: number;
  /** All runs with their tails. */
  readonly lengthMm: Mm;
  readonly designCurrent: Amp | null;
  readonly rating: Amp | null;
  readonly dropVolts: number | null;
  readonly r1r2: Ohm | null;
  readonly zs: Ohm | null;
  readonly maxZs: Ohm | null;
}

/** The line of one circuit. */
export function scheduleRow(input: ElectricalInput, facts: CircuitFacts): ScheduleRow {
  const { circuit, net, conditions } = facts;
  const { device } = circuit;
  const cable = find(input.doc, 'cables', circuit.cable);
  return {
    circuit: circuit.id,
    label: circuit.label,
    name: circuit.name,
    topology: circuit.topology,
    device: `${device.type}${device.rating}`,
    rcd: device.rcd,
    cable: cable?.name ?? '',
    csa: cable?.csa ?? null,
    cpc: cable?.cpc ?? null,
    methods: [...new Set(conditions.flatMap((c) => c.stretches.flatMap((s) => s.method ?? [])))].sort(),
    points: rows(input.doc.points).filter((p) => p.circuit === circuit.id).length,
    lengthMm: net.edges.reduce((sum, e) => sum + e.lengthMm, 0),
    designCurrent: facts.current.amps,
    rating: facts.iz,
    dropVolts: facts.drop?.volts ?? null,
    r1r2: facts.loop?.r1r2 ?? null,
    zs: facts.loop?.hot ?? null,
    maxZs: facts.loop?.limit ?? null,
  };
}

/** Something the designer must decide or fill in. `answer` is what the plan has, or null: a blank to write in. */
export interface Question {
  readonly key: string;
  readonly about: 'job' | 'circuit' | 'point' | 'run';
  readonly circuit: Id | null;
  readonly point: Id | null;
  readonly ask: string;
  readonly answer: string | null;
}

const ask = (
  key: string,
  about: Question['about'],
  text: string,
  answer: string | null,
  on: Partial<Pick<Question, 'circuit' | 'point'>> = {},
): Question => ({ key, about, circuit: null, point: null, ask: text, answer, ...on });

/** What each check comes to on a circuit, with its name and source. */
export interface CheckedRule {
  readonly id: string;
  readonly title: string;
  /** With the weakest rank of its outcomes. */
  readonly source: Source;
  readonly outcomes: readonly Outcome[];
}

export function checkedRules(input: ElectricalInput, facts: CircuitFacts): CheckedRule[] {
  const rules = EDITIONS[input.doc.job.edition];
  return ELECTRICAL_CHECKS.flatMap((check): CheckedRule[] => {
    const outcomes = check.look(facts, input, rules).filter((o) => o.state !== 'not-asked');
    const { text, rank } = check.source(rules);
    const source = { text, rank: weakest(rank, ...outcomes.flatMap((o) => o.rank ?? [])) };
    return outcomes.length === 0 ? [] : [{ id: check.id, title: check.title, source, outcomes }];
  });
}

function circuitQuestions(input: ElectricalInput, circuit: Circuit): Question[] {
  const { doc } = input;
  const facts = factsOfCircuit(input, circuit);
  const on = { circuit: circuit.id };
  const name = circuit.name === '' ? circuit.label : `${circuit.label} (${circuit.name})`;
  const found: Question[] = [
    ask(
      `device.${circuit.id}`,
      'circuit',
      `${name}: is the device right, and of what make?`,
      `${circuit.device.type}${circuit.device.rating}, RCD ${circuit.device.rcd === null ? 'none' : `${circuit.device.rcd} mA`}`,
      on,
    ),
  ];
  if (facts.current.how === 'unknown')
    found.push(ask(`current.${circuit.id}`, 'circuit', `${name}: what is its design current?`, null, on));
  if (facts.current.how === 'sockets') {
    found.push(
      ask(
        `sockets.${circuit.id}`,
        'circuit',
        `${name}: is the rating of its device right for what will be plugged in?`,
        facts.current.working,
        on,
      ),
    );
  }
  for (const id of facts.current.unstated) {
    const label = doc.points.byId[id]?.label ?? id;
    found.push(ask(`load.${id}`, 'point', `${name}: what load has ${label}, W?`, null, { ...on, point: id }));
  }
  for (const point of facts.net.points) {
    if (point.kind !== 'heavy-outlet' || point.loadKind !== null || !inKitchen(input, point)) continue;
    found.push(
      ask(
        `what.${point.id}`,
        'point',
        `${name}: is ${point.label} for a cooker, and has its plate a socket-outlet? Until it is said its load counts in full.`,
        null,
        { ...on, point: point.id },
      ),
    );
  }
  for (const rule of checkedRules(input, facts)) {
    rule.outcomes.forEach((outcome, i) => {
      if (outcome.state === 'open' && rule.id !== 'current-over-device')
        found.push(
          ask(
            `${rule.id}.${circuit.id}.${i}`,
            'circuit',
            `${name}, ${rule.title.toLowerCase()}: ${outcome.said} What applies?`,
            null,
            on,
          ),
        );
      if (outcome.state === 'breaks')
        found.push(
          ask(
            `${rule.id}.${circuit.id}.${i}`,
            'circuit',
            `${outcome.said} ${outcome.fix} What is decided?`,
            null,
            on,
          ),
        );
    });
  }
  for (const { run, worst } of facts.conditions) {
    if (worst?.method !== '103' || doc.runs.byId[run]?.depth !== null) continue;
    found.push(
      ask(
        `depth.${run}`,
        'run',
        `${name}: how deep does ${doc.runs.byId[run]?.label} lie in the insulated wall?`,
        null,
        on,
      ),
    );
  }
  const idle = facts.wiring?.idle ?? [];
  for (const id of idle) {
    found.push(
      ask(
        `works.${id}`,
        'point',
        `${name}: what does the switch ${doc.points.byId[id]?.label ?? id} work?`,
        null,
        {
          ...on,
          point: id,
        },
      ),
    );
  }
  return found;
}

/** What distributors usually declare at most for an earthing arrangement. */
function typicalZe(earthing: Earthing): string {
  const said =
    earthing === 'TT' ? `${TYPICAL_ZE_TT.values} Ω (from memory)` : `${TYPICAL_ZE.values[earthing]} Ω`;
  return `distributors usually declare ${said} at most for ${earthing}`;
}

/** The sheet of questions for the electrician: everything the designer must decide; what is not known is left blank. */
export function questions(input: ElectricalInput): Question[] {
  const { job } = input.doc;
  const { supply } = job;
  const memory = Object.entries(ALL_TABLES).filter(([, t]) => t.evidence === 'memory');
  return [
    ask('notify', 'job', 'Who notifies and certifies the work, and under which scheme?', null),
    ask('earthing', 'job', 'What is the earthing arrangement, as found?', supply.earthing),
    ask('ze', 'job', 'What is Ze, measured or declared?', `${supply.ze} Ω; ${typicalZe(supply.earthing)}`),
    ...(supply.earthing === 'TT'
      ? [
          ask(
            'electrode',
            'job',
            'What is the resistance of the earth electrode?',
            supply.electrode === null ? null : `${supply.electrode} Ω`,
          ),
        ]
      : []),
    ask(
      'fault',
      'job',
      'What is the prospective fault current at the board?',
      supply.faultCurrent === null ? null : `${supply.faultCurrent} A`,
    ),
    ask('ambient', 'job', 'What ambient temperature applies?', `${job.ambient} °C`),
    ...rows(input.doc.circuits).flatMap((circuit) => circuitQuestions(input, circuit)),
    ask(
      'memory',
      'job',
      `These values are from memory and must be looked up before relying on them: ${memory.map(([, t]) => `${t.source}${typeof t.values === 'number' ? ` (${t.values} ${t.unit})` : ''}`).join('; ')}.`,
      null,
    ),
  ];
}

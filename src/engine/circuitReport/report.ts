import { turnsOf } from '../checks/straights.ts';
import type { Derived } from '../derive/types.ts';
import type { Id, PlanDocument, Reading } from '../model/document.ts';
import { find, rows } from '../model/tables.ts';
import type { Mm } from '../model/units.ts';
import { diagramOf, type CircuitDiagram } from '../electrical/diagram.ts';
import { explainInsulation, explainReading, type Explanation } from '../electrical/explain.ts';
import { factsOfCircuit, type CircuitFacts } from '../electrical/facts.ts';
import type { ElectricalInput } from '../electrical/net.ts';
import type { ExpectedReading } from '../electrical/readings.ts';
import { bendRadius } from '../electrical/tables/circuits.ts';
import {
  checkedRules,
  questions,
  scheduleRow,
  type CheckedRule,
  type Question,
  type ScheduleRow,
} from './schedule.ts';

/** Everything about one circuit, for panels and sheets. */
export interface CircuitReport {
  readonly facts: CircuitFacts;
  readonly schedule: ScheduleRow;
  readonly checks: readonly CheckedRule[];
  readonly diagram: CircuitDiagram;
  /** Inside radius the bends of each run need, and how many it has (factors from memory: to know, no finding). */
  readonly bends: readonly { readonly run: Id; readonly bends: number; readonly radius: Mm }[];
  /** Readings someone took on it, each held against what the drawing says. */
  readonly taken: readonly { readonly reading: Reading; readonly explanation: Explanation | null }[];
}

/** What circuits are worked out from, out of everything derived of a plan. The same object for the same two. */
export function electricalInput(
  doc: PlanDocument,
  derived: Pick<Derived, 'fabrics' | 'runs'>,
): ElectricalInput {
  return { doc, fabrics: derived.fabrics, checks: derived.runs };
}

/** The expectation a reading is held against: that of its cable, else of its circuit at its point. */
export function expectationOf(
  facts: CircuitFacts,
  reading: Pick<Reading, 'kind' | 'point' | 'run'>,
): ExpectedReading | null {
  if (reading.run !== null)
    return facts.runReadings.find((e) => e.kind === reading.kind && e.run === reading.run) ?? null;
  const kind = reading.kind === 'continuity' ? 'r1r2' : reading.kind;
  return facts.readings.expected.find((e) => e.kind === kind && e.point === reading.point) ?? null;
}

/** A reading held against what is expected of it; null when nothing is, or nothing is known of its circuit. */
export function explainedReading(facts: CircuitFacts | null, reading: Reading): Explanation | null {
  if (reading.kind === 'insulation-line-neutral' || reading.kind === 'insulation-line-earth')
    return explainInsulation(reading.value);
  const own = facts === null ? null : expectationOf(facts, reading);
  if (facts === null || own === null) return null;
  const others =
    own.run === null ? facts.readings.expected : facts.runReadings.filter((e) => e.run === own.run);
  return explainReading(own, reading.value, others);
}

function bendsOf(input: ElectricalInput, runs: ReadonlySet<Id>): CircuitReport['bends'] {
  return [...runs].flatMap((run) => {
    const check = input.checks.get(run);
    const cable = find(input.doc, 'cables', find(input.doc, 'runs', run)?.cable ?? null);
    if (check === undefined || cable === undefined) return [];
    const bends = turnsOf(check).filter((s) => s.turn > 0).length;
    return [{ run, bends, radius: bendRadius(cable.width) }];
  });
}

/** The reports of all circuits of a plan, in its order. O(plan): ask once for a revision, away from the page. */
export function electricalOf(
  doc: PlanDocument,
  derived: Pick<Derived, 'fabrics' | 'runs'>,
): ReadonlyMap<Id, CircuitReport> {
  const input = electricalInput(doc, derived);
  return new Map(
    rows(doc.circuits).map((circuit): [Id, CircuitReport] => {
      const facts = factsOfCircuit(input, circuit);
      const runIds = new Set(facts.conditions.map((c) => c.run));
      const readings = rows(doc.readings).filter(
        (r) => r.circuit === circuit.id || (r.circuit === null && r.run !== null && runIds.has(r.run)),
      );
      return [
        circuit.id,
        {
          facts,
          schedule: scheduleRow(input, facts),
          checks: checkedRules(input, facts),
          diagram: diagramOf(facts.net, facts.wiring),
          bends: bendsOf(input, runIds),
          taken: readings.map((reading) => ({ reading, explanation: explainedReading(facts, reading) })),
        },
      ];
    }),
  );
}

/** The sheet of questions for the electrician. */
export function questionsOf(doc: PlanDocument, derived: Pick<Derived, 'fabrics' | 'runs'>): Question[] {
  return questions(electricalInput(doc, derived));
}

/** Numbers to four decimals all through plain data: tenths of a milliohm, and mm finer than anyone reads. */
function rounded<T>(data: T): T {
  if (typeof data === 'number') return (Math.round(data * 1e4) / 1e4 + 0) as T;
  if (Array.isArray(data)) return data.map(rounded) as T;
  if (typeof data !== 'object' || data === null) return data;
  return Object.fromEntries(Object.entries(data).map(([key, value]) => [key, rounded(value)])) as T;
}

/** As `report --json` tells it under `circuits`: plain data. Ω, mm, A and V to four decimals. */
export function circuitsJson(doc: PlanDocument, derived: Pick<Derived, 'fabrics' | 'runs'>): CircuitsJson {
  return rounded(unrounded(doc, derived));
}

export type CircuitsJson = ReturnType<typeof unrounded>;

function unrounded(doc: PlanDocument, derived: Pick<Derived, 'fabrics' | 'runs'>) {
  const reports = electricalOf(doc, derived);
  return {
    temperature: doc.job.testTemperature,
    schedule: [...reports.values()].map((r) => ({
      ...r.schedule,
      current: r.facts.current.working,
      problem: r.facts.net.problem,
      checks: r.checks.map(({ id, source, outcomes }) => ({
        rule: id,
        source: source.text,
        rank: source.rank,
        outcomes: outcomes.map((o) =>
          o.state === 'not-asked' ? { state: o.state } : { state: o.state, said: o.said },
        ),
      })),
      expected: r.facts.readings.expected.map(({ kind, point, expected, low, high, working }) => ({
        kind,
        point,
        expected,
        low,
        high,
        working,
      })),
      byCable: r.facts.runReadings
        .filter((e) => e.kind === 'continuity')
        .map(({ run, expected, low, high }) => ({ run, expected, low, high })),
      bends: r.bends,
      furthest: r.facts.readings.furthest,
      wiring: r.facts.wiring?.runs ?? [],
      diagram: r.diagram,
    })),
    questions: questionsOf(doc, derived),
  };
}

import type { Derived } from '../derive/types.ts';
import type { Id, PlanDocument, Reading } from '../model/document.ts';
import { rows } from '../model/tables.ts';
import { diagramOf, type CircuitDiagram } from './diagram.ts';
import { explainInsulation, explainReading, type Explanation } from './explain.ts';
import { factsOfCircuit, type CircuitFacts } from './facts.ts';
import type { ElectricalInput } from './net.ts';
import type { ExpectedReading } from './readings.ts';
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

/** The expectation a reading is held against: the same kind, at the same point if it has one. */
export function expectationOf(
  expected: readonly ExpectedReading[],
  reading: Pick<Reading, 'kind' | 'point'>,
): ExpectedReading | null {
  const kind = reading.kind === 'continuity' ? 'r1r2' : reading.kind;
  return expected.find((e) => e.kind === kind && e.point === reading.point) ?? null;
}

function explained(facts: CircuitFacts, reading: Reading): Explanation | null {
  if (reading.kind === 'insulation-line-neutral' || reading.kind === 'insulation-line-earth')
    return explainInsulation(reading.value);
  const { expected } = facts.readings;
  const own = expectationOf(expected, reading);
  return own === null ? null : explainReading(own, reading.value, expected);
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
      const readings = rows(doc.readings).filter((r) => r.circuit === circuit.id);
      return [
        circuit.id,
        {
          facts,
          schedule: scheduleRow(input, facts),
          checks: checkedRules(input, facts),
          diagram: diagramOf(facts.net, facts.wiring),
          taken: readings.map((reading) => ({ reading, explanation: explained(facts, reading) })),
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
        source,
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
      furthest: r.facts.readings.furthest,
      wiring: r.facts.wiring?.runs ?? [],
      diagram: r.diagram,
    })),
    questions: questionsOf(doc, derived),
  };
}

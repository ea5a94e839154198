import type { Derived } from '../derive/types.ts';
import { factsOfCircuit, type CircuitFacts } from '../electrical/facts.ts';
import type { Explanation } from '../electrical/explain.ts';
import { electricalInput, expectationOf, explainedReading } from '../circuitReport/report.ts';
import type { Id, PlanDocument, Reading, ReadingKind, Run } from '../model/document.ts';
import { find, rows } from '../model/tables.ts';

/** What the readings of one run say before it is covered. */
export interface RunReadings {
  /** In words: readings outside their band, the latest of each kind and place. */
  readonly off: readonly string[];
  /** In words: what is asked for and is not there. */
  readonly missing: readonly string[];
}

const NONE: RunReadings = { off: [], missing: [] };

const NAMES: Readonly<Record<ReadingKind, string>> = {
  r1: 'r1',
  rn: 'rn',
  r2: 'r2',
  'ring-line-neutral': 'line to neutral, ends crossed',
  'ring-line-earth': 'line to protective conductor, ends crossed',
  r1r2: 'R1 + R2',
  'insulation-line-neutral': 'insulation, line to neutral',
  'insulation-line-earth': 'insulation, live to earth',
  continuity: 'continuity',
};
const INSULATION = ['insulation-line-neutral', 'insulation-line-earth'] as const;
const isInsulation = (kind: ReadingKind): boolean => INSULATION.some((each) => each === kind);
const END_TO_END = ['r1', 'rn', 'r2'] as const;

interface Judged {
  readonly reading: Reading;
  /** Null: there is nothing to hold it against. */
  readonly explanation: Explanation | null;
  /** The reading goes along this run. */
  readonly along: boolean;
}

/** The latest reading of each kind at each place: by date, then by the order they were written down. */
function latest(readings: readonly Reading[]): Reading[] {
  const found = new Map<string, Reading>();
  for (const r of readings) {
    const key = `${r.kind} ${r.run ?? ''} ${r.point ?? ''}`;
    const known = found.get(key);
    if (known === undefined || r.date >= known.date) found.set(key, r);
  }
  return [...found.values()];
}

function judged(facts: CircuitFacts | null, run: Run, readings: readonly Reading[]): Judged[] {
  return latest(readings).flatMap((reading): Judged[] => {
    const explanation =
      facts === null && !isInsulation(reading.kind) ? null : explainedReading(facts, reading);
    if (reading.run === run.id || isInsulation(reading.kind)) return [{ reading, explanation, along: true }];
    const expected = facts === null ? null : expectationOf(facts, reading);
    // A reading of another way through the circuit tells nothing of this run; one without parts is of the whole circuit.
    const parts = expected?.parts ?? [];
    const along = parts.some((part) => part.run === run.id);
    return along || parts.length === 0 ? [{ reading, explanation, along }] : [];
  });
}

/** Continuity is there: this cable by itself or a way through it with the ends joined, or all three conductors end to end. */
function hasContinuity(run: Run, good: readonly Judged[]): boolean {
  const along = good.filter((j) => j.along);
  if (along.some(({ reading }) => reading.kind === 'continuity' || reading.kind === 'r1r2')) return true;
  return [run.id, null].some((of) =>
    END_TO_END.every((kind) => along.some(({ reading }) => reading.kind === kind && reading.run === of)),
  );
}

/**
 * Readings of each run before it is covered: continuity and insulation (both ways), of the stage before boarding, and
 * every latest reading within its band. Source of what is asked for: practice on BS 7671 641.1 (inspection during
 * erection); of the least insulation: BS 7671 643.3.2, Table 64.
 */
export function coverReadings(
  doc: PlanDocument,
  derived: Pick<Derived, 'fabrics' | 'runs'>,
): (run: Run) => RunReadings {
  const input = electricalInput(doc, derived);
  const all = rows(doc.readings);
  const known = new Map<Id, RunReadings>();
  const work = (run: Run): RunReadings => {
    if (find(doc, 'cables', run.cable)?.use === 'data') return NONE;
    const own = all.filter(
      (r) => r.run === run.id || (r.run === null && run.circuit !== null && r.circuit === run.circuit),
    );
    const circuit = find(doc, 'circuits', run.circuit);
    const facts = own.length === 0 || circuit === undefined ? null : factsOfCircuit(input, circuit);
    const held = judged(facts, run, own);
    const off = held.flatMap(({ reading, explanation }) =>
      explanation?.agrees === true
        ? []
        : [
            `${NAMES[reading.kind]}: ${explanation?.says ?? `${reading.value} Ω is written down, and the drawing gives no band to hold it against: not checked.`}`,
          ],
    );
    const good = held.filter((j) => j.explanation?.agrees === true && j.reading.stage === 'before-boarding');
    const missing = INSULATION.filter((kind) => !good.some((j) => j.reading.kind === kind)).map(
      (kind) => NAMES[kind],
    );
    return { off, missing: hasContinuity(run, good) ? missing : ['continuity', ...missing] };
  };
  return (run) => {
    let found = known.get(run.id);
    if (found === undefined) {
      found = work(run);
      known.set(run.id, found);
    }
    return found;
  };
}

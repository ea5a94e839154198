import type { CircuitFacts } from '../../engine/electrical/facts.ts';
import { explainInsulation, explainReading, type Explanation } from '../../engine/electrical/explain.ts';
import type { ExpectedReading } from '../../engine/electrical/readings.ts';
import { expectationOf } from '../../engine/circuitReport/report.ts';
import type { Id, PlanDocument, Reading, ReadingKind } from '../../engine/model/document.ts';

/** What kind of reading of what: enough to look its expectation up. */
export type ReadingOf = Pick<Reading, 'kind' | 'point' | 'run'>;

/** One thing that may be read on a circuit, as the form offers it. */
export interface ReadingChoice extends ReadingOf {
  readonly key: string;
  readonly label: string;
}

export interface ChoiceGroup {
  readonly name: string;
  readonly choices: readonly ReadingChoice[];
}

const KINDS: Readonly<Record<ReadingKind, string>> = {
  r1: 'r1, line end to end',
  rn: 'rn, neutral end to end',
  r2: 'r2, protective conductor end to end',
  'ring-line-neutral': 'Line to neutral, ends crossed',
  'ring-line-earth': 'Line to protective conductor, ends crossed',
  r1r2: 'R1 + R2',
  'insulation-line-neutral': 'Insulation, line to neutral',
  'insulation-line-earth': 'Insulation, live to earth',
  continuity: 'Line and protective conductor joined at the far end',
};

export const isInsulation = (kind: ReadingKind): boolean =>
  kind === 'insulation-line-neutral' || kind === 'insulation-line-earth';

/** The unit a reading of a kind is written in. */
export const unitOf = (kind: ReadingKind): 'Ω' | 'MΩ' => (isInsulation(kind) ? 'MΩ' : 'Ω');

export const keyOf = ({ kind, point, run }: ReadingOf): string => `${kind} ${point ?? ''} ${run ?? ''}`;

/** What was read, in words: "R1 + R2 at P13", "R2 alone: r1, line end to end". */
export function readingName(doc: PlanDocument, { kind, point, run }: ReadingOf): string {
  if (run !== null) {
    const name = KINDS[kind];
    return `${doc.runs.byId[run]?.label ?? run} alone: ${name.charAt(0).toLowerCase() === 'r' ? name : name.charAt(0).toLowerCase() + name.slice(1)}`;
  }
  return point === null ? KINDS[kind] : `${KINDS[kind]}, at ${doc.points.byId[point]?.label ?? point}`;
}

const INSULATION: readonly ReadingKind[] = ['insulation-line-neutral', 'insulation-line-earth'];
const OF_CABLE: readonly ReadingKind[] = ['continuity', 'r1', 'rn', 'r2', ...INSULATION];

/** All that may be read on a circuit, in the order it is tested: each cable alone, then the circuit joined up. */
export function readingChoices(doc: PlanDocument, facts: CircuitFacts): ChoiceGroup[] {
  const choice = (kind: ReadingKind, point: Id | null, run: Id | null): ReadingChoice => {
    const of = { kind, point, run };
    return { ...of, key: keyOf(of), label: readingName(doc, of) };
  };
  const group = (name: string, choices: readonly ReadingChoice[]): ChoiceGroup => ({ name, choices });
  const { expected } = facts.readings;
  const whole = expected.filter((e) => e.point === null);
  const crossed = expected.filter((e) => e.kind === 'ring-line-neutral' || e.kind === 'ring-line-earth');
  const atPoints = expected.filter((e) => e.kind === 'r1r2');
  return [
    group(
      'Round the ring',
      whole.map((e) => choice(e.kind, null, null)),
    ),
    group(
      'Ends crossed over, at each socket',
      crossed.map((e) => choice(e.kind, e.point, null)),
    ),
    group(
      'At the points',
      atPoints.map((e) => choice(e.kind, e.point, null)),
    ),
    group(
      'Insulation of the circuit',
      INSULATION.map((kind) => choice(kind, null, null)),
    ),
    group(
      'One cable by itself',
      facts.net.edges.flatMap(({ run }) => OF_CABLE.map((kind) => choice(kind, null, run.id))),
    ),
  ].filter((each) => each.choices.length > 0);
}

/** What the drawing makes of a reading; null where it expects nothing. It never says that anything has passed. */
export function explanationOf(
  facts: CircuitFacts,
  reading: ReadingOf & Pick<Reading, 'value'>,
): Explanation | null {
  if (isInsulation(reading.kind)) return explainInsulation(reading.value);
  const own = expectationOf(facts, reading);
  if (own === null) return null;
  const others =
    own.run === null ? facts.readings.expected : facts.runReadings.filter((e) => e.run === own.run);
  return explainReading(own, reading.value, others);
}

/** A reading as a meter shows it: two decimals of an ohm at least, and all that were typed. */
export function readingText({ kind, value }: Pick<Reading, 'kind' | 'value'>): string {
  const typed = String(value);
  const places = typed.split('.')[1]?.length ?? 0;
  return `${isInsulation(kind) || places >= 2 ? typed : value.toFixed(2)} ${unitOf(kind)}`;
}

const two = (ohm: number): string => ohm.toFixed(2);

/** "0.44 to 0.46 Ω", or one figure where a meter cannot tell the ends apart. */
export function bandText({ low, high }: ExpectedReading): string {
  return two(low) === two(high) ? `${two(high)} Ω` : `${two(low)} to ${two(high)} Ω`;
}

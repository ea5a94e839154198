import type { Derived } from '../engine/derive/types.ts';
import type { Finding } from '../engine/checks/types.ts';
import { circuitsJson, type CircuitsJson } from '../engine/circuitReport/report.ts';
import type { Id, PlanDocument } from '../engine/model/document.ts';
import { ranked, type Evidence } from '../engine/model/evidence.ts';
import { find, rows } from '../engine/model/tables.ts';
import { coverAnswers, type CoverAnswer, type Hindrance } from '../engine/site/cover.ts';
import type { DrumPlan } from '../engine/takeoff/types.ts';

/** What `npm run report -- FILE --json` prints. Metres to 0.001, millimetres to 0.1. */
export interface Report {
  readonly cables: readonly {
    readonly cable: Id;
    /** How many runs. */
    readonly runs: number;
    readonly measured_m: number;
    readonly tails_m: number;
    readonly allowance_m: number;
    readonly order_m: number;
    /** To buy; remnants already owned are not among them. */
    readonly drums: readonly { readonly length_m: number; readonly count: number }[];
  }[];
  /** Lengths are null where metres are refused. */
  readonly runs: readonly {
    readonly id: Id;
    readonly label: string;
    readonly circuit: Id | null;
    readonly cable: Id;
    readonly run_mm: number | null;
    readonly rise_drop_mm: number | null;
    readonly through_mm: number | null;
    readonly tails_mm: number | null;
    /** run + rise and drop + through + tails. The allowance is not in it: it is told per cable, as `allowance_m`. */
    readonly cut_mm: number | null;
    readonly answer: string;
  }[];
  readonly findings: readonly {
    readonly rule: string;
    readonly severity: string;
    readonly run: Id | null;
    readonly point: Id | null;
    readonly face: string | null;
    /** Plan x, y from the job's corner; u from the face's left-hand end and z above the finished floor. */
    readonly at: {
      readonly storey: Id;
      readonly x: number | null;
      readonly y: number | null;
      readonly u: number | null;
      readonly z: number | null;
    } | null;
    readonly outside_mm: number | null;
    readonly message: string;
    readonly source: string;
    /** How well the source is known. */
    readonly rank: Evidence;
  }[];
  /** Schedule with checks, expected readings, wiring and diagram of each circuit, and the questions sheet. */
  readonly circuits: CircuitsJson;
  /** "May I cover this?": one answer for each wall surface, ceiling and floor; every run is in some answer. */
  readonly cover: readonly {
    readonly surface: {
      readonly kind: CoverAnswer['surface']['kind'];
      readonly storey: Id;
      readonly face: string | null;
      readonly room: string | null;
      readonly name: string;
    };
    readonly runs: readonly Id[];
    /** Nothing recorded stands in the way: no more than that. */
    readonly ready: boolean;
    /** The heaviest first. */
    readonly inTheWay: readonly Hindrance[];
  }[];
}

/** Rounded, and never minus nought. */
const rounded = (value: number, places: number): number => {
  const scale = 10 ** places;
  return Math.round(value * scale) / scale + 0;
};
const metresOf = (mm: number): number => rounded(mm / 1000, 3);
const mmOf = (mm: number): number => rounded(mm, 1);
const mmOrNull = (mm: number | null | undefined): number | null =>
  mm === null || mm === undefined ? null : mmOf(mm);

/** Drums to buy, longest first. */
export function drumsToBuy(plan: DrumPlan | undefined): { length_m: number; count: number }[] {
  const counts = new Map<number, number>();
  for (const d of plan?.drums ?? []) if (!d.owned) counts.set(d.length, (counts.get(d.length) ?? 0) + 1);
  return [...counts].sort(([a], [b]) => b - a).map(([length_m, count]) => ({ length_m, count }));
}

function findingOf(finding: Finding): Report['findings'][number] {
  const { at } = finding;
  return {
    rule: finding.rule,
    severity: finding.severity,
    run: finding.run,
    point: finding.point,
    face: at?.face ?? null,
    at:
      at === null
        ? null
        : {
            storey: at.storey,
            x: mmOrNull(at.plan?.x),
            y: mmOrNull(at.plan?.y),
            u: mmOrNull(at.on?.u),
            z: mmOrNull(at.on?.z),
          },
    outside_mm: mmOrNull(finding.outsideMm),
    message: finding.message,
    source: finding.source,
    rank: finding.rank,
  };
}

function coverOf(doc: PlanDocument, derived: Derived): Report['cover'] {
  const accepted = new Set(rows(doc.acceptances).map((a) => a.finding));
  return coverAnswers(doc, derived, accepted).map(({ surface, name, runs, inTheWay }) => ({
    surface: { kind: surface.kind, storey: surface.storey, face: surface.face, room: surface.room, name },
    runs: runs.map((run) => run.id),
    ready: inTheWay.length === 0,
    inTheWay,
  }));
}

/** The report of a plan. Pure: the same plan gives the same report. */
export function reportOf(doc: PlanDocument, derived: Derived): Report {
  return {
    cables: derived.takeOff.cables.map((c) => ({
      cable: c.cable,
      runs: c.runs.length,
      measured_m: metresOf(c.measuredMm),
      tails_m: metresOf(c.tailsMm),
      allowance_m: metresOf(c.allowanceMm),
      order_m: metresOf(c.orderMm),
      drums: drumsToBuy(derived.drums.find((d) => d.cable === c.cable)),
    })),
    runs: rows(doc.runs).map((run) => {
      const length = derived.takeOff.runs.get(run.id);
      return {
        id: run.id,
        label: run.label,
        circuit: run.circuit,
        cable: run.cable,
        run_mm: mmOrNull(length?.runMm),
        rise_drop_mm: mmOrNull(length?.riseDropMm),
        through_mm: mmOrNull(length?.throughMm),
        tails_mm: mmOrNull(length && length.tailFromMm + length.tailToMm),
        cut_mm: mmOrNull(length?.cutMm),
        answer: derived.runs.get(run.id)?.answer ?? 'not-checked',
      };
    }),
    findings: derived.findings.map(findingOf),
    circuits: circuitsJson(doc, derived),
    cover: coverOf(doc, derived),
  };
}

/** Columns lined up with two spaces between; the columns named hold numbers and stand right. */
export function columns(table: readonly (readonly string[])[], right: readonly number[] = []): string[] {
  const widths: number[] = [];
  for (const row of table) {
    for (const [i, cell] of row.entries()) widths[i] = Math.max(widths[i] ?? 0, [...cell].length);
  }
  return table.map((row) =>
    row
      .map((cell, i) => {
        const pad = ' '.repeat((widths[i] ?? 0) - [...cell].length);
        return right.includes(i) ? pad + cell : cell + pad;
      })
      .join('  ')
      .trimEnd(),
  );
}

/** Control characters of a name must not reach the terminal. */
const plain = (text: string): string => text.replaceAll(/\p{Cc}+/gu, ' ');
const fixed = (value: number | null, places: number): string =>
  value === null ? '—' : value.toFixed(places);

function scaleText({ scale }: Derived['takeOff']): string {
  if (scale.state === 'refused') return `Metres are refused. ${scale.why}`;
  if (scale.state === 'typed') return 'Scale: drawn from typed lengths.';
  const from =
    scale.lengths === 1
      ? 'one known length only, with nothing to check it'
      : `${scale.lengths} known lengths`;
  return `Scale: measured from ${from}, ± ${scale.errorPerMetre.toFixed(1)} mm in each metre.`;
}

function drumText(plan: DrumPlan): string {
  const buy = drumsToBuy(plan).map((d) => `${d.count} × ${d.length_m} m`);
  const cost = plan.cost === null || buy.length === 0 ? '' : `, ${plan.cost.toFixed(2)} in all`;
  const unit = plan.objective === 'money' ? '' : ' m';
  const digits = plan.objective === 'money' ? 2 : 0;
  const proof = plan.proven
    ? plan.objective === 'money'
      ? 'cheapest possible'
      : 'fewest metres possible'
    : `not proven least: nothing below ${plan.lowerBound.toFixed(digits)}${unit}, this is ${plan.value.toFixed(digits)}${unit}`;
  const long = plan.tooLong.length === 0 ? '' : `; longer than any drum: ${plan.tooLong.join(', ')}`;
  return `${buy.length === 0 ? 'nothing to buy' : buy.join(' + ')}${cost} (${proof})${long}`;
}

/** The report as tables for people to read in a terminal. */
export function reportText(doc: PlanDocument, derived: Derived): string {
  const report = reportOf(doc, derived);
  const name = (cable: Id) => plain(find(doc, 'cables', cable)?.name ?? cable);
  const label = (run: Id | null) => plain(find(doc, 'runs', run)?.label ?? '');
  const point = (id: Id | null) => plain(find(doc, 'points', id)?.label ?? '');
  const lines = [plain(doc.job.title), scaleText(derived.takeOff), ''];
  if (report.cables.length > 0) {
    lines.push(
      ...columns(
        [
          ['Cable', 'Runs', 'Measured m', 'Tails m', 'Allowance m', 'To order m'],
          ...report.cables.map((c) => [
            name(c.cable),
            String(c.runs),
            fixed(c.measured_m, 3),
            fixed(c.tails_m, 3),
            fixed(c.allowance_m, 3),
            fixed(c.order_m, 3),
          ]),
        ],
        [1, 2, 3, 4, 5],
      ),
      '',
      ...columns([['Drums of', 'To buy'], ...derived.drums.map((d) => [name(d.cable), drumText(d)])]),
      '',
    );
  }
  if (report.runs.length > 0) {
    lines.push(
      ...columns(
        [
          ['Run', 'Circuit', 'Cable', 'Run mm', 'Rise+drop mm', 'Through mm', 'Tails mm', 'Cut mm', 'Answer'],
          ...report.runs.map((r) => [
            plain(r.label),
            plain(find(doc, 'circuits', r.circuit)?.label ?? ''),
            name(r.cable),
            ...[r.run_mm, r.rise_drop_mm, r.through_mm, r.tails_mm, r.cut_mm].map((v) => fixed(v, 1)),
            r.answer,
          ]),
        ],
        [3, 4, 5, 6, 7],
      ),
      '',
    );
  }
  const { sundries } = derived.takeOff;
  if (sundries.length > 0) {
    lines.push(
      ...columns([['Count', 'Sundries'], ...sundries.map((s) => [String(s.count), plain(s.what)])], [0]),
      '',
    );
  }
  lines.push(report.findings.length === 0 ? 'No findings.' : `Findings: ${report.findings.length}`);
  for (const f of report.findings) {
    const where = [label(f.run), point(f.point), f.face ?? ''].filter((part) => part !== '').join(' ');
    lines.push(
      `  ${f.severity}  ${f.rule}${where === '' ? '' : `  [${where}]`}  ${plain(f.message)} (${ranked({ text: f.source, rank: f.rank })})`,
    );
  }
  lines.push(
    '',
    'A plan is not a design or a certificate: cable sizes, protection and tests are for a competent person.',
  );
  return `${lines.join('\n')}\n`;
}

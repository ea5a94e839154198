import { factsOfCircuit } from '../../engine/electrical/facts.ts';
import type { ElectricalInput } from '../../engine/electrical/net.ts';
import { scheduleRow, type Question, type ScheduleRow } from '../../engine/circuitReport/schedule.ts';
import { rows } from '../../engine/model/tables.ts';
import { EDITIONS } from '../../engine/zones/editions.ts';
import type { CsvCell } from '../../io/csv.ts';
import { sourcesOf } from '../../engine/electrical/tables/cited.ts';
import {
  COOKER_DIVERSITY,
  LIGHTING_DIVERSITY,
  RING_FAR_LOAD,
} from '../../engine/electrical/tables/circuits.ts';
import { C_MIN, TOUCH_VOLTAGE, TRIP_MULTIPLE, VOLTAGE_DROP } from '../../engine/electrical/tables/limits.ts';
import { MILLIVOLTS } from '../../engine/electrical/tables/ratings.ts';
import { COPPER_20, FACTOR_70 } from '../../engine/electrical/tables/resistance.ts';
import { EVIDENCE_WORDS, type Source } from '../../engine/model/evidence.ts';
import { ratingSource } from './factLines.ts';

/** Lines of the circuit schedule, in the plan's order. */
export function scheduleOf(input: ElectricalInput): ScheduleRow[] {
  return rows(input.doc.circuits).map((circuit) => scheduleRow(input, factsOfCircuit(input, circuit)));
}

export const TOPOLOGY: Readonly<Record<ScheduleRow['topology'], string>> = {
  ring: 'Ring',
  radial: 'Radial',
  lighting: 'Lighting',
};

/** A column of the schedule: its head, how it is shown, and its bare number for a table of cells. */
export interface ScheduleColumn {
  readonly head: string;
  readonly about: string;
  readonly cell: (row: ScheduleRow) => CsvCell;
  readonly places?: number;
}

const fixed = (value: number | null, places: number): number | null =>
  value === null ? null : Number(value.toFixed(places));

/** The columns of the schedule; a null cell is left blank. */
export const SCHEDULE_COLUMNS: readonly ScheduleColumn[] = [
  { head: 'No.', about: 'number of the circuit', cell: (r) => r.label },
  { head: 'Circuit', about: 'its name', cell: (r) => r.name },
  { head: 'Shape', about: 'ring, radial or lighting', cell: (r) => TOPOLOGY[r.topology] },
  { head: 'Points', about: 'points on it', cell: (r) => r.points },
  { head: 'Device', about: 'type and rated current, A', cell: (r) => r.device },
  { head: 'RCD mA', about: 'rated residual current', cell: (r) => r.rcd },
  { head: 'Cable', about: 'of the circuit', cell: (r) => r.cable },
  { head: 'Line mm²', about: 'live conductors', cell: (r) => r.csa },
  { head: 'cpc mm²', about: 'protective conductor', cell: (r) => r.cpc },
  {
    head: 'Method',
    about: 'reference methods of Table 4A2 along its runs',
    cell: (r) => r.methods.join(' '),
  },
  { head: 'Length m', about: 'all runs with tails', cell: (r) => fixed(r.lengthMm / 1000, 2), places: 2 },
  { head: 'Ib A', about: 'design current', cell: (r) => fixed(r.designCurrent, 1), places: 1 },
  { head: 'Iz A', about: 'least rating with its factors', cell: (r) => fixed(r.rating, 1), places: 1 },
  {
    head: 'Drop V',
    about: 'voltage drop at its furthest point',
    cell: (r) => fixed(r.dropVolts, 2),
    places: 2,
  },
  { head: 'R1+R2 Ω', about: 'at 20 °C, to its furthest point', cell: (r) => fixed(r.r1r2, 3), places: 3 },
  { head: 'Zs Ω', about: 'Ze + (R1 + R2) × 1.20', cell: (r) => fixed(r.zs, 3), places: 3 },
  { head: 'Max Zs Ω', about: 'limit of its device', cell: (r) => fixed(r.maxZs, 3), places: 3 },
];

/** What the columns of the schedule rest on, with their ranks: of the figures this plan's circuits use. */
export function scheduleSources(input: ElectricalInput): { readonly of: string; readonly source: Source }[] {
  const lines = scheduleOf(input);
  return [
    { of: 'Ib', source: sourcesOf(LIGHTING_DIVERSITY, COOKER_DIVERSITY) },
    { of: 'Iz', source: ratingSource(lines.flatMap((line) => line.methods)) },
    { of: 'Drop', source: sourcesOf(VOLTAGE_DROP, MILLIVOLTS) },
    ...(lines.some((line) => line.topology === 'ring')
      ? [{ of: 'Drop of rings', source: sourcesOf(RING_FAR_LOAD) }]
      : []),
    { of: 'R1+R2 and Zs', source: sourcesOf(COPPER_20, FACTOR_70) },
    { of: 'Max Zs', source: sourcesOf(TRIP_MULTIPLE, C_MIN) },
    ...(input.doc.job.supply.earthing === 'TT'
      ? [{ of: 'Max Zs with an RCD', source: sourcesOf(TOUCH_VOLTAGE) }]
      : []),
  ];
}

/** A cell as it is printed: numbers with their places, nothing for what is not known. */
export function shown(column: ScheduleColumn, row: ScheduleRow): string {
  const cell = column.cell(row);
  if (cell === null) return '';
  return typeof cell === 'number' ? cell.toFixed(column.places ?? (Number.isInteger(cell) ? 0 : 1)) : cell;
}

const head = (title: string, input: ElectricalInput, date: string): CsvCell[][] => [
  [`${title}: ${input.doc.job.title}`],
  [`Checked against ${EDITIONS[input.doc.job.edition].name}`, date],
  ['A plan is not a design or a certificate: the designer decides.'],
];

/** The schedule as rows of cells; blanks are empty cells. */
export function scheduleCsv(input: ElectricalInput, date: string): CsvCell[][] {
  return [
    ...head('Circuit schedule', input, date),
    SCHEDULE_COLUMNS.map((c) => c.head),
    ...scheduleOf(input).map((row) => SCHEDULE_COLUMNS.map((c) => c.cell(row))),
    ...scheduleSources(input).map(({ of, source }) => [
      `Source of ${of}`,
      source.text,
      EVIDENCE_WORDS[source.rank],
    ]),
  ];
}

/** The questions as rows of cells: what is asked, what the plan has, and a blank for the answer. */
export function questionsCsv(
  input: ElectricalInput,
  questions: readonly Question[],
  date: string,
): CsvCell[][] {
  return [
    ...head('Questions for your electrician', input, date),
    ['About', 'Question', 'In the plan', 'Answer'],
    ...questions.map((q): CsvCell[] => [
      input.doc.circuits.byId[q.circuit ?? '']?.label ?? 'Job',
      q.ask,
      q.answer,
      null,
    ]),
  ];
}

import { factsOfCircuit } from '../../engine/electrical/facts.ts';
import type { ElectricalInput } from '../../engine/electrical/net.ts';
import { scheduleRow, type Question, type ScheduleRow } from '../../engine/electrical/schedule.ts';
import { rows } from '../../engine/model/tables.ts';
import { EDITIONS } from '../../engine/zones/editions.ts';
import type { CsvCell } from '../../io/csv.ts';

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

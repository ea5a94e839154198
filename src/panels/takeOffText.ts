import type { PlanDocument } from '../engine/model/document.ts';
import type { TakeOff } from '../engine/takeoff/types.ts';
import type { CsvCell } from '../io/csv.ts';

const m = (mm: number): number => Math.round(mm / 10) / 100;

/** Cells of a row that counts; rows of metres have more. */
const COUNTED = 3;

/** The take-off as rows of cells: metres per cable to the centimetre, then what else to buy. */
export function takeOffRows(doc: PlanDocument, takeOff: TakeOff): CsvCell[][] {
  const title: CsvCell[] = [`Take-off: ${doc.job.title}`];
  if (takeOff.scale.state === 'refused') return [title, [`Metres refused: ${takeOff.scale.why}`]];
  const head = [
    'Cable',
    'Run m',
    'Rise and drop m',
    'Through m',
    'Tails m',
    'Allowance m',
    'To order m',
    '± m',
  ];
  const cables = takeOff.cables.map((each): CsvCell[] => [
    each.name,
    m(each.runMm),
    m(each.riseDropMm),
    m(each.throughMm),
    m(each.tailsMm),
    m(each.allowanceMm),
    m(each.orderMm),
    m(each.errorMm),
  ]);
  const sundries = takeOff.sundries.map((each): CsvCell[] => [each.what, each.count, each.working]);
  return [title, head, ...cables, ['Also', 'Count', 'Working'], ...sundries];
}

/** The same as tab-separated lines, for pasting into a letter or a sheet. */
export function takeOffText(doc: PlanDocument, takeOff: TakeOff): string {
  const cell = (value: CsvCell, places: number): string =>
    typeof value === 'number' ? value.toFixed(places) : (value ?? '');
  return takeOffRows(doc, takeOff)
    .map((cells) =>
      cells
        .map((each) => cell(each, cells.length > COUNTED ? 2 : 0).replaceAll(/[\t\r\n]+/g, ' '))
        .join('\t'),
    )
    .join('\n')
    .concat('\n');
}

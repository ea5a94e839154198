import type { PlanDocument } from '../engine/model/document.ts';
import type { TakeOff } from '../engine/takeoff/types.ts';

const m = (mm: number): string => (mm / 1000).toFixed(2);

/** The take-off as tab-separated lines, for pasting into a letter or a sheet. */
export function takeOffText(doc: PlanDocument, takeOff: TakeOff): string {
  if (takeOff.scale.state === 'refused') return `Metres refused: ${takeOff.scale.why}\n`;
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
  const rows = takeOff.cables.map((each) => [
    each.name,
    m(each.runMm),
    m(each.riseDropMm),
    m(each.throughMm),
    m(each.tailsMm),
    m(each.allowanceMm),
    m(each.orderMm),
    m(each.errorMm),
  ]);
  const sundries = takeOff.sundries.map((each) => [each.what, String(each.count)]);
  return [[`Take-off: ${doc.job.title}`], head, ...rows, [], ...sundries]
    .map((cells) => cells.map((cell) => cell.replaceAll(/[\t\r\n]+/g, ' ')).join('\t'))
    .join('\n')
    .concat('\n');
}

import type { Id, PlanDocument } from '../model/document.ts';
import { find } from '../model/tables.ts';
import { cutList } from './cutList.ts';
import type { DrumPlan, TakeOff } from './types.ts';

/** A row of a plain table: text, numbers (metres to 1 mm), or an empty cell. */
export type Row = readonly (string | number | null)[];

const m = (mm: number): number => Math.round(mm) / 1000;
const runName = (doc: PlanDocument, id: Id): string => find(doc, 'runs', id)?.label ?? id;
const pointName = (doc: PlanDocument, id: Id | null): string => {
  const point = find(doc, 'points', id);
  return point === undefined ? '(parked)' : point.name === '' ? point.label : `${point.label} ${point.name}`;
};

/** The take-off as a table: metres per cable, and everything else to buy, with workings. Where refused, only why. */
export function takeOffTable(doc: PlanDocument, taken: TakeOff): Row[] {
  const title: Row = [`Take-off: ${doc.job.title}`];
  const sundries: Row[] = [
    ['What', 'Count', 'Working', 'Source'],
    ...taken.sundries.map((s): Row => [s.what, s.count, s.working, s.source]),
  ];
  if (taken.scale.state === 'refused')
    return [title, [`Metres refused: ${taken.scale.why}`], [], ...sundries];
  return [
    title,
    ['Cable', 'Runs', 'Run m', 'Rise and drop m', 'Through m', 'Tails m', 'Allowance m', 'To order m', '± m'],
    ...taken.cables.map((c): Row => [
      c.name,
      c.runs.length,
      m(c.runMm),
      m(c.riseDropMm),
      m(c.throughMm),
      m(c.tailsMm),
      m(c.allowanceMm),
      m(c.orderMm),
      m(c.errorMm),
    ]),
    [],
    ...sundries,
  ];
}

/** The cut list of every drum plan in pulling order: run, ends, cable, length, drum, what is left on it. */
export function cutListTable(doc: PlanDocument, plans: readonly DrumPlan[]): Row[] {
  return [
    ['Run', 'From', 'To', 'Cable', 'Cut m', 'Drum', 'Drum m', 'Owned', 'Left on drum m'],
    ...plans.flatMap((plan) =>
      cutList(plan, doc.runs.order).map((cut): Row => {
        const run = find(doc, 'runs', cut.run);
        return [
          runName(doc, cut.run),
          pointName(doc, run?.from ?? null),
          pointName(doc, run?.to ?? null),
          find(doc, 'cables', plan.cable)?.name ?? plan.cable,
          m(cut.length),
          cut.drum + 1,
          cut.drumLength,
          cut.owned ? 'yes' : 'no',
          m(cut.left),
        ];
      }),
    ),
  ];
}

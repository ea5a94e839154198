import type { Id, PlanDocument } from '../model/document.ts';
import { find, rows } from '../model/tables.ts';
import type { Mm } from '../model/units.ts';
import { sundriesOf } from './sundries.ts';
import type { CableTotal, RunLength, Scale, TakeOff } from './types.ts';

const sum = (lengths: readonly RunLength[], f: (l: RunLength) => Mm): Mm =>
  lengths.reduce((total, l) => total + f(l), 0);

/** The length to cut for a run, mm: its length and tails, and the job's allowance on them. */
export function cutWithAllowance(doc: PlanDocument, length: RunLength): Mm {
  return length.cutMm * (1 + doc.job.allowances.percent / 100);
}

/** Runs of the document in its order that have a length. */
function inOrder(doc: PlanDocument, lengths: ReadonlyMap<Id, RunLength>): RunLength[] {
  return doc.runs.order.flatMap((id) => lengths.get(id) ?? []);
}

/**
 * Totals of some runs of one cable, mm. The error is the calibration's on level and sloping metres alone: heights and
 * wall thicknesses are typed, not measured off the picture.
 */
function totalOf(doc: PlanDocument, cable: Id, lengths: readonly RunLength[], scale: Scale): CableTotal {
  const runMm = sum(lengths, (l) => l.runMm);
  const riseDropMm = sum(lengths, (l) => l.riseDropMm);
  const throughMm = sum(lengths, (l) => l.throughMm);
  const tailsMm = sum(lengths, (l) => l.tailFromMm + l.tailToMm);
  const measuredMm = runMm + riseDropMm + throughMm;
  const allowanceMm = ((measuredMm + tailsMm) * doc.job.allowances.percent) / 100;
  return {
    cable,
    name: find(doc, 'cables', cable)?.name ?? cable,
    runs: lengths.map((l) => l.run),
    runMm,
    riseDropMm,
    throughMm,
    measuredMm,
    tailsMm,
    allowanceMm,
    orderMm: measuredMm + tailsMm + allowanceMm,
    errorMm: scale.state === 'measured' ? (runMm * scale.errorPerMetre) / 1000 : 0,
  };
}

/**
 * The take-off: metres per cable in catalogue order with the allowance on its own, and the sundries. Where the scale
 * is refused no run has a length and no cable a total; what is counted, not measured, is still listed.
 */
export function takeOff(doc: PlanDocument, lengths: ReadonlyMap<Id, RunLength>, scale: Scale): TakeOff {
  if (scale.state === 'refused') {
    return { scale, runs: new Map(), cables: [], sundries: sundriesOf(doc, []) };
  }
  const all = inOrder(doc, lengths);
  const cables = rows(doc.cables).flatMap((cable) => {
    const own = all.filter((l) => l.cable === cable.id);
    return own.length === 0 ? [] : [totalOf(doc, cable.id, own, scale)];
  });
  return {
    scale,
    runs: new Map(all.map((l) => [l.run, l])),
    cables,
    sundries: sundriesOf(doc, all),
  };
}

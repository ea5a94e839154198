import type { ReactNode } from 'react';
import type { Mm } from '../../engine/model/units.ts';
import type { PlanDocument } from '../../engine/model/document.ts';
import { cutWithAllowance } from '../../engine/takeoff/totals.ts';
import type { RunLength } from '../../engine/takeoff/types.ts';

/** The job's allowance on one run, mm. */
export const allowanceOf = (doc: PlanDocument, length: RunLength): Mm =>
  cutWithAllowance(doc, length) - length.cutMm;

/** Metres to a millimetre, so that what is shown adds up. */
const exact = (mm: Mm): string => (mm / 1000).toFixed(3);

/** "3.200 run + 2.650 rise and drop + 0.450 tails + 0.630 allowance (10 %) = 6.930 m". Parts of nothing are left out. */
export function cutWorking(doc: PlanDocument, length: RunLength): string {
  const parts: readonly (readonly [Mm, string])[] = [
    [length.runMm, 'run'],
    [length.riseDropMm, 'rise and drop'],
    [length.throughMm, 'through walls'],
    [length.tailFromMm + length.tailToMm, 'tails'],
    [allowanceOf(doc, length), `allowance (${doc.job.allowances.percent} %)`],
  ];
  const said = parts.flatMap(([mm, what]) => (mm > 0 ? [`${exact(mm)} ${what}`] : []));
  return `${said.join(' + ')} = ${exact(cutWithAllowance(doc, length))} m`;
}

/** Marks a run that is counted only as far as it is drawn. */
export function Unfinished(props: { readonly length: Pick<RunLength, 'whole'> }): ReactNode {
  if (props.length.whole) return null;
  return <small className="unfinished">unfinished</small>;
}

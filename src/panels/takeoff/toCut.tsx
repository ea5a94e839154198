import type { ReactNode } from 'react';
import type { Mm } from '../../engine/model/units.ts';
import type { PlanDocument } from '../../engine/model/document.ts';
import { cutWithAllowance } from '../../engine/takeoff/totals.ts';
import type { RunLength } from '../../engine/takeoff/types.ts';
import { metres } from '../lengths.tsx';

/** The job's allowance on one run, mm. */
export const allowanceOf = (doc: PlanDocument, length: RunLength): Mm =>
  cutWithAllowance(doc, length) - length.cutMm;

/** "3.20 run + 2.65 rise and drop + 0.45 tails + 0.63 allowance (10 %) = 6.93 m". Parts of nothing are left out. */
export function cutWorking(doc: PlanDocument, length: RunLength): string {
  const parts: readonly (readonly [Mm, string])[] = [
    [length.runMm, 'run'],
    [length.riseDropMm, 'rise and drop'],
    [length.throughMm, 'through walls'],
    [length.tailFromMm + length.tailToMm, 'tails'],
    [allowanceOf(doc, length), `allowance (${doc.job.allowances.percent} %)`],
  ];
  const said = parts.flatMap(([mm, what]) => (mm > 0 ? [`${(mm / 1000).toFixed(2)} ${what}`] : []));
  return `${said.join(' + ')} = ${metres(cutWithAllowance(doc, length))}`;
}

/** Marks a run that is counted only as far as it is drawn. */
export function Unfinished(props: { readonly length: Pick<RunLength, 'whole'> }): ReactNode {
  if (props.length.whole) return null;
  return <small className="unfinished">unfinished</small>;
}

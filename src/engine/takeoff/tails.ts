import type { Id, PlanDocument, Run } from '../model/document.ts';
import { POINT_KINDS } from '../model/pointKinds.ts';
import { find } from '../model/tables.ts';
import type { Mm } from '../model/units.ts';

/** A tail and why it is that long. */
export interface Tail {
  readonly length: Mm;
  readonly why: string;
}

/** Tails are common practice, no published source: the figures are the job's own, and each run may have its own. */
export const TAILS_SOURCE = 'Common practice, no published source; editable in the job and on each run';

/**
 * The spare cable left at one end of a run, mm: the run's own figure if it has one, else by what it ends at: consumer
 * unit, metal box fixed first, box that comes later, fitting without a box, parked end (as for a box to come).
 */
export function tailOf(doc: PlanDocument, end: Id | null, own: Mm | null): Tail {
  if (own !== null) return { length: own, why: 'typed on this run' };
  const { tailBoard, tailFixed, tailLater, tailFitting } = doc.job.allowances;
  const point = find(doc, 'points', end);
  if (point === undefined) return { length: tailLater, why: 'end on no point, coiled as for a box to come' };
  if (point.kind === 'consumer-unit')
    return { length: tailBoard, why: `${point.label}: tail at a consumer unit` };
  if (point.box !== null) {
    return point.box.fixedFirst
      ? { length: tailFixed, why: `${point.label}: box already fixed` }
      : { length: tailLater, why: `${point.label}: box comes later` };
  }
  return POINT_KINDS[point.kind].boxed
    ? { length: tailLater, why: `${point.label}: no box chosen yet, so it comes later` }
    : { length: tailFitting, why: `${point.label}: fitting without a box` };
}

/** Both tails of a run, mm. */
export function tailsOf(doc: PlanDocument, run: Run): { readonly from: Tail; readonly to: Tail } {
  return { from: tailOf(doc, run.from, run.tailFrom), to: tailOf(doc, run.to, run.tailTo) };
}

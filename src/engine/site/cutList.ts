import type { Derived } from '../derive/types.ts';
import type { Id, PlanDocument, Run } from '../model/document.ts';
import { rows } from '../model/tables.ts';
import type { Metre, Mm } from '../model/units.ts';
import { cutWithAllowance } from '../takeoff/totals.ts';

/** One cut, in pulling order. */
export interface Cut {
  readonly run: Run;
  readonly cable: string;
  /** Length to cut, with its tails and the job's allowance; null where metres are refused. */
  readonly length: Mm | null;
  /** False when an end is on no point or the way is not clear: it is then cut only as far as it is drawn. */
  readonly whole: boolean;
  /** Which drum of that cable it comes from (from 1), how long that was, and what is left on it; null when not planned. */
  readonly drum: {
    readonly number: number;
    readonly length: Metre;
    readonly owned: boolean;
    readonly left: Mm;
  } | null;
}

/** Every run in pulling order (the order of the plan's run list) with the drum it is cut from. */
export function cutList(doc: PlanDocument, derived: Derived): Cut[] {
  const drums = new Map<Id, NonNullable<Cut['drum']>>();
  for (const plan of derived.drums) {
    plan.drums.forEach((drum, index) => {
      for (const cut of drum.cuts) {
        drums.set(cut.run, { number: index + 1, length: drum.length, owned: drum.owned, left: cut.left });
      }
    });
  }
  return rows(doc.runs).map((run) => {
    const length = derived.takeOff.runs.get(run.id);
    return {
      run,
      cable: doc.cables.byId[run.cable]?.name ?? run.cable,
      length: length === undefined ? null : cutWithAllowance(doc, length),
      whole: length?.whole ?? false,
      drum: drums.get(run.id) ?? null,
    };
  });
}

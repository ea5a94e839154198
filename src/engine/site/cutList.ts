import type { Derived } from '../derive/types.ts';
import type { Id, PlanDocument, Run } from '../model/document.ts';
import { rows } from '../model/tables.ts';
import type { Metre, Mm } from '../model/units.ts';

/** One cut, in pulling order. */
export interface Cut {
  readonly run: Run;
  readonly cable: string;
  /** Length to cut; null where metres are refused or the run is not whole. */
  readonly length: Mm | null;
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
  const lengths = new Map<Id, Mm>();
  for (const plan of derived.drums) {
    plan.drums.forEach((drum, index) => {
      for (const cut of drum.cuts) {
        drums.set(cut.run, { number: index + 1, length: drum.length, owned: drum.owned, left: cut.left });
        lengths.set(cut.run, cut.length);
      }
    });
  }
  return rows(doc.runs).map((run) => {
    const length = derived.takeOff.runs.get(run.id);
    const measured = length?.whole ? length.cutMm : null;
    return {
      run,
      cable: doc.catalogue.cables.byId[run.cable]?.name ?? run.cable,
      length: lengths.get(run.id) ?? measured,
      drum: drums.get(run.id) ?? null,
    };
  });
}

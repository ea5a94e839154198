import type { CircuitPlan } from '../../engine/routing/types.ts';
import type { Derived } from '../../engine/derive/types.ts';
import { resolveRun } from '../../engine/fabric/resolve.ts';
import type { PlanDocument } from '../../engine/model/document.ts';
import { withSuggestion } from '../../engine/routing/trial.ts';
import { checkRun } from '../../engine/zones/checkRun.ts';
import { legPreview } from '../../tools/run/preview.ts';
import type { Preview } from '../../tools/types.ts';

/** Suggested runs as they would lie, on the plan and on the walls, each leg by its answer. */
export function trialPreview(doc: PlanDocument, derived: Derived, plans: readonly CircuitPlan[]): Preview {
  const { fabrics, zones } = derived;
  const trial = withSuggestion(doc, plans);
  const ctx = { doc: trial.doc, fabrics, zones };
  const legs = trial.made.flatMap((id) => {
    const run = trial.doc.runs.byId[id];
    return run === undefined ? [] : checkRun(ctx, run, resolveRun(trial.doc, fabrics, run)).legs;
  });
  return legPreview(legs);
}

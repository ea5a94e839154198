import { applyChange } from '../document/change.ts';
import { deriveAll } from '../engine/derive/deriveAll.ts';
import type { PlanDocument } from '../engine/model/document.ts';
import { find, rows } from '../engine/model/tables.ts';
import { onlyWay } from '../engine/routing/circuitPlan.ts';
import { compareWays } from '../engine/routing/compare.ts';
import { routingContext } from '../engine/routing/context.ts';
import { followRuns } from '../engine/routing/follow.ts';
import { plannerFor, suggestRun } from '../engine/routing/planner.ts';
import { ALL_WAYS } from '../engine/routing/types.ts';
import { planCircuits, unroutedCircuits } from '../engine/routing/wholePlan.ts';
import { drumSensitivity } from '../engine/takeoff/sensitivity.ts';
import { unknownPlan } from './planParts.ts';
import type { Answers, FromSuggester, Question, ToSuggester } from './suggestMessages.ts';

/** The entry of the worker that looks for ways: the plan in pieces, then one question in, progress and one answer out. */
interface WorkerScope {
  onmessage: ((event: MessageEvent<ToSuggester>) => void) | null;
  postMessage(message: FromSuggester): void;
}

/** Progress is told no oftener than this, ms: the page redraws for each. */
const TELL_EVERY = 120;

const scope = self as unknown as WorkerScope;
let doc: PlanDocument = unknownPlan();

function answer(asked: Question): Answers[keyof Answers] {
  if (asked.kind === 'sensitivity') return drumSensitivity(doc, deriveAll);
  const ctx = routingContext(doc);
  if (asked.kind === 'follow') return followRuns(ctx, asked.runs, asked.was);
  if (asked.kind === 'circuits') {
    const { circuits } = asked;
    const chosen =
      circuits === null ? unroutedCircuits(doc) : rows(doc.circuits).filter((c) => circuits.includes(c.id));
    const work = planCircuits(ctx, chosen);
    let told = -Infinity;
    for (;;) {
      const step = work.next();
      if (step.done === true) return step.value;
      const { done, total, circuit } = step.value;
      if (performance.now() - told < TELL_EVERY) continue;
      told = performance.now();
      scope.postMessage({ kind: 'progress', done, total, what: circuit });
    }
  }
  const circuit = find(doc, 'circuits', asked.circuit) ?? null;
  if (asked.kind === 'compare') {
    if (circuit === null) throw new Error('the circuit is no longer in the plan');
    return compareWays(ctx, circuit, asked.replaces);
  }
  const way = circuit?.way ?? null;
  const planner = plannerFor(ctx, circuit, way === null ? ALL_WAYS : onlyWay(way));
  return suggestRun(planner, asked.from, asked.to);
}

scope.onmessage = ({ data }) => {
  try {
    if (data.kind === 'part') doc = applyChange(doc, data.change, 'after');
    else scope.postMessage({ kind: 'answer', answer: answer(data) });
  } catch (error) {
    scope.postMessage({ kind: 'failed', message: error instanceof Error ? error.message : String(error) });
  }
};

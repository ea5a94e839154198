import type { Id, PlanDocument, Run } from '../model/document.ts';
import type { CircuitPlan } from './circuitPlan.ts';

const NOTHING_DONE: Run['progress'] = {
  pulled: null,
  labelled: null,
  photographed: null,
  tested: null,
  covered: null,
};

/** Which runs of a circuit a suggestion takes the place of: those suggested before, or hand-drawn ones too. */
export type Replaces = 'suggested' | 'drawn';

/** May a suggestion take this run's place? Never one that somebody locked or has begun to lay. */
export function isReplaceable(run: Run, replaces: Replaces = 'suggested'): boolean {
  return (
    (run.origin === 'suggested' || replaces === 'drawn') &&
    !run.locked &&
    Object.values(run.progress).every((d) => d === null)
  );
}

/** How a run lies when nobody said: chased or clipped on a masonry wall it starts on, in the stud or void elsewhere. */
function usualFixing(doc: PlanDocument, from: Id): Run['fixing'] {
  const place = doc.points.byId[from]?.place;
  if (place?.on !== 'face') return 'in-void';
  const wall = doc.walls.byId[place.wall];
  const frame = wall === undefined ? undefined : doc.buildUps.byId[wall.buildUp]?.frame;
  return frame === 'masonry' ? 'in-plaster' : 'in-stud';
}

/**
 * The plan with circuits routed as suggested: their replaceable runs give way, all others stay. New runs take the next
 * free numbers. The given plan is untouched.
 */
export function withSuggestion(
  doc: PlanDocument,
  plans: readonly CircuitPlan[],
): { readonly doc: PlanDocument; readonly made: readonly Id[] } {
  const circuits = new Map(plans.map((p) => [p.circuit, p.replaces]));
  const byId: Record<Id, Run> = {};
  const order: Id[] = [];
  for (const id of doc.runs.order) {
    const run = doc.runs.byId[id] as Run;
    const replaces = run.circuit === null ? undefined : circuits.get(run.circuit);
    if (replaces !== undefined && isReplaceable(run, replaces)) continue;
    byId[id] = run;
    order.push(id);
  }
  let number = doc.counters.r ?? 0;
  const made: Id[] = [];
  for (const plan of plans) {
    for (const { from, to, cable, corners, why } of plan.runs) {
      number += 1;
      const id = `r${number}`;
      byId[id] = {
        id,
        label: `R${number}`,
        circuit: plan.circuit,
        cable,
        from,
        to,
        corners,
        fixing: usualFixing(doc, from),
        depth: null,
        protection: 'none',
        tailFrom: null,
        tailTo: null,
        origin: 'suggested',
        locked: false,
        progress: NOTHING_DONE,
        asLaid: { state: 'not-recorded', note: '' },
        notes: why,
      };
      order.push(id);
      made.push(id);
    }
  }
  return { doc: { ...doc, runs: { order, byId }, counters: { ...doc.counters, r: number } }, made };
}

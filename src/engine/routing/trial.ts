import type { CircuitPlan, Replaces } from './types.ts';
import { BLANK_RUN } from '../model/blankRun.ts';
import type { Id, PlanDocument, Run } from '../model/document.ts';
import { rows } from '../model/tables.ts';

/** May a suggestion take this run's place? Never one that somebody locked or has begun to lay. */
export function isReplaceable(run: Run, replaces: Replaces = 'suggested'): boolean {
  return (
    (run.origin === 'suggested' || replaces === 'drawn') &&
    !run.locked &&
    Object.values(run.progress).every((d) => d === null)
  );
}

/** As `isReplaceable`, and no reading was taken of it. */
export function replaceableIn(doc: PlanDocument, replaces: Replaces): (run: Run) => boolean {
  const read = new Set(rows(doc.readings).map((reading) => reading.run));
  return (run) => isReplaceable(run, replaces) && !read.has(run.id);
}

/**
 * How a suggested run is fixed: as the runs it takes the place of, else buried on a masonry wall it starts on, else
 * clipped, which keeps power cables in one layer; lighting lies loose in studs and voids.
 */
function usualFixing(doc: PlanDocument, circuit: Id, from: Id): Run['fixing'] {
  const before = rows(doc.runs).find((run) => run.circuit === circuit)?.fixing;
  if (before !== undefined) return before;
  const place = doc.points.byId[from]?.place;
  const wall = place?.on === 'face' ? doc.walls.byId[place.wall] : undefined;
  if (wall !== undefined && doc.buildUps.byId[wall.buildUp]?.frame === 'masonry') return 'in-plaster';
  if (doc.circuits.byId[circuit]?.topology !== 'lighting') return 'clipped';
  return place?.on === 'face' ? 'in-stud' : 'in-void';
}

/**
 * The plan with circuits routed as suggested: their replaceable runs give way, all others stay. New runs take the next
 * free numbers. The given plan is untouched.
 */
export function withSuggestion(
  doc: PlanDocument,
  plans: readonly CircuitPlan[],
): { readonly doc: PlanDocument; readonly made: readonly Id[] } {
  const circuits = new Map(plans.map((p) => [p.circuit, replaceableIn(doc, p.replaces)]));
  const byId: Record<Id, Run> = {};
  const order: Id[] = [];
  for (const id of doc.runs.order) {
    const run = doc.runs.byId[id] as Run;
    if (run.circuit !== null && circuits.get(run.circuit)?.(run) === true) continue;
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
        fixing: usualFixing(doc, plan.circuit, from),
        ...BLANK_RUN,
        origin: 'suggested',
        notes: why,
      };
      order.push(id);
      made.push(id);
    }
  }
  return { doc: { ...doc, runs: { order, byId }, counters: { ...doc.counters, r: number } }, made };
}

import { editCircuit } from '../../document/commands/circuits.ts';
import { addRun } from '../../document/commands/runs.ts';
import { takeSuggestion } from '../../document/commands/suggestions.ts';
import { together } from '../../document/transact.ts';
import type { Command } from '../../document/types.ts';
import type { Id } from '../../engine/model/document.ts';
import type { WayCompared } from '../../engine/routing/compare.ts';
import type { CircuitPlan, RouteFound } from '../../engine/routing/types.ts';

/** One suggested run between two points as a command. */
export function takeRun(from: Id, to: Id, circuit: Id | null, route: RouteFound): Command {
  const { apply } = addRun({
    from,
    to,
    corners: route.corners,
    origin: 'suggested',
    ...(circuit === null ? {} : { circuit }),
  });
  return { name: 'Take suggested run', apply };
}

/** A way of a comparison as one command. The circuit keeps to it, so that its runs follow later changes by it alone. */
export function takeWay(plan: CircuitPlan, way: WayCompared['way']): Command {
  const kept = way === 'best' || way === 'now' ? null : way;
  return together('Take suggested route', [takeSuggestion([plan]), editCircuit(plan.circuit, { way: kept })]);
}

/** Everything a look at all circuits found, as one command. */
export function takeWhole(plans: readonly CircuitPlan[]): Command {
  return takeSuggestion(plans);
}

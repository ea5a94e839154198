import type { Circuit, Id, PlanDocument } from '../model/document.ts';
import { rows } from '../model/tables.ts';
import type { ZoneContext } from '../zones/surfaces.ts';
import { onlyWay, planWith } from './circuitPlan.ts';
import { plansApart } from './lanes.ts';
import { circuitFacts, plannerFor, type Planner } from './planner.ts';
import { ALL_WAYS, type Ways, type CircuitPlan } from './types.ts';

/** How far a whole-plan suggestion has come. */
export interface Progress {
  readonly done: number;
  readonly total: number;
  readonly circuit: string;
}

/** Circuits with a point that none of their runs ends at: what "lay what is left" is about. */
export function unroutedCircuits(doc: PlanDocument): Circuit[] {
  const joined = new Set(rows(doc.runs).flatMap((r) => [`${r.circuit} ${r.from}`, `${r.circuit} ${r.to}`]));
  const open = new Set(
    rows(doc.points)
      .filter((p) => p.kind !== 'consumer-unit' && !joined.has(`${p.circuit} ${p.id}`))
      .map((p) => p.circuit),
  );
  return rows(doc.circuits).filter((c) => open.has(c.id));
}

/**
 * Routes circuits one after the other, yielding before each so that the caller can show progress or stop. A circuit
 * keeps to its chosen way; without one it may take any.
 */
export function* planCircuits(
  ctx: ZoneContext,
  circuits: readonly Circuit[],
): Generator<Progress, CircuitPlan[], void> {
  const planners = new Map<string, Planner>();
  const plans: CircuitPlan[] = [];
  for (const circuit of circuits) {
    yield { done: plans.length, total: circuits.length, circuit: circuit.name };
    const ways: Ways = circuit.way === null ? ALL_WAYS : onlyWay(circuit.way);
    const key = netKey(ctx, circuit, ways);
    let planner = planners.get(key);
    if (planner === undefined) {
      planner = plannerFor(ctx, circuit, ways);
      planners.set(key, planner);
    }
    plans.push(planWith({ ...planner, board: circuit.board }, circuit));
  }
  return plansApart(ctx, plans);
}

/** Circuits with the same key share one net: where nothing but these facts decides which lines are legal. */
function netKey(ctx: ZoneContext, circuit: Circuit, ways: Ways): string {
  const facts = circuitFacts(ctx, circuit, []);
  const own = facts.otherCircuits ? [] : [circuit.id, circuit.board];
  return JSON.stringify([own, facts.p204, facts.rcd30, facts.width, ways]);
}

/** Totals of several plans, for a summary. */
export function summaryOf(plans: readonly CircuitPlan[]): {
  readonly runs: number;
  readonly metres: number;
  readonly drops: number;
  readonly blocked: readonly { readonly circuit: Id; readonly reason: string }[];
} {
  return {
    runs: plans.reduce((sum, p) => sum + p.runs.length, 0),
    metres: plans.reduce((sum, p) => sum + p.count.metres, 0),
    drops: plans.reduce((sum, p) => sum + p.count.drops, 0),
    blocked: plans.flatMap((p) => p.blocked.map((reason) => ({ circuit: p.circuit, reason }))),
  };
}

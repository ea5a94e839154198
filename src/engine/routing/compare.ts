import { deriveAll } from '../derive/deriveAll.ts';
import type { Circuit, Id, PlanDocument } from '../model/document.ts';
import type { DrumPlan } from '../takeoff/types.ts';
import type { ZoneContext } from '../zones/surfaces.ts';
import { onlyWay, planCircuit, waysOf, type CircuitPlan } from './circuitPlan.ts';
import { withSuggestion } from './trial.ts';
import { ALL_WAYS, type Way } from './types.ts';

/**
 * Longest ring of 2.5/1.5 mm² on a 32 A type B device with a 30 mA RCD, TN earthing, m without spurs.
 * Source: IET On-Site Guide Table 7.1(i).
 */
export const RING_LIMIT_METRES = 106;

/** One way to route a circuit, with what it would mean for the whole plan. */
export interface WayCompared {
  readonly way: Way | 'best';
  readonly plan: CircuitPlan;
  /** 3-D metres of the circuit, and as cut (with tails). */
  readonly metres: number;
  readonly cutMetres: number;
  readonly drops: number;
  readonly timberHoles: number;
  readonly chaseMetres: number;
  readonly throughWalls: number;
  /** Loop length against its limit; null where the circuit is no ring. */
  readonly ring: { readonly metres: number; readonly limit: number } | null;
  /** Drums of the cables this circuit uses, for the whole plan, if this way is taken. */
  readonly drums: readonly DrumPlan[];
  /** What the checks say of the circuit and its runs, if this way is taken. */
  readonly findings: number;
  readonly blocked: readonly string[];
}

/** The ways the fabric allows for a circuit, side by side; `best` may mix them. Hand-drawn and locked runs stay. */
export function compareWays(ctx: ZoneContext, circuit: Circuit): WayCompared[] {
  const ways: (Way | 'best')[] = [...waysOf(ctx), 'best'];
  return ways.map((way) => {
    const plan = planCircuit(ctx, circuit, way === 'best' ? ALL_WAYS : onlyWay(way));
    return { way, plan, ...consequences(ctx.doc, circuit, plan) };
  });
}

/** Works out a whole plan with the suggestion taken. */
function consequences(
  doc: PlanDocument,
  circuit: Circuit,
  plan: CircuitPlan,
): Omit<WayCompared, 'way' | 'plan'> {
  const trial = withSuggestion(doc, [plan]).doc;
  const derived = deriveAll(trial);
  const own = trial.runs.order.filter((id) => trial.runs.byId[id]?.circuit === circuit.id);
  const lengths = own.flatMap((id) => derived.takeOff.runs.get(id) ?? []);
  const metres = lengths.reduce((sum, l) => sum + l.runMm + l.riseDropMm + l.throughMm, 0) / 1000;
  const cables = new Set<Id>(lengths.map((l) => l.cable));
  return {
    metres,
    cutMetres: lengths.reduce((sum, l) => sum + l.cutMm, 0) / 1000,
    drops: plan.count.drops,
    timberHoles: Math.round(plan.count.timberHoles),
    chaseMetres: plan.count.chaseMetres,
    throughWalls: plan.count.throughWalls,
    ring: circuit.topology === 'ring' ? { metres, limit: RING_LIMIT_METRES } : null,
    drums: derived.drums.filter((d) => cables.has(d.cable)),
    findings: derived.findings.filter(
      (f) => f.circuit === circuit.id || (f.run !== null && own.includes(f.run)),
    ).length,
    blocked: plan.blocked,
  };
}

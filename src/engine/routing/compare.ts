import { deriveAll } from '../derive/deriveAll.ts';
import type { Derived } from '../derive/types.ts';
import type { Leg } from '../fabric/types.ts';
import type { Circuit, Id, PlanDocument } from '../model/document.ts';
import { cutWithAllowance } from '../takeoff/totals.ts';
import type { DrumPlan } from '../takeoff/types.ts';
import type { ZoneContext } from '../zones/surfaces.ts';
import { onlyWay, planCircuit, waysOf } from './circuitPlan.ts';
import { plansApart } from './lanes.ts';
import { withSuggestion } from './trial.ts';
import { ALL_WAYS, type Way, type CircuitPlan, type Replaces } from './types.ts';

/**
 * Longest ring of 2.5/1.5 mm² on a 32 A type B device with a 30 mA RCD, TN earthing, m without spurs.
 * Source: IET On-Site Guide Table 7.1(i).
 */
export const RING_LIMIT_METRES = 106;

/** One way to route a circuit, or the circuit as it is, with what it would mean for the whole plan. */
export interface WayCompared {
  readonly way: Way | 'best' | 'now';
  /** Null for the circuit as it is. */
  readonly plan: CircuitPlan | null;
  readonly runs: number;
  /** 3-D metres of the circuit, and to cut (with tails and allowance). */
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

/**
 * The ways the fabric allows for a circuit, side by side; `best` may mix them, and `now` is the circuit as it is, where
 * it has runs. Runs that the suggestion may not take the place of stay in each.
 */
export function compareWays(
  ctx: ZoneContext,
  circuit: Circuit,
  replaces: Replaces = 'suggested',
): WayCompared[] {
  const ways: (Way | 'best')[] = [...waysOf(ctx), 'best'];
  const compared = ways.map((way): WayCompared => {
    const found = planCircuit(ctx, circuit, way === 'best' ? ALL_WAYS : onlyWay(way), replaces);
    const plan = plansApart(ctx, [found])[0] ?? found;
    const trial = withSuggestion(ctx.doc, [plan]).doc;
    return { way, plan, ...consequences(trial, circuit), blocked: plan.blocked };
  });
  const now = consequences(ctx.doc, circuit);
  return now.runs === 0 ? compared : [...compared, { way: 'now', plan: null, ...now, blocked: [] }];
}

/** What a circuit comes to in a plan, worked out as the take-off and the checks do. */
function consequences(doc: PlanDocument, circuit: Circuit): Omit<WayCompared, 'way' | 'plan' | 'blocked'> {
  const derived = deriveAll(doc);
  const own = doc.runs.order.filter((id) => doc.runs.byId[id]?.circuit === circuit.id);
  const lengths = own.flatMap((id) => derived.takeOff.runs.get(id) ?? []);
  const legs = own.flatMap((id) => derived.runs.get(id)?.legs ?? []);
  const metres = legs.reduce((sum, l) => sum + l.leg.length, 0) / 1000;
  const cables = new Set<Id>(lengths.map((l) => l.cable));
  return {
    runs: own.length,
    metres,
    cutMetres: lengths.reduce((sum, l) => sum + cutWithAllowance(doc, l), 0) / 1000,
    drops: own.reduce((sum, id) => sum + dropsOf(derived.runs.get(id)?.legs.map((l) => l.leg) ?? []), 0),
    timberHoles: lengths.reduce((sum, l) => sum + l.throughTimber, 0),
    chaseMetres: chased(
      derived,
      legs.map((l) => l.leg),
    ),
    throughWalls: legs.filter((l) => l.leg.kind === 'through').length,
    ring: circuit.topology === 'ring' ? { metres, limit: RING_LIMIT_METRES } : null,
    drums: derived.drums.filter((d) => cables.has(d.cable)),
    findings: derived.findings.filter(
      (f) => f.circuit === circuit.id || (f.run !== null && own.includes(f.run)),
    ).length,
  };
}

/** Times a run goes between a wall and a void; down to a fitting in the ceiling is none. */
function dropsOf(legs: readonly Leg[]): number {
  return legs.filter(
    (leg, i) => leg.kind === 'riser' && (legs[i - 1]?.kind === 'face' || legs[i + 1]?.kind === 'face'),
  ).length;
}

/** Metres on masonry walls. */
function chased(derived: Derived, legs: readonly Leg[]): number {
  let sum = 0;
  for (const { kind, storey, face, fa, fb, length } of legs) {
    if (kind !== 'face' || face === null || fa === null || fb === null) continue;
    const on = derived.fabrics.get(storey)?.faces.get(face);
    const middle = (fa.u + fb.u) / 2;
    const build = on?.builds[on.pieces.findIndex((p) => middle >= p.u0 && middle <= p.u1)];
    if (build?.masonry === true) sum += length;
  }
  return sum / 1000;
}

import type { CheckContext, Draft, Rule } from '../rule.ts';
import { placeOfPoint, placeOnLeg } from '../words.ts';
import type { Finding, Severity, Stage } from '../types.ts';
import type { Id } from '../../model/document.ts';
import type { EditionRules } from '../../zones/editions.ts';
import type { ConditionStretch } from '../../electrical/conditions.ts';
import { factsOfCircuit, type CircuitFacts } from '../../electrical/facts.ts';
import type { ElectricalInput } from '../../electrical/net.ts';
import type { Evidence, Source } from '../../model/evidence.ts';

/** What is said of it; `rank` where it rests on figures less well known than the rule's own. */
interface Said {
  readonly said: string;
  readonly rank?: Evidence;
}

/** What a check of a circuit comes to. `open`: a fact is missing, so it is a question and no finding. */
export type Outcome =
  | ({ readonly state: 'keeps' } & Said)
  | ({ readonly state: 'breaks'; readonly fix: string; readonly where: Where } & Said)
  | ({ readonly state: 'open' } & Said)
  | { readonly state: 'not-asked' };

/** Where a broken rule shows: at a point, or at a stretch of a run. */
export type Where =
  | { readonly point: Id; readonly about?: string }
  | { readonly stretch: ConditionStretch; readonly about?: string }
  | { readonly run: Id; readonly about?: string }
  | null;

/** One rule about a circuit, in a file of its own. It may come out several ways: one for each thing found. */
export interface ElectricalCheck {
  readonly id: string;
  readonly title: string;
  readonly severity: Severity;
  readonly stage: Stage;
  readonly source: (rules: EditionRules) => Source;
  readonly look: (facts: CircuitFacts, input: ElectricalInput, rules: EditionRules) => readonly Outcome[];
}

/** A check as a rule of the findings: what it breaks is found, what it leaves open is not. */
export function ruleOf(check: ElectricalCheck): Rule<'circuit'> {
  const { id, title, severity, stage, source } = check;
  return {
    id,
    title,
    looksAt: 'circuit',
    severity,
    stage,
    source,
    find: (ctx, circuit) =>
      check.look(factsOfCircuit(ctx, circuit), ctx, ctx.rules).flatMap((outcome): Draft[] =>
        outcome.state !== 'breaks'
          ? []
          : [
              {
                about:
                  outcome.where?.about === undefined ? circuit.id : `${circuit.id}:${outcome.where.about}`,
                circuit: circuit.id,
                ...(outcome.rank === undefined
                  ? {}
                  : { source: { text: source(ctx.rules).text, rank: outcome.rank } }),
                message: outcome.said,
                fix: outcome.fix,
                ...placed(ctx, outcome.where),
              },
            ],
      ),
  };
}

function placed(
  ctx: CheckContext,
  where: Where,
): Partial<Pick<Finding, 'run' | 'leg' | 'point' | 'wall' | 'at'>> {
  if (where === null) return {};
  if ('point' in where) {
    const point = ctx.doc.points.byId[where.point];
    return { point: where.point, at: point ? placeOfPoint(ctx, point) : null };
  }
  const [run, index, t] =
    'stretch' in where
      ? [where.stretch.run, where.stretch.leg, (where.stretch.t0 + where.stretch.t1) / 2]
      : [where.run, 0, 0.5];
  const leg = ctx.checks.get(run)?.legs[index];
  return leg === undefined ? { run } : { run, leg: index, wall: leg.leg.wall, at: placeOnLeg(ctx, leg, t) };
}

/** "C3 (Lighting)". */
export function circuitName({ circuit }: CircuitFacts): string {
  return circuit.name === '' ? circuit.label : `${circuit.label} (${circuit.name})`;
}

export const amps = (a: number): string => `${(Math.round(a * 10) / 10).toFixed(1)} A`;

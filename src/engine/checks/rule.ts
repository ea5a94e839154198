import type { Fabric, FaceId } from '../fabric/types.ts';
import type { Circuit, Id, PlanDocument, Point, Run, Storey } from '../model/document.ts';
import type { Tracing } from '../model/tracing.ts';
import { remembered, type Source } from '../model/evidence.ts';
import type { RunLength } from '../takeoff/types.ts';
import type { EditionRules } from '../zones/editions.ts';
import type { Spot } from '../zones/spots.ts';
import type { Lookup, ZoneContext } from '../zones/surfaces.ts';
import type { RunCheck } from '../zones/types.ts';
import type { Finding, Severity, Stage } from './types.ts';

/** What a rule looks at, one at a time. When such a thing may have changed, its rules are run again on it alone. */
export interface Subjects {
  run: Run;
  point: Point;
  face: { readonly storey: Id; readonly face: FaceId };
  circuit: Circuit;
  storey: Storey;
  tracing: Tracing;
}
export type SubjectKind = keyof Subjects;

/** Everything a rule may look up. All of it is worked out beforehand and costs nothing to ask. */
export interface CheckContext extends ZoneContext {
  readonly doc: PlanDocument;
  readonly rules: EditionRules;
  readonly fabrics: ReadonlyMap<Id, Fabric>;
  readonly checks: Lookup<Id, RunCheck>;
  readonly lengths: Lookup<Id, RunLength>;
  /** Points on walls; undefined for others and for those that hit no wall. */
  readonly spots: Lookup<Id, Spot>;
  /** Ids in the document's order. */
  readonly facePoints: Lookup<FaceId, readonly Id[]>;
  /** Runs with a leg on a face. */
  readonly faceRuns: Lookup<FaceId, readonly Id[]>;
  readonly pointRuns: Lookup<Id, readonly Id[]>;
  readonly circuitRuns: Lookup<Id, readonly Id[]>;
  readonly circuitPoints: Lookup<Id, readonly Id[]>;
  /** Runs by the squares their legs lie in: who may lie beside whom. */
  readonly squareRuns: Lookup<string, readonly Id[]>;
}

/** A finding as a rule tells it: what is left out is null, and the registry adds the rule's own facts. */
export type Draft = Pick<Finding, 'message' | 'fix'> &
  Partial<Pick<Finding, 'run' | 'leg' | 'point' | 'circuit' | 'wall' | 'at' | 'outsideMm' | 'severity'>> & {
    /** Where this finding rests on something else than its rule does. */
    readonly source?: Source;
    /** Ids of the subject and number of the stretch: with the rule it makes the key. */
    readonly about: string;
  };

/** One rule, in a file of its own. */
export interface Rule<K extends SubjectKind = SubjectKind> {
  readonly id: string;
  /** A few plain words, for lists of rules. */
  readonly title: string;
  readonly looksAt: K;
  readonly severity: Severity;
  readonly stage: Stage;
  /** Regulation or guidance with its edition, and how well it is known. */
  readonly source: (rules: EditionRules) => Source;
  readonly find: (ctx: CheckContext, subject: Subjects[K]) => Draft[];
}

/** A rule's drafts as findings. */
export function findingsOf<K extends SubjectKind>(
  rule: Rule<K>,
  ctx: CheckContext,
  subject: Subjects[K],
): Finding[] {
  return rule.find(ctx, subject).map(({ about, source = rule.source(ctx.rules), ...draft }) => ({
    key: `${rule.id}:${about}`,
    rule: rule.id,
    severity: rule.severity,
    stage: rule.stage,
    run: null,
    leg: null,
    point: null,
    circuit: null,
    wall: null,
    at: null,
    outsideMm: null,
    source: source.text,
    rank: source.rank,
    ...draft,
  }));
}

/** Practice without a published rule behind it. */
export const COMMON_PRACTICE = (): Source => remembered('common practice');

import type { FaceId } from '../fabric/types.ts';
import type { Id } from '../model/document.ts';
import type { Evidence } from '../model/evidence.ts';
import type { FacePoint, Mm, PlanPoint } from '../model/units.ts';

export type Stage = 'drawing' | 'fabric' | 'points' | 'circuits' | 'runs' | 'take-off' | 'site';

/** error: breaks a published rule; warning: will cost or fail later; disputed: practitioners disagree; note: to know. */
export type Severity = 'error' | 'warning' | 'disputed' | 'note';

/** Where a finding is, in as many spaces as apply. */
export interface FindingPlace {
  readonly storey: Id;
  readonly plan: PlanPoint | null;
  readonly face: FaceId | null;
  readonly on: FacePoint | null;
}

/** One thing found, on one subject, at one place. */
export interface Finding {
  /** Stable while its subject stands: rule, subject ids and stretch number. Acceptances refer to it. */
  readonly key: string;
  readonly rule: string;
  readonly severity: Severity;
  readonly stage: Stage;
  readonly run: Id | null;
  readonly leg: number | null;
  readonly point: Id | null;
  readonly circuit: Id | null;
  readonly wall: Id | null;
  readonly at: FindingPlace | null;
  /** How far outside, for zone findings. */
  readonly outsideMm: Mm | null;
  readonly message: string;
  /** What would mend it. */
  readonly fix: string;
  /** Regulation or guidance, with its edition; "common practice" where there is none. */
  readonly source: string;
  /** How well the source is known: never better than the weakest figure it rests on. */
  readonly rank: Evidence;
}

import type { CheckContext } from '../checks/rule.ts';
import type { Finding } from '../checks/types.ts';
import type { Fabric, FaceId, ResolvedRun } from '../fabric/types.ts';
import type { Id, PlanDocument } from '../model/document.ts';
import { scaleOf } from '../takeoff/calibration.ts';
import { drumPlans } from '../takeoff/drums.ts';
import { takeOff } from '../takeoff/totals.ts';
import type { DrumPlan, RunLength, TakeOff } from '../takeoff/types.ts';
import { EDITIONS } from '../zones/editions.ts';
import type { Spot } from '../zones/spots.ts';
import type { RunCheck, Zone } from '../zones/types.ts';
import { findingsInOrder, type BucketKey } from './buckets.ts';
import type { Patched } from './patched.ts';
import type { Derived } from './types.ts';

/** What has been worked out from a document, and which of it hangs on what. */
export interface IndexParts {
  readonly doc: PlanDocument;
  readonly fabrics: ReadonlyMap<Id, Fabric>;
  readonly spots: Patched<Id, Spot>;
  readonly facePoints: Patched<FaceId, readonly Id[]>;
  readonly zones: Patched<FaceId, readonly Zone[]>;
  readonly resolved: Patched<Id, ResolvedRun>;
  readonly runs: Patched<Id, RunCheck>;
  readonly lengths: Patched<Id, RunLength>;
  /** Faces a run's answers hang on: those it lies on or touches, and those behind them. */
  readonly runFaces: Patched<Id, readonly FaceId[]>;
  readonly faceRuns: Patched<FaceId, readonly Id[]>;
  /** Walls that hold a run's places or legs. */
  readonly runWalls: Patched<Id, readonly Id[]>;
  readonly wallRuns: Patched<Id, readonly Id[]>;
  /** Runs that could not be followed whole: any change of the fabric may mend them. */
  readonly unsettled: Patched<Id, true>;
  readonly pointRuns: Patched<Id, readonly Id[]>;
  readonly circuitRuns: Patched<Id, readonly Id[]>;
  readonly circuitPoints: Patched<Id, readonly Id[]>;
  /** Squares a run's legs lie in, and the runs of each: who may lie beside whom. */
  readonly runSquares: Patched<Id, readonly string[]>;
  readonly squareRuns: Patched<string, readonly Id[]>;
  /** Findings by the subject they are about; subjects without any have no bucket. */
  readonly buckets: Patched<BucketKey, readonly Finding[]>;
}

/** Everything derived from a document, ready for the next change. The costly sums are made when first asked for. */
export class DerivedIndex implements Derived {
  readonly parts: IndexParts;
  private allFindings: readonly Finding[] | null = null;
  private taken: TakeOff | null = null;
  private planned: readonly DrumPlan[] | null = null;

  constructor(parts: IndexParts) {
    this.parts = parts;
  }

  get doc(): PlanDocument {
    return this.parts.doc;
  }

  get fabrics(): ReadonlyMap<Id, Fabric> {
    return this.parts.fabrics;
  }

  get zones(): ReadonlyMap<FaceId, readonly Zone[]> {
    return this.parts.zones;
  }

  get runs(): ReadonlyMap<Id, RunCheck> {
    return this.parts.runs;
  }

  get findings(): readonly Finding[] {
    this.allFindings ??= findingsInOrder(this.parts.buckets);
    return this.allFindings;
  }

  get takeOff(): TakeOff {
    this.taken ??= takeOff(this.doc, this.parts.lengths, scaleOf(this.doc));
    return this.taken;
  }

  get drums(): readonly DrumPlan[] {
    this.planned ??= drumPlans(this.doc, this.takeOff);
    return this.planned;
  }
}

// One context for the same parts: what is worked out of circuits is kept by it.
const contexts = new WeakMap<IndexParts, CheckContext>();

/** What rules may look up in the parts of an index. */
export function contextOf(parts: IndexParts): CheckContext {
  const known = contexts.get(parts);
  if (known !== undefined) return known;
  const made: CheckContext = {
    doc: parts.doc,
    rules: EDITIONS[parts.doc.job.edition],
    fabrics: parts.fabrics,
    zones: parts.zones,
    checks: parts.runs,
    lengths: parts.lengths,
    spots: parts.spots,
    facePoints: parts.facePoints,
    pointRuns: parts.pointRuns,
    circuitRuns: parts.circuitRuns,
    circuitPoints: parts.circuitPoints,
    squareRuns: parts.squareRuns,
  };
  contexts.set(parts, made);
  return made;
}

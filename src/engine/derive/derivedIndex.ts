import type { Finding } from '../checks/types.ts';
import type { Fabric, FaceId } from '../fabric/types.ts';
import type { Id, PlanDocument } from '../model/document.ts';
import { scaleOf } from '../takeoff/calibration.ts';
import { drumPlans } from '../takeoff/drums.ts';
import { takeOff } from '../takeoff/totals.ts';
import type { DrumPlan, RunLength, TakeOff } from '../takeoff/types.ts';
import type { RunCheck, Zone } from '../zones/types.ts';
import { findingsInOrder, type BucketKey } from './buckets.ts';
import type { Ledger } from './ledger.ts';
import type { Patched } from './patched.ts';
import type { Derived } from './types.ts';

/** What has been worked out from a document. It never changes. */
export interface IndexParts {
  readonly doc: PlanDocument;
  readonly fabrics: ReadonlyMap<Id, Fabric>;
  readonly zones: Patched<FaceId, readonly Zone[]>;
  readonly runs: Patched<Id, RunCheck>;
  readonly lengths: Patched<Id, RunLength>;
  /** Findings by the subject they are about; subjects without any have no bucket. */
  readonly buckets: Patched<BucketKey, readonly Finding[]>;
}

/** Everything derived from a document, ready for the next change. The costly sums are made when first asked for. */
export class DerivedIndex implements Derived {
  readonly parts: IndexParts;
  private readonly ledger: Ledger;
  private readonly revision: number;
  private allFindings: readonly Finding[] | null = null;
  private taken: TakeOff | null = null;
  private planned: readonly DrumPlan[] | null = null;

  constructor(parts: IndexParts, ledger: Ledger) {
    this.parts = parts;
    this.ledger = ledger;
    this.revision = ledger.revision;
  }

  /** The ledger, as long as it stands at this document; null once it has gone on to another. */
  get followed(): Ledger | null {
    return this.ledger.revision === this.revision ? this.ledger : null;
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

import type { Finding } from '../checks/types.ts';
import type { Fabric, FaceId } from '../fabric/types.ts';
import type { Id, TableName } from '../model/document.ts';
import type { DrumPlan, TakeOff } from '../takeoff/types.ts';
import type { RunCheck, Zone } from '../zones/types.ts';

/** Everything computed from a document; a cache, never saved. */
export interface Derived {
  readonly fabrics: ReadonlyMap<Id, Fabric>;
  readonly zones: ReadonlyMap<FaceId, readonly Zone[]>;
  readonly runs: ReadonlyMap<Id, RunCheck>;
  readonly findings: readonly Finding[];
  readonly takeOff: TakeOff;
  readonly drums: readonly DrumPlan[];
}

/** Ids touched per table since the last derivation; `job` for the job record. */
export type Touched = Partial<Record<TableName | 'job', ReadonlySet<Id>>>;

import type { CheckContext } from '../checks/rule.ts';
import type { Finding } from '../checks/types.ts';
import { squaresOfLeg } from '../electrical/grouping.ts';
import { resolveRun } from '../fabric/resolve.ts';
import type { Fabric, FaceId, ResolvedRun } from '../fabric/types.ts';
import type { Derivation } from '../memo/derivation.ts';
import type { Id, PlanDocument } from '../model/document.ts';
import { plateOf } from '../model/pointKinds.ts';
import { find } from '../model/tables.ts';
import { runLength } from '../takeoff/runLength.ts';
import type { RunLength } from '../takeoff/types.ts';
import { checkRun } from '../zones/checkRun.ts';
import { zonesOfFace } from '../zones/faceZones.ts';
import { spotOf, type FacePointRecord, type Spot } from '../zones/spots.ts';
import type { Lookup } from '../zones/surfaces.ts';
import type { RunCheck, Zone } from '../zones/types.ts';
import { findInBucket, type BucketKey } from './buckets.ts';
import type { Keys } from './relation.ts';
import { buildAgain } from './storeyFabric.ts';

/** What may be looked up while a plan is worked out: what rules may, and the legs of a run before they are checked. */
export interface Workings extends CheckContext {
  readonly resolved: Lookup<Id, ResolvedRun>;
}

// What is worked out of a plan, each from what those above it came to. What a value hangs on is noted as it is read.

export const IS_STOREY: Derivation<PlanDocument, boolean> = {
  name: 'is a storey',
  work: (doc, id) => find(doc, 'storeys', id) !== undefined,
};

export const FABRIC: Derivation<Workings, Fabric | undefined> = {
  name: 'fabric',
  work: ({ doc }, storey, before) =>
    find(doc, 'storeys', storey) === undefined ? undefined : buildAgain(doc, storey, before),
  equal: Object.is,
};

export const SPOT: Derivation<Workings, Spot | undefined> = {
  name: 'spot of a point',
  work: ({ doc, fabrics }, id) => {
    const point = find(doc, 'points', id);
    return point === undefined ? undefined : (spotOf(doc, fabrics, point.place) ?? undefined);
  },
};

export const ZONES: Derivation<Workings, readonly Zone[] | undefined> = {
  name: 'zones of a face',
  work: (ctx, id) => {
    const fabric = fabricOf(ctx, id);
    const face = fabric?.faces.get(id);
    if (fabric === undefined || face === undefined) return undefined;
    return zonesOfFace(ctx.rules, face, fabric.faces, (other) => recordsOn(ctx, other));
  },
};

/** The fabric a face is of: its id begins with its wall's. */
function fabricOf({ doc, fabrics }: Workings, face: FaceId): Fabric | undefined {
  const storey = find(doc, 'walls', face.split('.')[0] ?? null)?.storey;
  return storey === undefined ? undefined : fabrics.get(storey);
}

function recordsOn(ctx: Workings, face: FaceId): FacePointRecord[] {
  return (ctx.facePoints.get(face) ?? []).flatMap((id) => {
    const [point, spot] = [find(ctx.doc, 'points', id), ctx.spots.get(id)];
    return point === undefined || spot === undefined || plateOf(point) === null ? [] : [{ point, spot }];
  });
}

export const RESOLVED: Derivation<Workings, ResolvedRun | undefined> = {
  name: 'legs of a run',
  work: ({ doc, fabrics }, id) => {
    const run = find(doc, 'runs', id);
    return run === undefined ? undefined : resolveRun(doc, fabrics, run);
  },
};

export const CHECK: Derivation<Workings, RunCheck | undefined> = {
  name: 'answers of a run',
  work: (ctx, id) => {
    const [run, resolved] = [find(ctx.doc, 'runs', id), ctx.resolved.get(id)];
    return run === undefined || resolved === undefined ? undefined : checkRun(ctx, run, resolved);
  },
};

export const LENGTH: Derivation<Workings, RunLength | undefined> = {
  name: 'length of a run',
  work: ({ doc, resolved }, id) => {
    const [run, legs] = [find(doc, 'runs', id), resolved.get(id)];
    return run === undefined || legs === undefined ? undefined : runLength(doc, legs, run);
  },
};

export const BUCKET: Derivation<Workings, readonly Finding[] | undefined> = {
  name: 'findings on',
  work: (ctx, key) => {
    const found = findInBucket(ctx, key as BucketKey);
    return found.length === 0 ? undefined : found;
  },
};

// Ids under the keys they are asked by.

const ids = (...keys: (Id | null | undefined)[]): Id[] => keys.flatMap((key) => key ?? []);

export const RUNS_AT_POINT: Keys<Workings> = {
  name: 'ends of a run',
  work: ({ doc }, id) => {
    const run = find(doc, 'runs', id);
    return ids(run?.from, run?.to);
  },
};

export const RUNS_OF_CIRCUIT: Keys<Workings> = {
  name: 'circuit of a run',
  work: ({ doc }, id) => ids(find(doc, 'runs', id)?.circuit),
};

export const POINTS_OF_CIRCUIT: Keys<Workings> = {
  name: 'circuit of a point',
  work: ({ doc }, id) => ids(find(doc, 'points', id)?.circuit),
};

export const POINTS_ON_FACE: Keys<Workings> = {
  name: 'face of a point',
  work: ({ spots }, id) => ids(spots.get(id)?.face),
};

export const RUNS_ON_FACE: Keys<Workings> = {
  name: 'faces of a run',
  work: ({ resolved }, id) => [...new Set((resolved.get(id)?.legs ?? []).flatMap(({ face }) => ids(face)))],
};

export const RUNS_IN_SQUARE: Keys<Workings> = {
  name: 'squares of a run',
  work: ({ resolved }, id) => [
    ...new Set((resolved.get(id)?.legs ?? []).flatMap((leg) => [...squaresOfLeg(leg)])),
  ],
};

import { buildFabric } from '../fabric/build.ts';
import { resolveRun } from '../fabric/resolve.ts';
import type { Fabric, FaceId, ResolvedRun } from '../fabric/types.ts';
import type { SubjectKind } from '../checks/rule.ts';
import type { Finding } from '../checks/types.ts';
import type { Id, PlanDocument } from '../model/document.ts';
import { rows } from '../model/tables.ts';
import { runLength } from '../takeoff/runLength.ts';
import type { RunLength } from '../takeoff/types.ts';
import { checkRun } from '../zones/checkRun.ts';
import { EDITIONS } from '../zones/editions.ts';
import { spotOf, type Spot } from '../zones/spots.ts';
import type { RunCheck, Zone } from '../zones/types.ts';
import { findInBucket, type BucketKey } from './buckets.ts';
import { contextOf, DerivedIndex, type IndexParts } from './derivedIndex.ts';
import { facesOfRun, isUnsettled, squaresOfRun, wallsOfRun, zonesFrom } from './dependencies.ts';
import { listsOf } from './idList.ts';
import type { Tell } from './part.ts';
import { Patched } from './patched.ts';

function spotsOf(doc: PlanDocument, fabrics: ReadonlyMap<Id, Fabric>): Map<Id, Spot> {
  const spots = new Map<Id, Spot>();
  for (const point of rows(doc.points)) {
    const spot = spotOf(doc, fabrics, point.place);
    if (spot !== null) spots.set(point.id, spot);
  }
  return spots;
}

const pairs = function* <T>(lists: Iterable<readonly [Id, readonly T[]]>): Generator<readonly [T, Id]> {
  for (const [id, list] of lists) for (const key of list) yield [key, id];
};

/**
 * Everything derived from a document, from nothing. O(plan); `deriveChange` does the rest of the time. `tell` hears each
 * part of the plan before it is worked on.
 */
export function deriveAll(doc: PlanDocument, tell?: Tell): DerivedIndex {
  const rules = EDITIONS[doc.job.edition];
  const fabrics = new Map<Id, Fabric>();
  for (const id of doc.storeys.order) {
    tell?.('storey', id);
    fabrics.set(id, buildFabric(doc, id));
  }
  const spots = Patched.over(spotsOf(doc, fabrics));
  const facePoints = Patched.over(listsOf([...spots].map(([id, spot]) => [spot.face, id])));
  const zones = new Map<FaceId, readonly Zone[]>();
  for (const fabric of fabrics.values()) {
    for (const face of fabric.faces.values()) {
      zones.set(face.id, zonesFrom({ doc, spots, facePoints }, rules, fabric, face));
    }
  }
  const resolved = new Map<Id, ResolvedRun>();
  const runs = new Map<Id, RunCheck>();
  const lengths = new Map<Id, RunLength>();
  const runFaces = new Map<Id, readonly FaceId[]>();
  const runWalls = new Map<Id, readonly Id[]>();
  const runSquares = new Map<Id, readonly string[]>();
  const unsettled = new Map<Id, true>();
  const ctx = { doc, fabrics, zones };
  for (const run of rows(doc.runs)) {
    tell?.('run', run.id);
    const whole = resolveRun(doc, fabrics, run);
    resolved.set(run.id, whole);
    runs.set(run.id, checkRun(ctx, run, whole));
    lengths.set(run.id, runLength(doc, whole, run));
    runFaces.set(run.id, facesOfRun(doc, fabrics, run, whole));
    runWalls.set(run.id, wallsOfRun(doc, run, whole));
    runSquares.set(run.id, squaresOfRun(whole));
    if (isUnsettled(whole)) unsettled.set(run.id, true);
  }
  const parts: IndexParts = {
    doc,
    fabrics,
    spots,
    facePoints,
    zones: Patched.over(zones),
    resolved: Patched.over(resolved),
    runs: Patched.over(runs),
    lengths: Patched.over(lengths),
    runFaces: Patched.over(runFaces),
    faceRuns: Patched.over(listsOf(pairs(runFaces))),
    runWalls: Patched.over(runWalls),
    wallRuns: Patched.over(listsOf(pairs(runWalls))),
    unsettled: Patched.over(unsettled),
    pointRuns: Patched.over(
      listsOf(
        rows(doc.runs).flatMap((r): [Id | null, Id][] => [
          [r.from, r.id],
          [r.to, r.id],
        ]),
      ),
    ),
    circuitRuns: Patched.over(listsOf(rows(doc.runs).map((r) => [r.circuit, r.id]))),
    circuitPoints: Patched.over(listsOf(rows(doc.points).map((p) => [p.circuit, p.id]))),
    runSquares: Patched.over(runSquares),
    squareRuns: Patched.over(listsOf(pairs(runSquares))),
    buckets: Patched.over(new Map()),
  };
  return new DerivedIndex({ ...parts, buckets: Patched.over(allBuckets(parts, tell)) });
}

function allBuckets(parts: IndexParts, tell: Tell | undefined): Map<BucketKey, readonly Finding[]> {
  const ctx = contextOf(parts);
  const buckets = new Map<BucketKey, readonly Finding[]>();
  const look = (kind: SubjectKind, ids: Iterable<Id>) => {
    for (const id of ids) {
      tell?.(kind, id);
      const found = findInBucket(ctx, kind, id);
      if (found.length > 0) buckets.set(`${kind} ${id}`, found);
    }
  };
  const { doc } = parts;
  look('tracing', doc.tracings.order);
  look('storey', doc.storeys.order);
  for (const fabric of parts.fabrics.values()) look('face', fabric.faces.keys());
  look('point', doc.points.order);
  look('circuit', doc.circuits.order);
  look('run', doc.runs.order);
  return buckets;
}

import type { SubjectKind } from '../checks/rule.ts';
import { KEPT_CLEAR } from '../checks/rules/noCable.ts';
import { resolveRun } from '../fabric/resolve.ts';
import type { Fabric, FaceId } from '../fabric/types.ts';
import type { Id, PlanDocument } from '../model/document.ts';
import { find, rows } from '../model/tables.ts';
import { runLength } from '../takeoff/runLength.ts';
import { checkRun } from '../zones/checkRun.ts';
import { EDITIONS } from '../zones/editions.ts';
import { facesOfSide, spotOf } from '../zones/spots.ts';
import { findInBucket, type BucketKey } from './buckets.ts';
import { wholeDelta, type Changed, type Delta } from './delta.ts';
import {
  faceById,
  facesSharingZones,
  facesOfRun,
  isUnsettled,
  squaresOfRun,
  wallsOfRun,
  zonesFrom,
} from './dependencies.ts';
import { deriveAll } from './deriveAll.ts';
import { contextOf, DerivedIndex, type IndexParts } from './derivedIndex.ts';
import { followElectrical } from './electricalDirty.ts';
import { Dirty, needsWhole, rebuild, renamed, sides, storeysTouched, wallsTouched } from './dirty.ts';
import { addUnder, takeFrom } from './idList.ts';
import type { Patched } from './patched.ts';
import type { Tell } from './part.ts';
import { same } from './same.ts';
import type { Touched } from './types.ts';

/** One change being followed: the parts before, the parts being made, and what is still to be done. */
interface Work {
  readonly before: IndexParts;
  readonly next: IndexParts;
  readonly touched: Touched;
  readonly dirty: Dirty;
  readonly fabrics: Map<Id, Fabric>;
  readonly zoneChanges: Map<FaceId, true>;
  readonly runChanges: Map<Id, true>;
  readonly bucketChanges: Map<BucketKey, true>;
}

function begin(prev: DerivedIndex, doc: PlanDocument, touched: Touched): Work {
  const before = prev.parts;
  const fabrics = new Map(before.fabrics);
  const next: IndexParts = {
    doc,
    fabrics,
    spots: before.spots.copy(),
    facePoints: before.facePoints.copy(),
    zones: before.zones.copy(),
    resolved: before.resolved.copy(),
    runs: before.runs.copy(),
    lengths: before.lengths.copy(),
    runFaces: before.runFaces.copy(),
    faceRuns: before.faceRuns.copy(),
    runWalls: before.runWalls.copy(),
    wallRuns: before.wallRuns.copy(),
    unsettled: before.unsettled.copy(),
    pointRuns: before.pointRuns.copy(),
    circuitRuns: before.circuitRuns.copy(),
    circuitPoints: before.circuitPoints.copy(),
    runSquares: before.runSquares.copy(),
    squareRuns: before.squareRuns.copy(),
    buckets: before.buckets.copy(),
  };
  return {
    before,
    next,
    touched,
    dirty: new Dirty(),
    fabrics,
    zoneChanges: new Map(),
    runChanges: new Map(),
    bucketChanges: new Map(),
  };
}

/** Rebuilds the storeys whose walls changed; what lies on faces that came out different is dirty. */
function followFabric({ before, next, touched, dirty, fabrics }: Work): void {
  const storeys = storeysTouched(before.doc, next.doc, touched);
  if (storeys.size === 0) return;
  const names: FaceId[] = [];
  const changedWalls = wallsTouched(before.doc, next.doc, touched);
  for (const storey of storeys) {
    const { fabric, changed, gone } = rebuild(next.doc, storey, before.fabrics.get(storey));
    fabrics.set(storey, fabric);
    dirty.look('storey', [storey]);
    for (const id of [...changed, ...gone]) {
      dirty.faces.add(id);
      const old = before.fabrics.get(storey)?.faces.get(id);
      for (const face of [old, fabric.faces.get(id)]) {
        for (const piece of face?.pieces ?? []) changedWalls.add(piece.wall);
      }
    }
    names.push(...renamed(before, next, storey));
  }
  for (const wall of changedWalls) for (const run of before.wallRuns.get(wall) ?? []) dirty.runs.add(run);
  for (const run of before.unsettled.keys()) dirty.runs.add(run);
  for (const point of rows(next.doc.points)) {
    if (point.place.on === 'face' && changedWalls.has(point.place.wall)) dirty.points.add(point.id);
  }
  dirty.look('face', names);
  for (const face of names) {
    dirty.look('run', before.faceRuns.get(face) ?? []);
    dirty.look('point', before.facePoints.get(face) ?? []);
    for (const point of before.facePoints.get(face) ?? []) {
      dirty.look('circuit', [find(next.doc, 'points', point)?.circuit]);
    }
  }
}

/** Places points on faces again: those touched, and those of walls that changed. */
function followPoints({ before, next, touched, dirty }: Work): void {
  for (const id of touched.points ?? []) dirty.points.add(id);
  const boards = new Set<Id>();
  for (const id of dirty.points) {
    const [old, now] = [find(before.doc, 'points', id), find(next.doc, 'points', id)];
    const was = before.spots.get(id);
    const is = now === undefined ? null : spotOf(next.doc, next.fabrics, now.place);
    if (is === null) next.spots.delete(id);
    else if (!same(was, is)) next.spots.set(id, is);
    if (was?.face !== is?.face) {
      takeFrom(next.facePoints, was?.face ?? null, id);
      addUnder(next.facePoints, is?.face ?? null, id);
    }
    if (old?.circuit !== now?.circuit) {
      takeFrom(next.circuitPoints, old?.circuit ?? null, id);
      addUnder(next.circuitPoints, now?.circuit ?? null, id);
    }
    for (const face of [was?.face, is?.face]) if (face !== undefined) dirty.faces.add(face);
    dirty.look('point', [id]);
    dirty.look('face', [was?.face, is?.face]);
    dirty.look('circuit', [old?.circuit, now?.circuit]);
    if (old?.kind === 'consumer-unit' || now?.kind === 'consumer-unit') boards.add(id);
    for (const run of before.pointRuns.get(id) ?? []) dirty.runs.add(run);
  }
  if (boards.size > 0) {
    for (const c of rows(next.doc.circuits))
      if (c.board !== null && boards.has(c.board)) dirty.look('circuit', [c.id]);
  }
}

/** Works the zones of dirty faces out again, and those of the faces they show through to. */
function followZones({ before, next, dirty, zoneChanges }: Work): void {
  const all = new Set(dirty.faces);
  for (const id of dirty.faces) {
    for (const hit of [faceById(before.doc, before.fabrics, id), faceById(next.doc, next.fabrics, id)]) {
      for (const each of hit ? facesSharingZones(hit.fabric, hit.face) : []) all.add(each);
    }
  }
  const rules = EDITIONS[next.doc.job.edition];
  for (const id of all) {
    const hit = faceById(next.doc, next.fabrics, id);
    const old = before.zones.get(id);
    const now = hit === null ? undefined : zonesFrom(next, rules, hit.fabric, hit.face);
    const moved = dirty.faces.has(id) && hit?.face !== faceById(before.doc, before.fabrics, id)?.face;
    if (!moved && same(old, now)) continue;
    if (!same(old, now)) {
      zoneChanges.set(id, true);
      if (now === undefined) next.zones.delete(id);
      else next.zones.set(id, now);
    }
    for (const run of before.faceRuns.get(id) ?? []) dirty.runs.add(run);
    dirty.look('face', [id]);
    dirty.look('point', before.facePoints.get(id) ?? []);
    dirty.look('point', next.facePoints.get(id) ?? []);
  }
}

/** Runs that were touched, or whose circuit, cable or end was. */
function followRunRecords({ before, next, touched, dirty }: Work): void {
  for (const id of touched.runs ?? []) {
    dirty.runs.add(id);
    const [old, now] = [find(before.doc, 'runs', id), find(next.doc, 'runs', id)];
    for (const end of new Set([old?.from, old?.to])) takeFrom(next.pointRuns, end ?? null, id);
    for (const end of new Set([now?.from, now?.to])) addUnder(next.pointRuns, end ?? null, id);
    takeFrom(next.circuitRuns, old?.circuit ?? null, id);
    addUnder(next.circuitRuns, now?.circuit ?? null, id);
  }
  for (const id of touched.circuits ?? []) {
    dirty.look('circuit', [id]);
    for (const run of next.circuitRuns.get(id) ?? []) dirty.runs.add(run);
    // Runs of other circuits that end at its points name it.
    for (const point of next.circuitPoints.get(id) ?? []) {
      dirty.look('run', next.pointRuns.get(point) ?? []);
      dirty.look('point', [point]);
    }
  }
  if ((touched.cables?.size ?? 0) > 0) {
    for (const run of rows(next.doc.runs)) if (touched.cables?.has(run.cable)) dirty.runs.add(run.id);
  }
  if ((touched.boxes?.size ?? 0) > 0) for (const id of next.doc.runs.order) dirty.runs.add(id);
}

function relink(
  forward: Patched<Id, readonly Id[]>,
  back: Patched<Id, readonly Id[]>,
  id: Id,
  keys: readonly Id[] | null,
): void {
  const old = forward.get(id);
  if (keys !== null && old !== undefined && same(old, keys)) return;
  for (const key of old ?? []) takeFrom(back, key, id);
  for (const key of keys ?? []) addUnder(back, key, id);
  if (keys === null) forward.delete(id);
  else forward.set(id, keys);
}

/** The circuits a run is on or ends at, before and after, hang on its record, its legs and its length. */
function lookAtCircuits(before: IndexParts, doc: PlanDocument, id: Id, dirty: Dirty): void {
  for (const run of sides(before.doc, doc, 'runs', id)) {
    dirty.look('circuit', [run.circuit]);
    for (const end of [run.from, run.to]) {
      for (const point of end === null ? [] : sides(before.doc, doc, 'points', end))
        dirty.look('circuit', [point.circuit]);
    }
  }
}

/** Resolves, checks and measures dirty runs again. A circuit is looked at again only where one of its runs came out different. */
function followRuns({ before, next, dirty, runChanges }: Work, tell: Tell | undefined): void {
  const { doc, fabrics } = next;
  for (const id of dirty.runs) {
    tell?.('run', id);
    const [old, run] = [find(before.doc, 'runs', id), find(doc, 'runs', id)];
    dirty.look('run', [id]);
    if (old !== run) lookAtCircuits(before, doc, id, dirty);
    if (run === undefined) {
      runChanges.set(id, true);
      for (const map of [next.resolved, next.runs, next.lengths, next.unsettled]) map.delete(id);
      relink(next.runFaces, next.faceRuns, id, null);
      relink(next.runWalls, next.wallRuns, id, null);
      relink(next.runSquares, next.squareRuns, id, null);
      continue;
    }
    const resolved = resolveRun(doc, fabrics, run);
    const check = checkRun(next, run, resolved);
    const length = runLength(doc, resolved, run);
    next.resolved.set(id, resolved);
    if (!same(before.lengths.get(id), length)) {
      next.lengths.set(id, length);
      lookAtCircuits(before, doc, id, dirty);
    }
    if (!same(before.runs.get(id), check)) {
      next.runs.set(id, check);
      runChanges.set(id, true);
      lookAtCircuits(before, doc, id, dirty);
    }
    if (isUnsettled(resolved)) next.unsettled.set(id, true);
    else next.unsettled.delete(id);
    relink(next.runFaces, next.faceRuns, id, facesOfRun(doc, fabrics, run, resolved));
    relink(next.runWalls, next.wallRuns, id, wallsOfRun(doc, run, resolved));
    relink(next.runSquares, next.squareRuns, id, squaresOfRun(resolved));
  }
}

/** Runs that a touched thing may stand in the way of, before or after. */
function followThings({ before, next, touched, dirty }: Work): void {
  for (const id of touched.things ?? []) {
    for (const { kind, place } of sides(before.doc, next.doc, 'things', id)) {
      if (!KEPT_CLEAR.has(kind)) continue;
      if (place.on === 'face') {
        const storey = find(next.doc, 'walls', place.wall)?.storey;
        const fabric = storey === undefined ? undefined : next.fabrics.get(storey);
        const faces = fabric === undefined ? [] : facesOfSide(fabric, place.wall, place.side);
        for (const face of faces) dirty.look('run', next.faceRuns.get(face) ?? []);
      } else if (place.where !== 'room') {
        for (const [run, check] of next.runs) {
          if (check.legs.some((l) => l.leg.kind === place.where && l.leg.storey === place.storey)) {
            dirty.look('run', [run]);
          }
        }
      }
    }
  }
}

/** Runs the rules of every dirty subject again. */
function followFindings(
  { next, before, touched, dirty, runChanges, bucketChanges }: Work,
  tell: Tell | undefined,
): void {
  dirty.look('tracing', touched.tracings ?? []);
  followElectrical(before, next, touched, dirty, runChanges.keys());
  const ctx = contextOf(next);
  for (const key of dirty.buckets) {
    const at = key.indexOf(' ');
    const kind = key.slice(0, at) as SubjectKind;
    const id = key.slice(at + 1);
    tell?.(kind, id);
    const found = findInBucket(ctx, kind, id);
    if (same(before.buckets.get(key) ?? [], found)) continue;
    bucketChanges.set(key, true);
    if (found.length === 0) next.buckets.delete(key);
    else next.buckets.set(key, found);
  }
}

function changed<K, V>(keys: Iterable<K>, map: ReadonlyMap<K, V>): Changed<K, V> {
  const set: [K, V][] = [];
  const gone: K[] = [];
  for (const key of keys) {
    const value = map.get(key);
    if (value === undefined) gone.push(key);
    else set.push([key, value]);
  }
  return { set, gone };
}

/**
 * The index after a change of the document, and what changed. `touched` must name every record added, changed or
 * removed since `prev`. Only what hangs on them is worked out again: moving a point re-checks its face, the faces
 * behind, the runs on those or at the point, and the rules that look at them. `prev` stays good. The outcome equals
 * `deriveAll` of the new document.
 */
export function deriveChange(
  prev: DerivedIndex,
  doc: PlanDocument,
  touched: Touched | 'all',
  tell?: Tell,
): { readonly next: DerivedIndex; readonly delta: Delta } {
  if (touched === 'all' || needsWhole(prev.doc, doc, touched)) {
    const next = deriveAll(doc, tell);
    return { next, delta: wholeDelta(next) };
  }
  const work = begin(prev, doc, touched);
  followFabric(work);
  followPoints(work);
  followRunRecords(work);
  followZones(work);
  followRuns(work, tell);
  followThings(work);
  followFindings(work, tell);
  const { next, fabrics } = work;
  const storeys = [...fabrics.keys()].filter((id) => fabrics.get(id) !== prev.fabrics.get(id));
  return {
    next: new DerivedIndex(next),
    delta: {
      whole: false,
      fabrics: changed(storeys, fabrics),
      zones: changed(work.zoneChanges.keys(), next.zones),
      runs: changed(work.runChanges.keys(), next.runs),
      buckets: changed(work.bucketChanges.keys(), next.buckets),
      takeOff: null,
      drums: null,
    },
  };
}

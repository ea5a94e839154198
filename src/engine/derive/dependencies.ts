import { squaresOfLeg } from '../electrical/grouping.ts';
import { runPath } from '../fabric/path.ts';
import type { Fabric, Face, FaceId, ResolvedRun } from '../fabric/types.ts';
import type { Id, PlanDocument, Run } from '../model/document.ts';
import { plateOf } from '../model/pointKinds.ts';
import type { EditionRules } from '../zones/editions.ts';
import { zonesOfFace } from '../zones/faceZones.ts';
import { spotOf, type FacePointRecord } from '../zones/spots.ts';
import type { Zone } from '../zones/types.ts';
import type { IndexParts } from './derivedIndex.ts';

/** The face with that id, in whichever storey. A face id begins with its wall's. */
export function faceById(
  doc: PlanDocument,
  fabrics: ReadonlyMap<Id, Fabric>,
  id: FaceId,
): { readonly fabric: Fabric; readonly face: Face } | null {
  const storey = doc.walls.byId[id.split('.')[0] as Id]?.storey;
  const fabric = storey === undefined ? undefined : fabrics.get(storey);
  const face = fabric?.faces.get(id);
  return fabric === undefined || face === undefined ? null : { fabric, face };
}

/** Zones of a face from the points sorted to faces. */
export function zonesFrom(
  parts: Pick<IndexParts, 'doc' | 'spots' | 'facePoints'>,
  rules: EditionRules,
  fabric: Fabric,
  face: Face,
): readonly Zone[] {
  const records = (id: FaceId): FacePointRecord[] =>
    (parts.facePoints.get(id) ?? []).flatMap((pointId) => {
      const point = parts.doc.points.byId[pointId];
      const spot = parts.spots.get(pointId);
      return point === undefined || spot === undefined || plateOf(point) === null ? [] : [{ point, spot }];
    });
  return zonesOfFace(rules, face, fabric.faces, records);
}

/** The faces a point of a face may make zones on: those behind it, and those it goes on as above lower partitions. */
export function facesSharingZones(fabric: Fabric, face: Face): FaceId[] {
  const found = new Set(face.opposite.map((o) => o.face));
  for (const end of ['left', 'right'] as const) {
    let on = face[end].onward;
    while (on !== null && !found.has(on)) {
      found.add(on);
      on = fabric.faces.get(on)?.[end].onward ?? null;
    }
  }
  return [...found];
}

/** The faces a run's answers hang on: those of its legs and of its places, and those behind them. */
export function facesOfRun(
  doc: PlanDocument,
  fabrics: ReadonlyMap<Id, Fabric>,
  run: Run,
  resolved: ResolvedRun,
): readonly FaceId[] {
  const own = new Set<FaceId>();
  for (const leg of resolved.legs) if (leg.face !== null) own.add(leg.face);
  for (const place of runPath(doc, run)) {
    const spot = place === null ? null : spotOf(doc, fabrics, place);
    if (spot !== null) own.add(spot.face);
  }
  const all = new Set(own);
  for (const id of own) {
    const hit = faceById(doc, fabrics, id);
    for (const each of hit ? facesSharingZones(hit.fabric, hit.face) : []) all.add(each);
  }
  return [...all];
}

/** The walls that hold a run's places and legs. */
export function wallsOfRun(doc: PlanDocument, run: Run, resolved: ResolvedRun): readonly Id[] {
  const walls = new Set<Id>();
  for (const leg of resolved.legs) if (leg.wall !== null) walls.add(leg.wall);
  for (const place of runPath(doc, run)) if (place?.on === 'face') walls.add(place.wall);
  return [...walls];
}

/** The squares a run's legs lie in: who may lie beside it. */
export function squaresOfRun(resolved: ResolvedRun): readonly string[] {
  return [...new Set(resolved.legs.flatMap((leg) => [...squaresOfLeg(leg)]))];
}

/** A run that did not resolve whole, or not at all. */
export const isUnsettled = (resolved: ResolvedRun): boolean =>
  resolved.missing !== null || resolved.legs.some((l) => l.kind === 'loose');

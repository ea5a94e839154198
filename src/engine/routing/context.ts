import { buildFabric } from '../fabric/build.ts';
import type { FaceId } from '../fabric/types.ts';
import type { PlanDocument } from '../model/document.ts';
import { EDITIONS } from '../zones/editions.ts';
import { zonesOfFace } from '../zones/faceZones.ts';
import { pointsByFace } from '../zones/spots.ts';
import type { ZoneContext } from '../zones/surfaces.ts';
import type { Zone } from '../zones/types.ts';

/** Faces and permitted zones of a whole plan: all that routing needs to know, without checking any run. */
export function routingContext(doc: PlanDocument): ZoneContext {
  const fabrics = new Map(doc.storeys.order.map((id) => [id, buildFabric(doc, id)]));
  const records = pointsByFace(doc, fabrics);
  const zones = new Map<FaceId, readonly Zone[]>();
  for (const fabric of fabrics.values()) {
    for (const face of fabric.faces.values()) {
      zones.set(
        face.id,
        zonesOfFace(EDITIONS[doc.job.edition], face, fabric.faces, (id) => records.get(id) ?? []),
      );
    }
  }
  return { doc, fabrics, zones };
}

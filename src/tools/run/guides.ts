import { onFace } from './places.ts';
import type { Fabric, Face } from '../../engine/fabric/types.ts';
import type { PlanDocument } from '../../engine/model/document.ts';
import type { FacePoint, Mm } from '../../engine/model/units.ts';
import type { Zone } from '../../engine/zones/types.ts';
import type { PreviewMark } from '../types.ts';

/** A plumb line (at u) or a level line (at z) of a face worth keeping to, and why. */
export interface Guide {
  readonly axis: 'u' | 'z';
  readonly value: Mm;
  readonly why: string;
  /** Higher wins between guides at the same distance. */
  readonly rank: number;
}

/** Where a place on a face came to lie, and the guides that held it. */
export interface Snapped {
  readonly at: FacePoint;
  readonly held: readonly Guide[];
}

/**
 * The lines a run may keep to on a face: the middle of each zone (top band, angle bands, strips, those of the other
 * side too), and each point's own plumb and level line even where it gives no zone.
 */
export function guidesOf(doc: PlanDocument, fabric: Fabric, zones: readonly Zone[], face: Face): Guide[] {
  const guides: Guide[] = [];
  const add = (axis: 'u' | 'z', value: Mm, why: string, rank: number): void => {
    if (!guides.some((g) => g.axis === axis && Math.abs(g.value - value) < 0.5))
      guides.push({ axis, value, why, rank });
  };
  for (const id of doc.points.order) {
    const point = doc.points.byId[id];
    const on = point ? onFace(fabric, point.place) : null;
    if (!point || !on || on.face.id !== face.id) continue;
    add('u', on.at.u, `plumb with ${point.label}`, 3);
    add('z', on.at.z, `level with ${point.label}`, 3);
  }
  for (const zone of zones) {
    const label = zone.point === null ? '' : (doc.points.byId[zone.point]?.label ?? '');
    const from = zone.reverse ? ', from the other side' : '';
    if (zone.source === 'plumb') add('u', (zone.u0 + zone.u1) / 2, `strip of ${label}${from}`, 2);
    if (zone.source === 'level') add('z', (zone.z0 + zone.z1) / 2, `strip of ${label}${from}`, 2);
    if (zone.source === 'angle-left') add('u', zone.u0 + 75, `75 mm from the angle${from}`, 1);
    if (zone.source === 'angle-right') add('u', zone.u1 - 75, `75 mm from the angle${from}`, 1);
    if (zone.source === 'top' && !face.sloped) add('z', zone.z1 - 75, `75 mm below the top${from}`, 1);
  }
  return guides;
}

/** The nearest guide of an axis within `reach` mm. */
export function nearestGuide(guides: readonly Guide[], axis: 'u' | 'z', value: Mm, reach: Mm): Guide | null {
  let best: Guide | null = null;
  for (const guide of guides) {
    if (guide.axis !== axis || Math.abs(guide.value - value) > reach) continue;
    const d = Math.abs(guide.value - value) - (best === null ? Infinity : Math.abs(best.value - value));
    if (d < -1e-6 || (d <= 1e-6 && best !== null && guide.rank > best.rank)) best = guide;
  }
  return best;
}

/**
 * Where a leg from `from` towards the cursor ends: level or plumb (whichever the cursor is nearer to) and held by
 * guides within `reach` mm along its way, else to whole steps of `step` mm. `free` lets it go anywhere, still held by
 * guides; from nowhere (null) too.
 */
export function snapOnFace(
  from: FacePoint | null,
  cursor: FacePoint,
  guides: readonly Guide[],
  reach: Mm,
  free: boolean,
  step: Mm = 1,
): Snapped {
  const u = nearestGuide(guides, 'u', cursor.u, reach);
  const z = nearestGuide(guides, 'z', cursor.z, reach);
  const whole = (v: Mm): Mm => Math.round(v / step) * step;
  const held = (list: readonly (Guide | null)[]): Guide[] => list.filter((g) => g !== null);
  if (from === null || free) {
    return { at: { u: u?.value ?? whole(cursor.u), z: z?.value ?? whole(cursor.z) }, held: held([u, z]) };
  }
  if (Math.abs(cursor.u - from.u) >= Math.abs(cursor.z - from.z)) {
    return { at: { u: u?.value ?? whole(cursor.u), z: from.z }, held: held([u]) };
  }
  return { at: { u: from.u, z: z?.value ?? whole(cursor.z) }, held: held([z]) };
}

/** Guides that hold, drawn over the whole face with their reason. */
export function guideMarks(face: Face, at: FacePoint, held: readonly Guide[]): PreviewMark[] {
  const top = Math.max(...face.top.map((p) => p.z));
  return held.flatMap((g): PreviewMark[] => [
    {
      kind: 'line',
      look: 'guide',
      points:
        g.axis === 'u'
          ? [
              { u: g.value, z: 0 },
              { u: g.value, z: top },
            ]
          : [
              { u: 0, z: g.value },
              { u: face.length, z: g.value },
            ],
    },
    { kind: 'spot', at, look: 'snap' },
  ]);
}

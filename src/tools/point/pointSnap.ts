import { guideMarks, nearestGuide, type Guide } from '../run/guides.ts';
import { onFace } from '../run/places.ts';
import type { Fabric, Face } from '../../engine/fabric/types.ts';
import type { Gangs, Id, PlanDocument, PointKind } from '../../engine/model/document.ts';
import { POINT_KINDS, plateOf } from '../../engine/model/pointKinds.ts';
import type { FacePoint, Mm } from '../../engine/model/units.ts';
import type { PreviewMark } from '../types.ts';

/** Where a point would come to lie on a wall, what held it, and what to show. */
export interface PointSpot {
  readonly at: FacePoint;
  readonly reasons: readonly string[];
  readonly marks: readonly PreviewMark[];
}

/**
 * Lines a point may keep to on a face: heights and plumb lines of its neighbours, the usual height of its kind, halfway
 * between two neighbours, the same spacing on, and the middle of the wall.
 */
export function pointGuides(
  doc: PlanDocument,
  fabric: Fabric,
  face: Face,
  kind: PointKind,
  without: ReadonlySet<Id>,
): Guide[] {
  const guides: Guide[] = [];
  const row: { u: Mm; label: string }[] = [];
  for (const id of doc.points.order) {
    const point = doc.points.byId[id];
    const on = point && !without.has(id) ? onFace(fabric, point.place) : null;
    if (!point || !on || on.face.id !== face.id) continue;
    guides.push({ axis: 'z', value: on.at.z, why: `level with ${point.label}`, rank: 3 });
    guides.push({ axis: 'u', value: on.at.u, why: `plumb with ${point.label}`, rank: 2 });
    row.push({ u: on.at.u, label: point.label });
  }
  guides.push({
    axis: 'z',
    value: POINT_KINDS[kind].height,
    why: `usual height, ${POINT_KINDS[kind].height} mm`,
    rank: 2,
  });
  guides.push({ axis: 'u', value: face.length / 2, why: 'middle of the wall', rank: 1 });
  row.sort((a, b) => a.u - b.u);
  for (let i = 1; i < row.length; i++) {
    const a = row[i - 1] as (typeof row)[number];
    const b = row[i] as (typeof row)[number];
    const gap = b.u - a.u;
    if (gap < 1) continue;
    guides.push({
      axis: 'u',
      value: a.u + gap / 2,
      why: `halfway between ${a.label} and ${b.label}`,
      rank: 1,
    });
    for (const [value, from] of [
      [b.u + gap, b],
      [a.u - gap, a],
    ] as const) {
      if (value <= 0 || value >= face.length) continue;
      guides.push({
        axis: 'u',
        value,
        why: `same spacing from ${from.label}, ${Math.round(gap)} mm`,
        rank: 1,
      });
    }
  }
  return guides;
}

/** Snaps a point of a kind on a face; its plate stays on the wall. `reach` mm, 0 for no snapping. */
export function snapPoint(
  doc: PlanDocument,
  fabric: Fabric,
  face: Face,
  cursor: FacePoint,
  kind: PointKind,
  gangs: Gangs,
  without: ReadonlySet<Id>,
  reach: Mm,
): PointSpot {
  const guides = reach > 0 ? pointGuides(doc, fabric, face, kind, without) : [];
  const u = nearestGuide(guides, 'u', cursor.u, reach);
  const z = nearestGuide(guides, 'z', cursor.z, reach);
  const half = (plateOf({ kind, gangs })?.width ?? 0) / 2;
  const within = (v: Mm): Mm => Math.max(Math.min(half, face.length / 2), Math.min(face.length - half, v));
  const top = Math.max(...face.top.map((p) => p.z));
  const at = {
    u: u?.value ?? within(Math.round(cursor.u)),
    z: z?.value ?? Math.min(top, Math.max(0, Math.round(cursor.z))),
  };
  const held = [u, z].filter((g) => g !== null);
  const reasons = held.map((g) => g.why);
  const words = [`${Math.round(at.u)} from the left, ${Math.round(at.z)} up`, ...reasons].join('\n');
  return { at, reasons, marks: [...guideMarks(face, at, held), { kind: 'label', at, text: words }] };
}

/** Outline of a plate on a face, for previews. */
export function plateMark(at: FacePoint, kind: PointKind, gangs: Gangs): PreviewMark {
  const plate = plateOf({ kind, gangs }) ?? { width: 60, height: 60 };
  const [w, h] = [plate.width / 2, plate.height / 2];
  return {
    kind: 'line',
    look: 'draft',
    closed: true,
    points: [
      { u: at.u - w, z: at.z - h },
      { u: at.u + w, z: at.z - h },
      { u: at.u + w, z: at.z + h },
      { u: at.u - w, z: at.z + h },
    ],
  };
}

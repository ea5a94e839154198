import { text, type AreaLook, type FaceMark } from './marks.ts';
import type { FacePoint } from '../../engine/model/units.ts';
import type { PlanDocument } from '../../engine/model/document.ts';
import type { Zone } from '../../engine/zones/types.ts';

/** The zone's reason in a few words: "top band", "angle", "strip of P4", with what is special about it. */
export function zoneReason(doc: PlanDocument, zone: Zone): string {
  const label = zone.point === null ? null : (doc.points.byId[zone.point]?.label ?? null);
  const words =
    zone.source === 'top'
      ? 'top band'
      : zone.source === 'plumb' || zone.source === 'level'
        ? `strip of ${label ?? 'a point'}`
        : 'angle';
  const side = zone.reverse ? ' from the other side' : '';
  return `${words}${side}${zone.status === 'disputed' ? ', disputed' : ''}`;
}

function lookOf(zone: Zone): AreaLook {
  if (zone.status === 'disputed') return zone.reverse ? 'zone-disputed-reverse' : 'zone-disputed';
  return zone.reverse ? 'zone-reverse' : 'zone';
}

/** Highest z of a convex outline at u; the outline's own highest when u misses it. */
function upperAt(outline: readonly FacePoint[], u: number): number {
  let best = -Infinity;
  outline.forEach((a, i) => {
    const b = outline[(i + 1) % outline.length] as FacePoint;
    if ((a.u - u) * (b.u - u) > 0 || a.u === b.u) return;
    best = Math.max(best, a.z + ((u - a.u) / (b.u - a.u)) * (b.z - a.z));
  });
  return best === -Infinity ? Math.max(...outline.map((p) => p.z)) : best;
}

/** Fills of a face's zones, widest first so that a strip stays readable on a band. */
export function zoneFills(zones: readonly Zone[]): FaceMark[] {
  const size = (z: Zone): number => (z.u1 - z.u0) * (z.z1 - z.z0);
  const rank = (z: Zone): number => (z.status === 'disputed' ? 1 : 0);
  return [...zones]
    .sort((a, b) => rank(a) - rank(b) || size(b) - size(a))
    .map((zone) => ({ kind: 'area', outline: zone.outline, look: lookOf(zone) }));
}

/** Height of the point that makes a strip: its words keep clear of it. */
function pointHeight(doc: PlanDocument, zone: Zone): number | null {
  const place = doc.points.byId[zone.point ?? '']?.place;
  return place?.on === 'face' ? place.z : null;
}

/**
 * The reasons as small text: the top band and level strips along their length, the others up their height: from the
 * floor, or from the top where the point is too near the floor.
 */
export function zoneTexts(doc: PlanDocument, zones: readonly Zone[]): FaceMark[] {
  return zones.map((zone) => {
    const look = zone.status === 'disputed' ? 'zone-disputed' : 'zone';
    const words = zoneReason(doc, zone);
    const width = zone.u1 - zone.u0;
    if (zone.source === 'top') {
      const u = zone.u0 + (zone.u0 === 0 ? 170 : 20);
      return text({ u, z: upperAt(zone.outline, u) - 75 }, words, look, {
        align: 'left',
        room: width - 190,
        across: 150,
      });
    }
    if (zone.source === 'level') {
      // At the right-hand end, clear of the angle band, where runs seldom stop.
      const at = { u: zone.u1 - 170, z: (zone.z0 + zone.z1) / 2 };
      return text(at, words, look, {
        align: 'right',
        room: width - 340,
        across: (zone.z1 - zone.z0) * STRIP_SHARE,
      });
    }
    const u = (zone.u0 + zone.u1) / 2;
    const low = (pointHeight(doc, zone) ?? Infinity) < 700;
    const at = { u, z: low ? upperAt(zone.outline, u) - 170 : zone.z0 + 60 };
    const across = zone.source === 'plumb' ? width * STRIP_SHARE : width;
    return text(at, words, look, {
      align: low ? 'right' : 'left',
      upright: true,
      room: zone.z1 - zone.z0 - 400,
      across,
    });
  });
}

/** Strips carry legs in their middle: their words wait until there is more width than the letters need. */
const STRIP_SHARE = 0.6;

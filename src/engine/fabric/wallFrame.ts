import { vectorAlong } from '../geometry/vector.ts';
import type { BuildUp, Id, Layer, PlanDocument, Place, Side, Wall } from '../model/document.ts';
import { find } from '../model/tables.ts';
import type { Mm, PlanPoint, SpacePoint } from '../model/units.ts';

/** A wall with its nodes, build-up and storey looked up. Plan, mm. */
export interface WallFrame {
  readonly id: Id;
  readonly wall: Wall;
  readonly buildUp: BuildUp;
  readonly from: PlanPoint;
  readonly to: PlanPoint;
  /** Unit vector from → to. */
  readonly dir: PlanPoint;
  /** Unit vector towards the wall's left side: (dir.y, -dir.x). */
  readonly normal: PlanPoint;
  readonly length: Mm;
  readonly thickness: Mm;
  readonly half: Mm;
  /** From the left surface to the right one, after the flip. */
  readonly layers: readonly Layer[];
  /** Storey's ceiling, above its finished floor. */
  readonly ceilingHeight: Mm;
  /** Storey's finished floor above the datum. */
  readonly level: Mm;
}

/**
 * The frame of a wall; null when a node, the build-up or the storey is missing, when it has no length, or when a figure
 * is not finite. A thickness of nothing is let through: it is the fabric that refuses it.
 */
export function wallFrame(doc: PlanDocument, wall: Wall): WallFrame | null {
  const from = find(doc, 'nodes', wall.from);
  const to = find(doc, 'nodes', wall.to);
  const buildUp = find(doc, 'buildUps', wall.buildUp);
  const storey = find(doc, 'storeys', wall.storey);
  if (!from || !to || !buildUp || !storey) return null;
  const dx = to.x - from.x;
  const dy = to.y - from.y;
  const length = Math.hypot(dx, dy);
  const thickness = buildUp.layers.reduce((sum, layer) => sum + layer.thickness, 0);
  if (!(length > 0) || !Number.isFinite(length + from.x + from.y + thickness)) return null;
  const dir = { x: dx / length, y: dy / length };
  return {
    id: wall.id,
    wall,
    buildUp,
    from: { x: from.x, y: from.y },
    to: { x: to.x, y: to.y },
    dir,
    normal: { x: dir.y, y: -dir.x },
    length,
    thickness,
    half: thickness / 2,
    layers: wall.flipped ? buildUp.layers.toReversed() : buildUp.layers,
    ceilingHeight: storey.ceilingHeight,
    level: storey.level,
  };
}

/** The point of the centre line at `along`, mm from the first node; beyond the ends it goes straight on. */
export function centreLinePoint(frame: WallFrame, along: Mm): PlanPoint {
  return vectorAlong(frame.from, frame.dir, along);
}

/** The point of a side's finished surface beside the centre line's `along`. */
export function faceSurfacePoint(frame: WallFrame, side: Side, along: Mm): PlanPoint {
  const off = side === 'left' ? frame.half : -frame.half;
  return vectorAlong(centreLinePoint(frame, along), frame.normal, off);
}

/** Height of the wall's top above its storey's finished floor; a slope goes straight on beyond the ends. */
export function wallTopAt(frame: WallFrame, along: Mm): Mm {
  const top = frame.wall.top;
  if (top.kind === 'ceiling') return frame.ceilingHeight;
  if (top.kind === 'level') return top.z;
  return top.zFrom + ((top.zTo - top.zFrom) * along) / frame.length;
}

/**
 * Where a place is in the building; null when its wall or storey is missing. A `point` on a ceiling or floor lies on
 * the surface, a `corner` in the void at the storey's cable height. On a wall both lie on the finished surface.
 */
export function placeInSpace(doc: PlanDocument, place: Place, role: 'point' | 'corner'): SpacePoint | null {
  if (place.on === 'face') {
    const wall = find(doc, 'walls', place.wall);
    const frame = wall ? wallFrame(doc, wall) : null;
    if (!frame) return null;
    const p = faceSurfacePoint(frame, place.side, place.along);
    return { x: p.x, y: p.y, z: frame.level + place.z };
  }
  const storey = find(doc, 'storeys', place.storey);
  if (!storey) return null;
  const z =
    place.on === 'free'
      ? place.z
      : place.on === 'ceiling'
        ? storey.ceilingHeight + (role === 'corner' ? storey.ceiling.cableRise : 0)
        : role === 'corner'
          ? -storey.floor.cableDrop
          : 0;
  return { x: place.x, y: place.y, z: storey.level + z };
}

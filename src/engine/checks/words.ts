import { facePlan } from '../fabric/lookup.ts';
import { wallTitle } from '../words/walls.ts';
import type { Fabric, Face, FaceId } from '../fabric/types.ts';
import type { Id, Point, Run, Thing } from '../model/document.ts';
import { POINT_KINDS } from '../model/pointKinds.ts';
import type { FacePoint, Mm } from '../model/units.ts';
import type { LegCheck } from '../zones/types.ts';
import type { CheckContext } from './rule.ts';
import type { FindingPlace } from './types.ts';

/** Whole millimetres; rounding noise below a thousandth never tips a half. */
export const mm = (length: Mm): string => `${Math.round(Math.round(length * 1000) / 1000)} mm`;

/** Metres with two decimals. */
export const metres = (length: Mm): string => `${(Math.round(length / 10) / 100).toFixed(2)} m`;

/** "a, b and c". */
export function list(words: readonly string[]): string {
  return words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;
}

export const plural = (count: number, one: string): string => `${count} ${count === 1 ? one : `${one}s`}`;

/** "socket-outlet P3". */
export const pointName = (p: Point): string => `${POINT_KINDS[p.kind].name.toLowerCase()} ${p.label}`;

/** A kind of thing in plain words: "hot pipe", "no-cable place". */
export const thingKindName = (kind: Thing['kind']): string =>
  kind === 'no-cable' ? 'no-cable place' : kind.replaceAll('-', ' ');

export const runName = (run: Run): string => run.label;

/** "the top wall 2 of Kitchen", as the drawing lies; "the top wall, outside" for a face that looks outwards. */
export function wallName(fabric: Fabric | undefined, face: Face | undefined): string {
  if (fabric === undefined || face === undefined) return 'a wall';
  const title = `the ${wallTitle(fabric, face)}`;
  if (face.room === null) return `${title}, outside`;
  return `${title} of ${fabric.rooms.get(face.room)?.tag?.name ?? 'a room without a name'}`;
}

/** Name of a face by its id. */
export function faceName(ctx: CheckContext, storey: Id, face: FaceId): string {
  const fabric = ctx.fabrics.get(storey);
  return wallName(fabric, fabric?.faces.get(face));
}

/** A spot of a face as the place of a finding. */
export function placeOnFace(ctx: CheckContext, storey: Id, id: FaceId, on: FacePoint): FindingPlace {
  const face = ctx.fabrics.get(storey)?.faces.get(id);
  return { storey, plan: face === undefined ? null : facePlan(face, on.u), face: id, on };
}

/** Where a point is, for findings about it. */
export function placeOfPoint(ctx: CheckContext, point: Point): FindingPlace | null {
  const { place } = point;
  if (place.on !== 'face')
    return { storey: place.storey, plan: { x: place.x, y: place.y }, face: null, on: null };
  const spot = ctx.spots.get(point.id);
  if (spot !== undefined) return placeOnFace(ctx, spot.storey, spot.face, { u: spot.u, z: spot.z });
  const wall = ctx.doc.walls.byId[place.wall];
  return wall === undefined ? null : { storey: wall.storey, plan: null, face: null, on: null };
}

/** A spot of a leg, t from 0 to 1. */
export function placeOnLeg(ctx: CheckContext, { leg }: LegCheck, t: number): FindingPlace {
  if (leg.face !== null && leg.fa !== null && leg.fb !== null) {
    const on = { u: leg.fa.u + (leg.fb.u - leg.fa.u) * t, z: leg.fa.z + (leg.fb.z - leg.fa.z) * t };
    return placeOnFace(ctx, leg.storey, leg.face, on);
  }
  const plan = { x: leg.a.x + (leg.b.x - leg.a.x) * t, y: leg.a.y + (leg.b.y - leg.a.y) * t };
  return { storey: leg.storey, plan, face: null, on: null };
}

/** "on the top wall of Kitchen", or where else a leg lies. */
export function whereIsLeg(ctx: CheckContext, { leg }: LegCheck): string {
  if (leg.face !== null) return `on ${faceName(ctx, leg.storey, leg.face)}`;
  if (leg.kind === 'ceiling') return 'above the ceiling';
  if (leg.kind === 'floor') return 'under the floor';
  return leg.kind === 'through' ? 'through the wall' : 'in the open';
}

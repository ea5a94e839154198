import { behind, facePlace, footOn, onFace, planOf, wayRound, type OnFace } from './places.ts';
import { facePlan } from '../../engine/fabric/lookup.ts';
import { COINCIDENT } from '../../engine/fabric/tolerances.ts';
import type { Fabric, Face } from '../../engine/fabric/types.ts';
import type { Place } from '../../engine/model/document.ts';
import type { FacePoint, Mm, PlanPoint } from '../../engine/model/units.ts';

export type VoidKind = 'ceiling' | 'floor';

/** Places nearer than this are the same place, mm (the engine's coincidence tolerance). */
export const SAME: Mm = COINCIDENT;

/** Where a run has come to: on a face, or somewhere in plan (in a void, or on a ceiling or floor surface). */
export interface Head {
  readonly place: Place;
  readonly plan: PlanPoint;
  readonly face: OnFace | null;
  /** The void it is in or on the surface of; null on a face or in the open. */
  readonly void: VoidKind | null;
}

/** The head of a run whose last place this is; null when its wall is gone. */
export function headOf(fabric: Fabric, place: Place): Head | null {
  const plan = planOf(fabric, place);
  if (plan === null) return null;
  const face = onFace(fabric, place);
  if (place.on === 'face' && face === null) return null;
  return { place, plan, face, void: place.on === 'ceiling' || place.on === 'floor' ? place.on : null };
}

/** What the next click would add. `reasons` are shown at the pointer. */
export interface Reach {
  readonly places: readonly Place[];
  readonly reasons: readonly string[];
  /** Set when it cannot be done: nothing is added. */
  readonly refused: string | null;
}

export const refuse = (reason: string): Reach => ({ places: [], reasons: [], refused: reason });
export const reachOf = (places: readonly Place[], ...reasons: string[]): Reach => ({
  places,
  reasons,
  refused: null,
});

const near = (a: PlanPoint, b: PlanPoint): boolean => Math.hypot(a.x - b.x, a.y - b.y) <= SAME;

/** A corner in the void at a plan position. */
export function voidPlace(fabric: Fabric, kind: VoidKind, at: PlanPoint): Place {
  return { on: kind, storey: fabric.storey, x: at.x, y: at.y };
}

/**
 * Two directions at right angles that legs in the void keep to: the last leg's when the path has one there, else the
 * wall's the run comes from, else the longest face of the storey nearest the start; else the paper's.
 */
export function voidAxis(fabric: Fabric, path: readonly Place[], head: Head): PlanPoint {
  for (let i = path.length - 1; i > 0; i--) {
    const b = path[i] as Place;
    const a = path[i - 1] as Place;
    if (b.on === 'face' || a.on === 'face' || b.on === 'free' || a.on === 'free') continue;
    const length = Math.hypot(b.x - a.x, b.y - a.y);
    if (length > SAME) return { x: (b.x - a.x) / length, y: (b.y - a.y) / length };
  }
  const unit = (face: Face): PlanPoint => ({
    x: (face.b.x - face.a.x) / (face.length || 1),
    y: (face.b.y - face.a.y) / (face.length || 1),
  });
  if (head.face && head.face.face.length > 0) return unit(head.face.face);
  let best: { face: Face; score: number } | null = null;
  for (const face of fabric.faces.values()) {
    if (face.length < 1) continue;
    const foot = footOn(face, head.plan);
    const past = Math.max(0, -foot.u, foot.u - face.length);
    const score = face.length / (500 + foot.distance + past);
    if (best === null || score > best.score) best = { face, score };
  }
  return best ? unit(best.face) : { x: 1, y: 0 };
}

/** Along the axis and across it, mm. */
export function inAxes(from: PlanPoint, to: PlanPoint, axis: PlanPoint): { along: Mm; across: Mm } {
  const dx = to.x - from.x;
  const dy = to.y - from.y;
  return { along: dx * axis.x + dy * axis.y, across: dy * axis.x - dx * axis.y };
}

/** The place `along` and `across` mm from `from`. */
export function fromAxes(from: PlanPoint, axis: PlanPoint, along: Mm, across: Mm): PlanPoint {
  return { x: from.x + axis.x * along - axis.y * across, y: from.y + axis.y * along + axis.x * across };
}

/** Corners from one plan position to another, square to the axis; straight when `free`. `flip` turns the other way. */
export function squarePath(
  from: PlanPoint,
  to: PlanPoint,
  axis: PlanPoint,
  free: boolean,
  flip: boolean,
): PlanPoint[] {
  const { along, across } = inAxes(from, to, axis);
  if (free || Math.abs(along) <= 1 || Math.abs(across) <= 1) return [to];
  // Carry on the way the last leg went when the goal lies ahead of it, else turn first: fewer bends.
  const straightFirst = along > 0 !== flip;
  return [straightFirst ? fromAxes(from, axis, along, 0) : fromAxes(from, axis, 0, across), to];
}

/** Turns a path of plan positions into void corners, leading out of the head (plumb off a face first). */
function intoVoid(fabric: Fabric, head: Head, kind: VoidKind, way: readonly PlanPoint[]): Place[] {
  const places: Place[] = head.void === kind ? [] : [voidPlace(fabric, kind, head.plan)];
  let last = head.plan;
  for (const at of way) {
    if (!near(at, last)) places.push(voidPlace(fabric, kind, at));
    last = at;
  }
  return places;
}

export interface VoidWay {
  readonly kind: VoidKind;
  readonly axis: PlanPoint;
  readonly free: boolean;
  readonly flip: boolean;
}

/** Over the ceiling (or under the floor) to a plan position. */
export function reachVoid(fabric: Fabric, head: Head, to: PlanPoint, way: VoidWay): Reach {
  return reachOf(intoVoid(fabric, head, way.kind, squarePath(head.plan, to, way.axis, way.free, way.flip)));
}

/** Over the ceiling to right above a face's u, then plumb down to z: "drop in one move". */
export function reachOverToFace(fabric: Fabric, head: Head, face: Face, at: FacePoint, way: VoidWay): Reach {
  const end = facePlace(face, at);
  if (end === null) return refuse('Nothing can be fixed to the end of a wall.');
  const above = facePlan(face, Math.min(face.length, Math.max(0, at.u)));
  const path = intoVoid(fabric, head, way.kind, squarePath(head.plan, above, way.axis, way.free, way.flip));
  return reachOf([...path, end], way.kind === 'ceiling' ? 'drops from the ceiling' : 'rises from the floor');
}

/** On the same face: straight when level, plumb or free; else with one elbow. */
export function reachOnFace(
  face: Face,
  from: FacePoint,
  to: FacePoint,
  free: boolean,
  plumbFirst: boolean,
): Reach {
  const end = facePlace(face, to);
  if (end === null) return refuse('Nothing can be fixed to the end of a wall.');
  const square = Math.abs(from.u - to.u) <= 1 || Math.abs(from.z - to.z) <= 1;
  if (free || square) return reachOf([end], ...(square ? [] : ['neither level nor plumb']));
  const elbow = facePlace(face, plumbFirst ? { u: from.u, z: to.z } : { u: to.u, z: from.z });
  return elbow ? reachOf([elbow, end]) : refuse('Nothing can be fixed to the end of a wall.');
}

/**
 * From one face to another round the angles between them, level all the way, then to the place. Null when no chain of
 * angles joins them.
 */
export function reachRoundAngles(
  fabric: Fabric,
  from: OnFace,
  face: Face,
  at: FacePoint,
  plumbFirst: boolean,
): Reach | null {
  const way = wayRound(fabric, from.face, face.id, from.at.u, at.u);
  if (way === null) return null;
  const z = from.at.z;
  const places: (Place | null)[] = [];
  way.faces.forEach((f, i) => {
    if (i > 0) places.push(facePlace(f, { u: way.right ? 0 : f.length, z }));
    if (i < way.faces.length - 1) places.push(facePlace(f, { u: way.right ? f.length : 0, z }));
  });
  const entry: FacePoint = { u: way.right ? 0 : face.length, z };
  const rest = reachOnFace(face, entry, at, false, plumbFirst);
  const turns = way.faces.length === 2 ? 'round the angle' : `round ${way.faces.length - 1} angles`;
  return reachOf([...places.filter((p) => p !== null), ...rest.places], turns);
}

/** Straight through the wall to its other face. Null where nothing is behind. */
export function reachThrough(fabric: Fabric, from: OnFace): { reach: Reach; to: OnFace } | null {
  const to = behind(fabric, from.face, from.at);
  const place = to ? facePlace(to.face, to.at) : null;
  return to && place ? { reach: reachOf([place], 'through the wall'), to } : null;
}

import type { Id, Opening, RoomTag, Side } from '../model/document.ts';
import type { FacePoint, Mm, PlanPoint, Radians, SpacePoint } from '../model/units.ts';

/** `${wall}.${'left'|'right'}.${n}` of the face's left-most piece; `${wall}.${'from'|'to'}.0` for an end cap. */
export type FaceId = string;
/** The smallest face id of its outer loop. */
export type RoomId = string;

/** A wall side's share of a face. Along the piece u runs from u0 (at `alongAtU0`) to u1 (at `alongAtU1`). */
export interface FacePiece {
  readonly wall: Id;
  readonly side: Side;
  readonly u0: Mm;
  readonly u1: Mm;
  readonly alongAtU0: Mm;
  readonly alongAtU1: Mm;
}

/** How a face ends. `straight` is a step between walls in line; `free` the end of a wall that meets nothing. */
export type FaceEndKind = 'internal' | 'external' | 'free' | 'straight';

export interface FaceEnd {
  readonly kind: FaceEndKind;
  /** Angle in the room between this face and the next, 0 to 2π: below π is an internal angle. */
  readonly angle: Radians;
  readonly next: FaceId | null;
  /** Height to which the angle goes: the top of the lower of its two walls. */
  readonly top: Mm;
  /** The face of the same surface beyond a partition at this end that does not reach as high: above it they are one. */
  readonly onward: FaceId | null;
}

/** An opening as it stands in a face, clipped to it. */
export interface FaceOpening {
  readonly id: Id;
  readonly kind: Opening['kind'];
  readonly u0: Mm;
  readonly u1: Mm;
  readonly z0: Mm;
  readonly z1: Mm;
}

/** The face behind a stretch of this one. `v` of the other face = `u0Other + (uThis0 - u)` as it runs the other way. */
export interface Opposite {
  readonly face: FaceId;
  readonly u0: Mm;
  readonly u1: Mm;
  /** u on the other face that lies behind u0 here, and behind u1. */
  readonly otherAtU0: Mm;
  readonly otherAtU1: Mm;
}

/** What the wall is made of behind a stretch of face, seen from this side. */
export interface FaceBuild {
  readonly wall: Id;
  readonly buildUp: Id;
  readonly thickness: Mm;
  readonly metal: boolean;
  readonly masonry: boolean;
  /** The nearest a cable of this side may come to this surface, and to the other one. */
  readonly coverNear: Mm;
  readonly coverFar: Mm;
  /** Can the position of the points on the other side of the wall be told from this one? null: nobody has said. */
  readonly tellsBehind: boolean | null;
}

/** A flat stretch of wall surface that looks into one room (or outside), between two angles. */
export interface Face {
  readonly id: FaceId;
  readonly storey: Id;
  readonly room: RoomId | null;
  /** Left-hand and right-hand ends on the finished surface, as seen facing the wall. */
  readonly a: PlanPoint;
  readonly b: PlanPoint;
  readonly length: Mm;
  /** In u order, without gaps. Empty for an end cap. */
  readonly pieces: readonly FacePiece[];
  /** One per piece, same order. */
  readonly builds: readonly FaceBuild[];
  readonly left: FaceEnd;
  readonly right: FaceEnd;
  /** Height of the wall's top along u: (u, z) corners, at least two, u rising. Sloped when z differs. */
  readonly top: readonly FacePoint[];
  readonly sloped: boolean;
  readonly openings: readonly FaceOpening[];
  readonly opposite: readonly Opposite[];
}

export interface Room {
  readonly id: RoomId;
  readonly storey: Id;
  /** Faces in order round the outer loop, so that unrolled side by side they read left to right. */
  readonly faces: readonly FaceId[];
  /** Loops of faces of walls that stand free inside the room. */
  readonly islands: readonly (readonly FaceId[])[];
  /** Finished surfaces; closed, not repeated, positive area in y-down axes. */
  readonly outline: readonly PlanPoint[];
  readonly holes: readonly (readonly PlanPoint[])[];
  /** mm², holes taken away. */
  readonly area: number;
  readonly tag: RoomTag | null;
}

/** All faces and rooms of one storey. */
export interface Fabric {
  readonly storey: Id;
  readonly faces: ReadonlyMap<FaceId, Face>;
  readonly rooms: ReadonlyMap<RoomId, Room>;
  /** Loops of faces that look outwards. */
  readonly outside: readonly (readonly FaceId[])[];
}

/**
 * What a straight stretch of a run is.
 * `riser` goes plumb between a face's top (or a point) and a void; `through` crosses a wall or partition square on;
 * `over` passes above a partition that is lower, on the surface it stands against;
 * `corner` turns from one face to the next at their angle and has no length of its own; `loose` is none of these.
 */
export type LegKind = 'face' | 'ceiling' | 'floor' | 'riser' | 'through' | 'over' | 'corner' | 'loose';

export interface Leg {
  readonly kind: LegKind;
  /** Which stretch of the run's drawn path it came from: i joins place i and place i + 1 of [from, ...corners, to]. */
  readonly stretch: number;
  readonly storey: Id;
  readonly a: SpacePoint;
  readonly b: SpacePoint;
  readonly length: Mm;
  /** Face legs only. */
  readonly face: FaceId | null;
  readonly fa: FacePoint | null;
  readonly fb: FacePoint | null;
  /** Wall crossed by a `through` leg, or carrying a face leg. */
  readonly wall: Id | null;
}

/** A run as legs in space. `missing` says why it could not be resolved whole (its legs are then as many as could). */
export interface ResolvedRun {
  readonly run: Id;
  readonly legs: readonly Leg[];
  readonly missing: string | null;
}

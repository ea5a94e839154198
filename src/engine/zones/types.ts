import type { FaceId, Leg } from '../fabric/types.ts';
import type { Id } from '../model/document.ts';
import type { FacePoint, Mm } from '../model/units.ts';

/** What makes a zone: the top of the wall, an angle between walls, or a visible point's plumb or level strip. */
export type ZoneSource = 'top' | 'angle-left' | 'angle-right' | 'plumb' | 'level';

/**
 * A permitted (or disputed) zone of a face, in (u, z): an axis-parallel rectangle but for the band under a sloped top,
 * which is a quadrilateral. `outline` is convex, in order.
 */
export interface Zone {
  readonly face: FaceId;
  readonly source: ZoneSource;
  readonly status: 'permitted' | 'disputed';
  /** The point that makes it, for strips. */
  readonly point: Id | null;
  /** The circuit of that point: some editions let only its own circuit rely on the strip. */
  readonly circuit: Id | null;
  /** Disputed for no other reason than that a question about it has no answer yet: its plate's size, or the wall's. */
  readonly unasked: boolean;
  /** True when the point is on the other face of a thin wall. */
  readonly reverse: boolean;
  readonly outline: readonly FacePoint[];
  readonly u0: Mm;
  readonly u1: Mm;
  readonly z0: Mm;
  readonly z1: Mm;
  /** One plain sentence: why it is here, and why it is disputed if it is. */
  readonly why: string;
}

/** The four answers. `not-checked` is never a pass. */
export type Answer = 'inside' | 'outside' | 'disputed' | 'not-checked';

/** A stretch of one leg with one answer; t0 < t1 are fractions of the leg's length. */
export interface Stretch {
  readonly t0: number;
  readonly t1: number;
  readonly length: Mm;
  readonly answer: Answer;
  /** Which surface decided: the face the leg is drawn on, or the one behind it. */
  readonly surface: 'near' | 'far' | null;
  /** Outside: how far from the nearest permitted zone the worst spot of the stretch is. Otherwise 0. */
  readonly outsideMm: Mm;
  /** Nearest legal position for the worst spot: on the leg's own face. */
  readonly nearest: FacePoint | null;
  readonly why: string;
}

export interface Crossing {
  readonly opening: Id;
  readonly t0: number;
  readonly t1: number;
  /** When the centre passes by: how far the cable's edge reaches in, mm. Null when the centre itself crosses. */
  readonly edgeMm: Mm | null;
}

export interface LegCheck {
  readonly leg: Leg;
  readonly stretches: readonly Stretch[];
  readonly crossings: readonly Crossing[];
  /** Face legs: neither level nor plumb beyond the tolerance; the angle off the nearer of the two, radians, else 0. */
  readonly offLevel: number;
  /** Nearest the cable may come to the near and far surfaces; null where there is no wall round it. */
  readonly coverNear: Mm | null;
  readonly coverFar: Mm | null;
  /** False when the depth stated for the run does not fit in the wall here: it is then passed over. */
  readonly depthFits: boolean;
  readonly metal: boolean;
  /** The worst answer of its stretches. */
  readonly answer: Answer;
}

export interface RunCheck {
  readonly run: Id;
  readonly legs: readonly LegCheck[];
  /** Worst over its legs in walls: outside, then disputed, then not-checked, then inside; not-checked when it has none. */
  readonly answer: Answer;
  readonly missing: string | null;
}

import { degrees } from '../geometry/angle.ts';
import type { Mm, Radians } from '../model/units.ts';

// Choices of this program, not published figures.

/** Nodes nearer than this are one; a node this near a centre line stands on it. */
export const NODE_TOLERANCE: Mm = 1;
/** Shorter walls are left out of the fabric. */
export const SHORTEST_WALL: Mm = 1;
/** Walls within this angle of being in line count as in line: under 1 mm where two walls of 5 m meet. */
export const IN_LINE_ANGLE: Radians = degrees(0.02);
/** Surfaces in line within this offset are one face. */
export const SURFACE_TOLERANCE: Mm = 0.1;
/** A bend smaller than this is no angle anyone could find on the wall: its end is `straight` and makes no zone. */
export const LEAST_ANGLE: Radians = degrees(5);
/** A point of a corner may stand this many half thicknesses past the node; sharper corners are cut off square. */
export const MITRE_LIMIT = 4;
/** A face shorter than this is not a face. */
export const SHORTEST_FACE: Mm = 0.01;
/** Two places nearer than this are one place. */
export const COINCIDENT: Mm = 2;
/** Level and plumb: this far off, or `LEVEL_ANGLE`, whichever is more. */
export const LEVEL_TOLERANCE: Mm = 1;
export const LEVEL_ANGLE: Radians = degrees(0.2);

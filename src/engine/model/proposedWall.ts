import type { Mm, PlanPoint } from './units.ts';

/** A gap in a wall, likely a door or a window: along its centre line from its first end. */
export interface ProposedOpening {
  readonly along: Mm;
  readonly width: Mm;
}

/** A wall that a drawing seems to show: nobody has said so yet. */
export interface ProposedWall {
  /** Ends of the centre line. */
  readonly a: PlanPoint;
  readonly b: PlanPoint;
  readonly thickness: Mm;
  readonly openings: readonly ProposedOpening[];
  /** The thickness could not be seen: it is the usual one of a single line. */
  readonly assumed: boolean;
}

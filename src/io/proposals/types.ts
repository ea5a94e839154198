import type { Mm, PlanPoint } from '../../engine/model/units.ts';

/** A straight line of a drawing, plan mm. */
export interface Stroke {
  readonly a: PlanPoint;
  readonly b: PlanPoint;
}

/** What counts as one line, and as a wall. Own choice, from plans drawn at 1:50 and 1:100. */
export interface ProposalRules {
  /** Lines this near to parallel are. Radians. */
  readonly angle: number;
  /** Lines this near to one line are one; ends this near touch. */
  readonly near: Mm;
  readonly thinnest: Mm;
  readonly thickest: Mm;
  /** Shorter than this is a jamb or a mark, not a wall. */
  readonly shortest: Mm;
  /** A gap up to this is bridged where another wall runs in, up to `widestOpening` it is an opening. */
  readonly widestOpening: Mm;
}

export const LINE_RULES: ProposalRules = {
  angle: (0.5 * Math.PI) / 180,
  near: 5,
  thinnest: 60,
  thickest: 450,
  shortest: 250,
  widestOpening: 3000,
};

import type { PlanPoint } from '../engine/model/units.ts';
import { planSpot, snapOptions } from './kit.ts';
import type { PlanShapes } from './planShapes.ts';
import { snapPlan } from './snap.ts';
import type { ToolContext, ToolEvent } from './types.ts';

/** No walls: a known length is marked on what is drawn, never on what was traced from it. */
const NOTHING: PlanShapes = {
  storey: '',
  fabric: null,
  nodes: [],
  walls: [],
  openings: [],
  rooms: [],
  looseTags: [],
  points: [],
  things: [],
  legs: [],
  tracings: [],
};

/** Place of a pointer event, drawn to the end, crossing or line of a tracing near it; null off the plan. */
export function drawnSpot(ctx: ToolContext, event: ToolEvent): PlanPoint | null {
  const at = planSpot(event);
  if (at === null) return null;
  const snap = snapPlan(NOTHING, at, snapOptions(ctx, event));
  return snap.label === null ? at : snap.at;
}

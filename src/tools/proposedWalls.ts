import { segmentNearest } from '../engine/geometry/segment.ts';
import type { PlanPoint } from '../engine/model/units.ts';
import { planSpot, toleranceOf } from './kit.ts';
import { PLACES } from './types.ts';
import type { Tool, ToolContext, ToolEvent, ToolStep, WallProposal } from './types.ts';

type Waiting = { readonly kind: 'waiting' };

const HINT = 'Click a dashed wall to tick or untick it..';
const NONE = 'No walls are proposed on this storey.';

/** The proposed wall at a spot, by its place in the proposal; null where there is none. */
export function proposedAt(proposal: WallProposal, at: PlanPoint, slack: number): number | null {
  let best: number | null = null;
  let least = Infinity;
  for (const [i, wall] of proposal.walls.entries()) {
    const { distance } = segmentNearest(at, wall.a, wall.b);
    if (distance <= wall.thickness / 2 + slack && distance < least) [best, least] = [i, distance];
  }
  return best;
}

/** A proposal with one wall ticked that was not, or the other way round. */
export function toggled(proposal: WallProposal, wall: number): WallProposal {
  const ticked = new Set(proposal.ticked);
  if (!ticked.delete(wall)) ticked.add(wall);
  return { ...proposal, ticked, chosen: wall };
}

/** Ticks and unticks proposed walls on the plan. */
export const proposedWallsTool: Tool<Waiting> = {
  id: 'proposed-walls',
  manner: PLACES,
  busy: () => false,
  start: (ctx) => rest(ctx),
  step(_state, event, ctx) {
    if (event.type === 'key' && event.key === 'Escape') return { ...rest(ctx), session: { tool: 'select' } };
    const { proposal } = ctx.session;
    const wall = proposal && pointedAt(proposal, event, ctx);
    if (!proposal || event.type !== 'down' || wall === null) return rest(ctx);
    return { ...rest(ctx), session: { proposal: toggled(proposal, wall) } };
  },
};

function pointedAt(proposal: WallProposal, event: ToolEvent, ctx: ToolContext): number | null {
  const at = planSpot(event);
  return at === null ? null : proposedAt(proposal, at, toleranceOf(ctx, event) / ctx.scale);
}

function rest(ctx: ToolContext): ToolStep<Waiting> {
  const here = ctx.session.proposal?.storey === ctx.session.storey;
  return { state: { kind: 'waiting' }, preview: null, hint: here ? HINT : NONE, ask: null };
}

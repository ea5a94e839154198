import { aimOnFace } from './aimFace.ts';
import { aimed, type Aim, type Grip } from './aimParts.ts';
import { aimOnPlan } from './aimPlan.ts';
import { pointAtFace, pointAtPlan } from './pickPoint.ts';
import { headOf, refuse } from './reach.ts';
import { faceById } from '../onFaces.ts';
import { storeyOf } from '../../document/commands/places.ts';
import { isNextAbove } from '../../engine/fabric/path.ts';
import type { Id, Place, PlanDocument } from '../../engine/model/document.ts';
import type { Spot, ToolContext } from '../types.ts';

const BY_THE_VOID =
  'To another storey a run goes through the ceiling: take it up into the void there (or down under the floor) first.';

/**
 * The corner right above (or below) in the void of the storey next to this one, when the run has come into the void
 * between them; 'here' when it is on the storey already; null when it must go into the void first.
 */
function bridgeTo(doc: PlanDocument, last: Place, storey: Id): Place | 'here' | null {
  const own = storeyOf(doc, last);
  if (own === null || own === storey) return 'here';
  if (last.on === 'ceiling' && isNextAbove(doc, own, storey)) return { ...last, on: 'floor', storey };
  if (last.on === 'floor' && isNextAbove(doc, storey, own)) return { ...last, on: 'ceiling', storey };
  return null;
}

/** What a click here would add to a run that has come along `path` (its first place that of its start). */
export function aimAt(
  ctx: ToolContext,
  path: readonly Place[],
  start: Id | null,
  spot: Spot,
  grip: Grip,
): Aim | null {
  const last = path[path.length - 1];
  if (!last) return null;
  const fabric =
    spot.surface === 'face'
      ? (faceById(ctx.derived, spot.face)?.fabric ?? null)
      : ctx.derived.fabrics.get(ctx.session.storey);
  if (!fabric) return null;
  const bridge = bridgeTo(ctx.doc, last, fabric.storey);
  if (bridge === null) return aimed(refuse(BY_THE_VOID), null, null);
  if (bridge !== 'here') {
    const aim = aimAt(ctx, [...path, bridge], start, spot, grip);
    const places = aim && aim.reach.refused === null ? [bridge, ...aim.reach.places] : [];
    return (
      aim && {
        ...aim,
        reach: { ...aim.reach, places, reasons: ['to the next storey', ...aim.reach.reasons] },
      }
    );
  }
  const head = headOf(fabric, last);
  if (!head)
    return aimed(refuse('The run has come to where no wall is left: take the last corner back.'), null, null);
  const target = spot.surface === 'face' ? pointAtFace(ctx, spot) : pointAtPlan(ctx, spot.at, start);
  const goal = target !== null && target.id !== start ? target : null;
  const aiming = { ctx, fabric, path, head, goal, grip };
  return spot.surface === 'face' ? aimOnFace(aiming, spot) : aimOnPlan(aiming, spot.at);
}

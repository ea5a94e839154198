import { plateOf } from '../../model/pointKinds.ts';
import type { Run } from '../../model/document.ts';
import type { FacePoint } from '../../model/units.ts';
import { holds, ROUNDING } from '../../zones/convex.ts';
import type { CheckContext, Draft, Rule } from '../rule.ts';
import { wallStraights } from '../straights.ts';
import { mm, placeOnFace, whereIsLeg } from '../words.ts';
import type { FaceId } from '../../fabric/types.ts';
import { once } from '../../model/evidence.ts';

/** Does the spot lie under the plate of a point of this face? */
function underPlate(ctx: CheckContext, face: FaceId, x: FacePoint): boolean {
  return (ctx.facePoints.get(face) ?? []).some((id) => {
    const point = ctx.doc.points.byId[id];
    const spot = ctx.spots.get(id);
    const plate = point && plateOf(point);
    if (!plate || spot === undefined) return false;
    const inU = Math.abs(x.u - spot.u) <= plate.width / 2 + ROUNDING;
    return inU && Math.abs(x.z - spot.z) <= plate.height / 2 + ROUNDING;
  });
}

/** In the band at the top or at an angle a turn is accepted practice. */
function accepted(ctx: CheckContext, face: FaceId, x: FacePoint): boolean {
  const here = (ctx.zones.get(face) ?? []).filter((z) => z.status === 'permitted' && holds(z, x, ROUNDING));
  return here.some((z) => z.source !== 'plumb' && z.source !== 'level');
}

function drafts(ctx: CheckContext, run: Run): Draft[] {
  const check = ctx.checks.get(run.id);
  if (check === undefined) return [];
  const straights = wallStraights(run, check);
  return straights.flatMap((straight, i): Draft[] => {
    const next = straights[i + 1];
    const last = straight.legs.at(-1);
    const first = next?.legs[0];
    if (last === undefined || first === undefined || first.index !== last.index + 1) return [];
    const { face, storey } = last.check.leg;
    if (face === null || face !== first.check.leg.face) return [];
    if (last.check.answer !== 'inside' || first.check.answer !== 'inside') return [];
    const x = straight.fb;
    const relies = [last, first].some(
      (l) => Math.min(l.check.coverNear ?? 0, l.check.coverFar ?? 0) < ctx.rules.shallow,
    );
    if (!relies || underPlate(ctx, face, x) || accepted(ctx, face, x)) return [];
    return [
      {
        about: straight.about,
        run: run.id,
        leg: last.index,
        wall: last.check.leg.wall,
        at: placeOnFace(ctx, storey, face, x),
        message: `${run.label} turns within the strips of points and away from any point, ${mm(x.z)} above the floor, ${whereIsLeg(ctx, last.check)}. Both legs are in a zone; practitioners accept a turn where two strips cross, some certifiers object to any turn away from a point.`,
        fix: 'Turn at a point, or in the band at the top or at an angle; or ask your certifier.',
      },
    ];
  });
}

export const turnAway: Rule<'run'> = {
  id: 'turn-away-from-point',
  title: 'Turns in the wall away from a point',
  looksAt: 'run',
  severity: 'disputed',
  stage: 'runs',
  source: (rules) =>
    once(
      `${rules.name} ${rules.zoneClause}: no clause found either way; practitioners disagree (the 15th edition asked for a straight run)`,
    ),
  find: drafts,
};

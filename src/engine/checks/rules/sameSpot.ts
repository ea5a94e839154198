import type { Id, Point } from '../../model/document.ts';
import { plateOf } from '../../model/pointKinds.ts';
import { COMMON_PRACTICE, type CheckContext, type Draft, type Rule } from '../rule.ts';
import { faceName, mm, placeOfPoint, pointName } from '../words.ts';

/** Plates may touch; over this much they overlap, mm. */
const TOUCH = 0.5;

interface Plate {
  readonly point: Point;
  readonly u: number;
  readonly z: number;
  readonly width: number;
  readonly height: number;
}

function plateAt(ctx: CheckContext, id: Id): Plate[] {
  const point = ctx.doc.points.byId[id];
  const spot = ctx.spots.get(id);
  const plate = point && plateOf(point);
  return point && spot && plate ? [{ point, u: spot.u, z: spot.z, ...plate }] : [];
}

export const sameSpot: Rule<'face'> = {
  id: 'same-spot',
  title: 'Plates overlap',
  looksAt: 'face',
  severity: 'error',
  stage: 'points',
  source: COMMON_PRACTICE,
  find: (ctx, { storey, face }) => {
    const plates = (ctx.facePoints.get(face) ?? []).flatMap((id) => plateAt(ctx, id));
    plates.sort((a, b) => a.u - a.width / 2 - (b.u - b.width / 2));
    const found: Draft[] = [];
    plates.forEach((a, i) => {
      for (const b of plates.slice(i + 1)) {
        if (b.u - b.width / 2 >= a.u + a.width / 2) continue;
        const inU = (a.width + b.width) / 2 - Math.abs(a.u - b.u);
        const inZ = (a.height + b.height) / 2 - Math.abs(a.z - b.z);
        if (Math.min(inU, inZ) <= TOUCH) continue;
        const [first, second] = a.point.id < b.point.id ? [a, b] : [b, a];
        found.push({
          about: `${first.point.id}:${second.point.id}`,
          point: second.point.id,
          at: placeOfPoint(ctx, second.point),
          message: `The ${pointName(first.point)} and the ${pointName(second.point)} overlap by ${mm(Math.min(inU, inZ))}, on ${faceName(ctx, storey, face)}.`,
          fix: `Move one of them ${mm(Math.min(inU, inZ))} ${inU <= inZ ? 'along the wall' : 'up or down'}, or take out the one that is there twice.`,
        });
      }
    });
    return found.sort((x, y) => (x.about < y.about ? -1 : 1));
  },
};

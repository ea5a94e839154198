import { topAt } from '../../fabric/lookup.ts';
import type { Face } from '../../fabric/types.ts';
import type { Point } from '../../model/document.ts';
import { plateOf } from '../../model/pointKinds.ts';
import type { Spot } from '../../zones/spots.ts';
import { COMMON_PRACTICE, type CheckContext, type Draft, type Rule } from '../rule.ts';
import { faceName, mm, placeOfPoint, pointName } from '../words.ts';

const faceOf = (ctx: CheckContext, spot: Spot | undefined): Face | undefined =>
  spot && ctx.fabrics.get(spot.storey)?.faces.get(spot.face);

/** Rounding of heights, mm. */
const SLACK = 1e-6;

export const pointOffWall: Rule<'point'> = {
  id: 'point-off-wall',
  title: 'Point not on a wall surface',
  looksAt: 'point',
  severity: 'error',
  stage: 'points',
  source: COMMON_PRACTICE,
  find: (ctx, point) => {
    if (point.place.on !== 'face') return [];
    const spot = ctx.spots.get(point.id);
    const face = faceOf(ctx, spot);
    const draft = (message: string, fix: string): Draft[] => [
      { about: point.id, point: point.id, wall: null, at: placeOfPoint(ctx, point), message, fix },
    ];
    if (spot === undefined || face === undefined) {
      return draft(
        `The ${pointName(point)} lies on no wall surface: its wall ends before it, or another wall stands there.`,
        'Drag it to the wall it belongs on.',
      );
    }
    const top = topAt(face, spot.u);
    if (spot.z >= -SLACK && spot.z <= top + SLACK) return [];
    return draft(
      `The ${pointName(point)} is ${spot.z < 0 ? `${mm(-spot.z)} below the floor` : `${mm(spot.z - top)} above the top of the wall`}, on ${faceName(ctx, spot.storey, face.id)}.`,
      'Set its height again.',
    );
  },
};

/** How far a plate reaches into an opening to count, mm: plates set hard against a frame touch it. */
const TOUCH = 0.5;

function reach(point: Point, spot: Spot, o: Face['openings'][number]): number {
  const plate = plateOf(point) ?? { width: 0, height: 0 };
  const inU = Math.min(spot.u + plate.width / 2 - o.u0, o.u1 - spot.u + plate.width / 2);
  const inZ = Math.min(spot.z + plate.height / 2 - o.z0, o.z1 - spot.z + plate.height / 2);
  return Math.min(inU, inZ);
}

export const pointInOpening: Rule<'point'> = {
  id: 'point-in-opening',
  title: 'Point in a door, window or opening',
  looksAt: 'point',
  severity: 'error',
  stage: 'points',
  source: COMMON_PRACTICE,
  find: (ctx, point) => {
    const spot = ctx.spots.get(point.id);
    const face = faceOf(ctx, spot);
    if (spot === undefined || face === undefined) return [];
    return face.openings.flatMap((o) => {
      const by = reach(point, spot, o);
      if (by <= TOUCH) return [];
      return [
        {
          about: `${point.id}:${o.id}`,
          point: point.id,
          at: placeOfPoint(ctx, point),
          message: `The ${pointName(point)} reaches ${mm(by)} into a ${o.kind}, on ${faceName(ctx, spot.storey, face.id)}.`,
          fix: `Move it at least ${mm(by)} clear of the ${o.kind} and its frame.`,
        },
      ];
    });
  },
};

import { POINT_KINDS } from '../../model/pointKinds.ts';
import type { Point, PointKind, RoomTag } from '../../model/document.ts';
import { COMMON_PRACTICE, type CheckContext, type Rule } from '../rule.ts';
import { mm, placeOfPoint, pointName } from '../words.ts';
import { agreed, remembered } from '../../model/evidence.ts';

/** A joint that will be out of sight cannot be inspected. */
export const jointHidden: Rule<'point'> = {
  id: 'joint-hidden',
  title: 'Joint that cannot be reached',
  looksAt: 'point',
  severity: 'warning',
  stage: 'points',
  source: (rules) => remembered(`${rules.name} 526.3`),
  find: (ctx, point) =>
    point.kind !== 'joint' || point.visible
      ? []
      : [
          {
            about: point.id,
            point: point.id,
            at: placeOfPoint(ctx, point),
            message: `The ${pointName(point)} will be out of sight after fit-out: a joint must stay open to inspection, but for maintenance-free ones.`,
            fix: 'Run the cable in one length past it, move the joint where it can be reached, or use a maintenance-free joint and record it with a photograph.',
          },
        ],
};

export const boxMissing: Rule<'point'> = {
  id: 'box-missing',
  title: 'No back box chosen',
  looksAt: 'point',
  severity: 'warning',
  stage: 'points',
  source: COMMON_PRACTICE,
  find: (ctx, point) =>
    !POINT_KINDS[point.kind].boxed || point.box !== null
      ? []
      : [
          {
            about: point.id,
            point: point.id,
            at: placeOfPoint(ctx, point),
            message: `The ${pointName(point)} has no back box, so none is counted and its tails are guessed.`,
            fix: 'Choose a box and its depth.',
          },
        ],
};

const REACHED: ReadonlySet<PointKind> = new Set([
  'socket',
  'switch-1way',
  'switch-2way',
  'switch-intermediate',
  'data',
]);
const NOT_HABITABLE: ReadonlySet<RoomTag['use']> = new Set([
  'bathroom',
  'circulation',
  'utility',
  'workshop',
]);

/** Approved Document M volume 1, paragraph 1.18: mm above the floor, of new dwellings. */
export const HEIGHT_BAND = { low: 450, high: 1200, boardLow: 1350, boardHigh: 1450 } as const;

function bandFor(ctx: CheckContext, point: Point): { low: number; high: number } | null {
  if (point.kind === 'consumer-unit') return { low: HEIGHT_BAND.boardLow, high: HEIGHT_BAND.boardHigh };
  if (!REACHED.has(point.kind)) return null;
  const spot = ctx.spots.get(point.id);
  const fabric = spot && ctx.fabrics.get(spot.storey);
  const room = fabric?.faces.get(spot?.face ?? '')?.room;
  const use = room ? fabric?.rooms.get(room)?.tag?.use : undefined;
  return use !== undefined && NOT_HABITABLE.has(use)
    ? null
    : { low: HEIGHT_BAND.low, high: HEIGHT_BAND.high };
}

export const heightNewDwelling: Rule<'point'> = {
  id: 'height-new-dwelling',
  title: 'Height in a new dwelling',
  looksAt: 'point',
  severity: 'warning',
  stage: 'points',
  source: () =>
    agreed('Approved Document M volume 1, paragraph 1.18 (England; habitable rooms of new dwellings)'),
  find: (ctx, point) => {
    // The guidance of other nations is not held here: `guidance-not-held` says so.
    const { newDwelling, nation } = ctx.doc.job;
    if (!newDwelling || nation !== 'england' || point.place.on !== 'face') return [];
    const band = bandFor(ctx, point);
    const { z } = point.place;
    if (band === null || (z >= band.low - 1e-6 && z <= band.high + 1e-6)) return [];
    const by = z < band.low ? band.low - z : z - band.high;
    return [
      {
        about: point.id,
        point: point.id,
        at: placeOfPoint(ctx, point),
        message: `The ${pointName(point)} is ${mm(z)} above the floor, ${mm(by)} ${z < band.low ? 'below' : 'above'} the band of ${band.low} to ${band.high} mm for new dwellings.`,
        fix: `Set its centre between ${band.low} and ${band.high} mm, or accept it with the reason (the guidance has exceptions, such as over worktops).`,
      },
    ];
  },
};

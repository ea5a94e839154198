import { POINT_KINDS } from '../../model/pointKinds.ts';
import type { Point } from '../../model/document.ts';
import { find } from '../../model/tables.ts';
import { COMMON_PRACTICE, type Rule } from '../rule.ts';
import { placeOfPoint, pointName } from '../words.ts';

/** The board feeds circuits and a blank plate uses none; data points are on no mains circuit. */
const needsCircuit = (p: Point): boolean =>
  POINT_KINDS[p.kind].mains && p.kind !== 'consumer-unit' && p.kind !== 'blank-plate';

export const pointUnassigned: Rule<'point'> = {
  id: 'point-unassigned',
  title: 'Point on no circuit',
  looksAt: 'point',
  severity: 'warning',
  stage: 'circuits',
  source: COMMON_PRACTICE,
  find: (ctx, point) =>
    !needsCircuit(point) || find(ctx.doc, 'circuits', point.circuit) !== undefined
      ? []
      : [
          {
            about: point.id,
            point: point.id,
            at: placeOfPoint(ctx, point),
            message: `The ${pointName(point)} is on no circuit.`,
            fix: 'Pick a circuit and click the point.',
          },
        ],
};

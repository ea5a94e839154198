import type { Run } from '../../model/document.ts';
import { COMMON_PRACTICE, type Draft, type Rule } from '../rule.ts';
import { mm, placeOnLeg, whereIsLeg } from '../words.ts';

/** A stated depth at which the cable would stick out of a surface of its wall. */
export const depthDoesNotFit: Rule<'run'> = {
  id: 'depth-does-not-fit',
  title: 'A depth that does not fit the wall',
  looksAt: 'run',
  severity: 'error',
  stage: 'runs',
  source: COMMON_PRACTICE,
  find: (ctx, run: Run): Draft[] => {
    const check = ctx.checks.get(run.id);
    const index = check?.legs.findIndex((l) => !l.depthFits) ?? -1;
    const leg = check?.legs[index];
    if (run.depth === null || leg === undefined) return [];
    return [
      {
        about: run.id,
        run: run.id,
        leg: index,
        wall: leg.leg.wall,
        at: placeOnLeg(ctx, leg, 0.5),
        message: `${run.label} is said to lie ${mm(run.depth)} deep, but at that depth its cable does not fit in the wall, ${whereIsLeg(ctx, leg)}. The depth is passed over.`,
        fix: 'Measure the depth again, or clear it, to take the depth from the build-up of the wall.',
      },
    ];
  },
};

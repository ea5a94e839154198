import type { Run } from '../../model/document.ts';
import { find } from '../../model/tables.ts';
import { COMMON_PRACTICE, type CheckContext, type Draft, type Rule } from '../rule.ts';
import { straightName, verbOf, wallStraights } from '../straights.ts';
import { mm, placeOnLeg, whereIsLeg } from '../words.ts';

function drafts(ctx: CheckContext, run: Run): Draft[] {
  const check = ctx.checks.get(run.id);
  if (check === undefined) return [];
  return wallStraights(run, check).flatMap((straight): Draft[] => {
    const crossings = straight.legs.flatMap(({ index, check: leg }) =>
      leg.crossings.map((crossing) => ({ index, leg, crossing })),
    );
    const openings = [...new Set(crossings.map((c) => c.crossing.opening))];
    return openings.flatMap((id) => {
      const own = crossings.filter((c) => c.crossing.opening === id);
      const [first] = own;
      if (first === undefined) return [];
      const length = own.reduce((sum, c) => sum + (c.crossing.t1 - c.crossing.t0) * c.leg.leg.length, 0);
      const kind = find(ctx.doc, 'openings', id)?.kind ?? 'opening';
      const edges = own.flatMap((c) => c.crossing.edgeMm ?? []);
      const grazes = edges.length === own.length;
      const name = straightName(run, straight);
      const where = whereIsLeg(ctx, first.leg);
      const t = (first.crossing.t0 + first.crossing.t1) / 2;
      return [
        {
          about: `${straight.about}:${id}`,
          run: run.id,
          leg: first.index,
          wall: first.leg.leg.wall,
          at: placeOnLeg(ctx, first.leg, t),
          ...(grazes ? { severity: 'disputed' as const } : {}),
          message: grazes
            ? `${name} ${verbOf(straight, 'passes', 'pass')} so near to a ${kind} that an edge of the cable is ${mm(Math.max(...edges))} in it for ${mm(length)}, ${where}.`
            : `${name} ${verbOf(straight, 'crosses', 'cross')} a ${kind} for ${mm(length)}, ${where}: there is no wall to hold it.`,
          fix: `Take it over the ${kind}, above the ceiling, or round it in permitted zones.`,
        },
      ];
    });
  });
}

export const openingCrossed: Rule<'run'> = {
  id: 'opening-crossed',
  title: 'Through a door, window or opening',
  looksAt: 'run',
  severity: 'error',
  stage: 'runs',
  source: COMMON_PRACTICE,
  find: drafts,
};

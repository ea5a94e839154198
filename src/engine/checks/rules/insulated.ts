import { inInsulation } from '../../electrical/insulation.ts';
import { sourceOf } from '../../electrical/tables/cited.ts';
import { SURROUNDED } from '../../electrical/tables/factors.ts';
import type { Rule } from '../rule.ts';
import { metres, placeOnLeg, plural, runName } from '../words.ts';

/** 523.9: told of every run that lies in insulation, whether or not its rating still suffices. */
export const insulated: Rule<'run'> = {
  id: 'in-insulation',
  title: 'Cable wholly surrounded by insulation',
  looksAt: 'run',
  severity: 'note',
  stage: 'runs',
  source: () => sourceOf(SURROUNDED),
  find: (ctx, run) => {
    const found = inInsulation(ctx, run);
    if (found === null) return [];
    const { at, totalMm, longestMm, pieces } = found;
    const leg = ctx.checks.get(run.id)?.legs[at.leg];
    const where = pieces === 1 ? '' : `, in ${plural(pieces, 'piece')}, the longest ${metres(longestMm)}`;
    return [
      {
        about: run.id,
        run: run.id,
        circuit: run.circuit,
        leg: at.leg,
        wall: leg?.leg.wall ?? null,
        at: leg === undefined ? null : placeOnLeg(ctx, leg, (at.t0 + at.t1) / 2),
        message: `${metres(totalMm)} of ${runName(run)} wholly surrounded by insulation${where}: ${at.it === null ? 'what it may carry there is not known' : `there it carries ${at.ci} of its ${at.it} A`}.`,
        fix: 'Keep it clear of the insulation where it can be; the rating of its circuit counts with this.',
      },
    ];
  },
};

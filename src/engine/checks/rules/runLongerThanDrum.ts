import { find } from '../../model/tables.ts';
import { cutWithAllowance } from '../../takeoff/totals.ts';
import { COMMON_PRACTICE, type Rule } from '../rule.ts';
import { metres, placeOfPoint } from '../words.ts';

/** A run is one uncut length: it cannot be longer than the longest length of its cable there is. */
export const runLongerThanDrum: Rule<'run'> = {
  id: 'run-longer-than-drum',
  title: 'Longer than the longest drum',
  looksAt: 'run',
  severity: 'warning',
  stage: 'take-off',
  source: COMMON_PRACTICE,
  find: (ctx, run) => {
    const cable = find(ctx.doc, 'cables', run.cable);
    const length = ctx.lengths.get(run.id);
    if (cable === undefined || length === undefined) return [];
    const offered = [...cable.drums.map((d) => d.length), ...cable.remnants];
    if (offered.length === 0) return [];
    const longest = 1000 * Math.max(...offered);
    const cut = cutWithAllowance(ctx.doc, length);
    if (cut <= longest) return [];
    const end = find(ctx.doc, 'points', run.from) ?? find(ctx.doc, 'points', run.to);
    return [
      {
        about: run.id,
        run: run.id,
        circuit: run.circuit,
        at: end ? placeOfPoint(ctx, end) : null,
        message: `${run.label} needs ${metres(cut)} of ${cable.name} in one length, tails and allowance taken in; the longest drum holds ${metres(longest)}.`,
        fix: `Shorten the way by ${metres(cut - longest)}, enter a longer drum for this cable, or bring in a point between.`,
      },
    ];
  },
};

import { sourceOf } from '../../electrical/tables/cited.ts';
import { TT_ELECTRODE } from '../../electrical/tables/limits.ts';
import type { Rule } from '../rule.ts';

/**
 * A TT supply whose electrode may not stay as it was measured. Where it is not given, Ze stands for it: the electrode is
 * most of it. Told once for a plan, on its first storey.
 */
export const ttElectrode: Rule<'storey'> = {
  id: 'tt-electrode-high',
  title: 'Earth electrode above what stays stable',
  looksAt: 'storey',
  severity: 'warning',
  stage: 'circuits',
  source: () => sourceOf(TT_ELECTRODE),
  find: (ctx, storey) => {
    const { earthing, electrode, ze } = ctx.doc.job.supply;
    if (earthing !== 'TT' || storey.id !== ctx.doc.storeys.order[0]) return [];
    const [ohms, what] =
      electrode === null ? [ze, 'Ze of the TT supply'] : [electrode, 'the earth electrode'];
    if (ohms <= TT_ELECTRODE.values) return [];
    return [
      {
        about: storey.id,
        message: `${what.charAt(0).toUpperCase()}${what.slice(1)} is ${ohms} Ω: above ${TT_ELECTRODE.values} Ω it may not be stable.`,
        fix: 'Have the electrician better the electrode (a further or deeper rod), and measure again.',
      },
    ];
  },
};

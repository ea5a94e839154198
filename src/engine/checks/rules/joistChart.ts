import type { Joists, Storey } from '../../model/document.ts';
import { once } from '../../model/evidence.ts';
import { rows } from '../../model/tables.ts';
import type { Mm } from '../../model/units.ts';
import type { Rule } from '../rule.ts';
import { list, metres } from '../words.ts';

const VOIDS = ['ceiling', 'floor'] as const;

/** Engineered joists of a void with no chart noted. */
const unnoted = (storey: Storey, where: (typeof VOIDS)[number]): Joists | null => {
  const { kind, joists } = storey[where];
  return kind === 'void' && joists?.member === 'engineered' && joists.chart === '' ? joists : null;
};

/** The storey has engineered joists whose chart nobody has noted, in its ceiling or its floor. */
const hasUnnoted = (storey: Storey): boolean => VOIDS.some((where) => unnoted(storey, where) !== null);

/** Less reach square to the joists than this crosses none, mm: rounding. */
const ALONG: Mm = 1;

/** Where cables cross engineered joists: told once a storey, until the maker's chart is noted with the joists. */
export const joistChart: Rule<'storey'> = {
  id: 'joist-chart',
  title: 'Cables across engineered joists',
  looksAt: 'storey',
  severity: 'warning',
  stage: 'runs',
  source: () => once('NBS and NHBC: metal-web joists by their gaps, I-joists by their preformed holes only'),
  find: (ctx, storey) => {
    if (!hasUnnoted(storey)) return [];
    let total: Mm = 0;
    const crossing = rows(ctx.doc.runs).filter((run) => {
      let own: Mm = 0;
      for (const { leg } of ctx.checks.get(run.id)?.legs ?? []) {
        if (leg.storey !== storey.id || (leg.kind !== 'ceiling' && leg.kind !== 'floor')) continue;
        const joists = unnoted(storey, leg.kind);
        if (joists === null) continue;
        const [dx, dy] = [leg.b.x - leg.a.x, leg.b.y - leg.a.y];
        own += Math.abs(dy * Math.cos(joists.direction) - dx * Math.sin(joists.direction));
      }
      total += own;
      return own > ALONG;
    });
    if (crossing.length === 0) return [];
    return [
      {
        about: storey.id,
        at: { storey: storey.id, plan: null, face: null, on: null },
        message: `${list(crossing.map((run) => run.label))} cross engineered joists of ${storey.name}, ${metres(total)} square to them in all. No hole is counted: where they may pass is for the maker’s chart.`,
        fix: 'Take them along the joists, or look the maker’s chart up and note it in the joists of this storey.',
      },
    ];
  },
};

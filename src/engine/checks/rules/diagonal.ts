import { offLevel } from '../../zones/checkLeg.ts';
import type { Run } from '../../model/document.ts';
import type { CheckContext, Draft, Rule } from '../rule.ts';
import { straightName, verbOf, wallStraights } from '../straights.ts';
import { metres, placeOnLeg, whereIsLeg } from '../words.ts';
import { once } from '../../model/evidence.ts';

function drafts(ctx: CheckContext, run: Run): Draft[] {
  const check = ctx.checks.get(run.id);
  if (check === undefined) return [];
  return wallStraights(run, check).flatMap((straight): Draft[] => {
    const { fa, fb } = straight;
    const off = offLevel(fa, fb);
    const first = straight.legs[0];
    if (off === 0 || first === undefined) return [];
    const [du, dz] = [Math.abs(fb.u - fa.u), Math.abs(fb.z - fa.z)];
    const saved = du + dz - Math.hypot(du, dz);
    const degrees = Math.round((off * 1800) / Math.PI) / 10;
    return [
      {
        about: straight.about,
        run: run.id,
        leg: first.index,
        wall: first.check.leg.wall,
        at: placeOnLeg(ctx, first.check, 0.5),
        message: `${straightName(run, straight)} ${verbOf(straight, 'is', 'are')} neither level nor plumb, ${degrees}° off, ${whereIsLeg(ctx, first.check)}. It saves ${metres(saved)} of cable against a level and a plumb leg, and nobody would look for it there.`,
        fix: `Lay it as one level leg of ${metres(du)} and one plumb leg of ${metres(dz)}.`,
      },
    ];
  });
}

export const diagonal: Rule<'run'> = {
  id: 'diagonal',
  title: 'Neither level nor plumb',
  looksAt: 'run',
  severity: 'error',
  stage: 'runs',
  source: (rules) =>
    once(`${rules.name} ${rules.zoneClause}: zones run level and plumb; within 1 mm or 0.2° counts as level`),
  find: drafts,
};

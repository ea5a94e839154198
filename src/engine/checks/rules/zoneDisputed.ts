import type { Run } from '../../model/document.ts';
import type { CheckContext, Draft, Rule } from '../rule.ts';
import { straightName, verbOf, wallStraights } from '../straights.ts';
import { metres, placeOnLeg, whereIsLeg } from '../words.ts';
import { once } from '../../model/evidence.ts';

function drafts(ctx: CheckContext, run: Run): Draft[] {
  const check = ctx.checks.get(run.id);
  if (check === undefined) return [];
  const found: Draft[] = [];
  for (const straight of wallStraights(run, check)) {
    const all = straight.legs.flatMap(({ index, check: leg }) =>
      leg.stretches.map((stretch) => ({ index, leg, stretch })),
    );
    // A leg that leaves the zones altogether is told as that.
    if (all.some((s) => s.stretch.answer === 'outside')) continue;
    const disputed = all.filter((s) => s.stretch.answer === 'disputed');
    const first = disputed[0];
    if (first === undefined) continue;
    const total = disputed.reduce((sum, s) => sum + s.stretch.length, 0);
    const why = [...new Set(disputed.map((s) => s.stretch.why))].join(' ');
    found.push({
      about: straight.about,
      run: run.id,
      leg: first.index,
      wall: first.leg.leg.wall,
      at: placeOnLeg(ctx, first.leg, (first.stretch.t0 + first.stretch.t1) / 2),
      message: `${straightName(run, straight)} ${verbOf(straight, 'lies', 'lie')} in a disputed zone for ${metres(total)}, ${whereIsLeg(ctx, first.leg)}. ${why}`,
      fix: 'Ask your certifier before laying it, or move it into a permitted zone.',
    });
  }
  check.legs.forEach((leg, index) => {
    if (leg.leg.kind !== 'through' || leg.answer !== 'disputed') return;
    found.push({
      about: `${run.id}:${leg.leg.stretch}:through`,
      run: run.id,
      leg: index,
      wall: leg.leg.wall,
      at: placeOnLeg(ctx, leg, 0),
      message: `Leg ${index + 1} of ${run.label} goes through the wall where a zone is disputed. ${leg.stretches[0]?.why ?? ''}`,
      fix: 'Ask your certifier before laying it, or go through in a permitted zone of both faces.',
    });
  });
  return found;
}

export const zoneDisputed: Rule<'run'> = {
  id: 'zone-disputed',
  title: 'In a disputed zone',
  looksAt: 'run',
  severity: 'disputed',
  stage: 'runs',
  source: (rules) => once(`${rules.name} ${rules.zoneClause}; practitioners disagree`),
  find: drafts,
};

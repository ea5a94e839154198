import { bendRadius, BENDS } from '../../electrical/tables/circuits.ts';
import { sourceOf } from '../../electrical/tables/cited.ts';
import { find } from '../../model/tables.ts';
import type { Mm, SpacePoint } from '../../model/units.ts';
import type { Rule } from '../rule.ts';
import { turnsOf } from '../straights.ts';
import { mm, placeOnLeg } from '../words.ts';

const turnsBack = (a: SpacePoint, b: SpacePoint): boolean => a.x * b.x + a.y * b.y + a.z * b.z < -0.5;

/**
 * A run that turns back on itself within less than two of the cable's least radii. A jog to the side is no such thing:
 * the cable sweeps across it.
 */
export const bendTight: Rule<'run'> = {
  id: 'bend-tight',
  title: 'Turns back too sharply',
  looksAt: 'run',
  severity: 'note',
  stage: 'runs',
  source: () => sourceOf(BENDS),
  find: (ctx, run) => {
    const check = ctx.checks.get(run.id);
    const cable = find(ctx.doc, 'cables', run.cable);
    if (check === undefined || cable === undefined) return [];
    const radius = bendRadius(cable.width);
    const straights = turnsOf(check);
    const needs = (turn: number): Mm => radius * Math.tan(Math.min(turn, Math.PI * 0.9) / 2);
    const at = straights.findIndex((s, i) => {
      const [before, next] = [straights[i - 1], straights[i + 1]];
      if (before === undefined || next === undefined || !turnsBack(before.dir, next.dir)) return false;
      return s.length < needs(s.turn) + needs(next.turn) - 1e-6;
    });
    const tight = straights[at];
    const leg = tight === undefined ? undefined : check.legs[tight.index];
    if (tight === undefined || leg === undefined) return [];
    return [
      {
        about: run.id,
        run: run.id,
        leg: tight.index,
        wall: leg.leg.wall,
        at: placeOnLeg(ctx, leg, 0.5),
        message: `${run.label} turns back within ${mm(tight.length)}; its cable needs an inside radius of ${mm(radius)} at each bend.`,
        fix: 'Draw the two ways further apart.',
      },
    ];
  },
};

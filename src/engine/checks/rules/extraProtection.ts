import type { Run } from '../../model/document.ts';
import { find } from '../../model/tables.ts';
import { extraProtectionNeeded } from '../../zones/editions.ts';
import { factsOf, STEEL_DISPUTED } from '../../zones/surfaces.ts';
import type { LegCheck } from '../../zones/types.ts';
import type { CheckContext, Draft, Rule } from '../rule.ts';
import { list, metres, mm, placeOnLeg, whereIsLeg } from '../words.ts';

interface Bare {
  readonly index: number;
  readonly leg: LegCheck;
}

const inWall = ({ leg }: LegCheck): boolean => leg.kind === 'face' || leg.kind === 'through';

/** Legs in walls of a run that has neither a 30 mA RCD nor 522.6.204 protection; none when it has one of them. */
function bareLegs(ctx: CheckContext, run: Run, which: (leg: LegCheck) => boolean): Bare[] {
  const check = ctx.checks.get(run.id);
  const circuit = find(ctx.doc, 'circuits', run.circuit);
  // A run without a circuit is told as that: what protects it is not known yet.
  if (check === undefined || circuit === undefined) return [];
  const { p204, rcd30 } = factsOf(ctx.doc, run);
  if (p204 || rcd30) return [];
  return check.legs.flatMap((leg, index) => (inWall(leg) && which(leg) ? [{ index, leg }] : []));
}

function one(ctx: CheckContext, run: Run, bare: readonly Bare[], why: string, fix: string): Draft[] {
  const [first] = bare;
  if (first === undefined) return [];
  const total = bare.reduce((sum, b) => sum + b.leg.leg.length, 0);
  const walls = [...new Set(bare.map((b) => whereIsLeg(ctx, b.leg)))];
  const { p204Disputed } = factsOf(ctx.doc, run);
  return [
    {
      about: run.id,
      ...(p204Disputed ? { severity: 'disputed' as const } : {}),
      run: run.id,
      leg: first.index,
      circuit: run.circuit,
      wall: first.leg.leg.wall,
      at: placeOnLeg(ctx, first.leg, 0.5),
      message: `${run.label} ${why} for ${metres(total)}, ${list(walls)}, and its circuit has no 30 mA RCD.${p204Disputed ? ` ${STEEL_DISPUTED}` : ''}`,
      fix,
    },
  ];
}

function shallowest(bare: readonly Bare[]): number {
  return Math.min(...bare.map(({ leg }) => Math.min(leg.coverNear ?? Infinity, leg.coverFar ?? Infinity)));
}

/** The rule of the edition, with the nearer of the two surfaces. */
function needs(ctx: CheckContext, { coverNear, coverFar, metal }: LegCheck): boolean {
  const shallow = Math.min(coverNear ?? Infinity, coverFar ?? Infinity) < ctx.rules.shallow;
  return extraProtectionNeeded({ metal, shallow });
}

const FIX =
  'Give the circuit a 30 mA RCD, or protect the cable as 522.6.204 says (earthed armour, conduit or trunking; thin capping does not count).';

/** Less than 50 mm deep, in its zone, without an RCD: 522.6.202 asks for the zone and the RCD. */
export const coverNeedsRcd: Rule<'run'> = {
  id: 'cover-needs-rcd',
  title: 'Less than 50 mm deep without an RCD',
  looksAt: 'run',
  severity: 'error',
  stage: 'runs',
  source: (rules) => ({ text: `${rules.name} ${rules.zoneClause}, 415.1.1`, rank: rules.zoneRank }),
  find: (ctx, run) => {
    const bare = bareLegs(ctx, run, (leg) => !leg.metal && leg.answer !== 'outside' && needs(ctx, leg));
    const cover = mm(shallowest(bare));
    return one(ctx, run, bare, `may lie as near as ${cover} to a wall surface`, FIX);
  },
};

/** In a metal-framed wall at any depth without an RCD or protection. */
export const metalFrame: Rule<'run'> = {
  id: 'metal-frame',
  title: 'In a metal-framed wall without an RCD',
  looksAt: 'run',
  severity: 'error',
  stage: 'runs',
  source: (rules) => ({ text: `${rules.name} ${rules.metalClause}, 415.1.1`, rank: rules.metalRank }),
  find: (ctx, run) =>
    one(
      ctx,
      run,
      bareLegs(ctx, run, (leg) => leg.metal && needs(ctx, leg)),
      'lies in a metal-framed wall, at whatever depth,',
      `${FIX}${ctx.rules.protectionFreesMetal ? '' : ' Less than 50 mm deep it must be in a permitted zone as well.'}`,
    ),
};

import { runPath } from '../fabric/path.ts';
import type { Leg, ResolvedRun } from '../fabric/types.ts';
import type { Run } from '../model/document.ts';
import { find } from '../model/tables.ts';
import type { Mm } from '../model/units.ts';
import { checkFaceLeg, worstAnswer } from './checkLeg.ts';
import { holds, ROUNDING } from './convex.ts';
import { spotOf, type Spot } from './spots.ts';
import { factsOf, nearAreas, type RunFacts, type ZoneContext } from './surfaces.ts';
import type { LegCheck, RunCheck, Stretch } from './types.ts';
import { nearestOf } from './worstSpot.ts';

const UNCHECKED: Readonly<Record<Exclude<Leg['kind'], 'face' | 'through' | 'over' | 'corner'>, string>> = {
  ceiling: 'Above a ceiling there are no permitted zones: the joist rule governs (522.6.201).',
  floor: 'Under a floor there are no permitted zones: the joist rule governs (522.6.201).',
  riser: 'Between a wall and a void: no permitted zones there.',
  loose: 'This stretch follows no wall, ceiling or floor, so nothing is known about it.',
};

function bare(
  leg: Leg,
  stretch: Pick<Stretch, 'answer' | 'surface' | 'outsideMm' | 'nearest' | 'why'>,
): LegCheck {
  return {
    leg,
    stretches: [{ t0: 0, t1: 1, length: leg.length, ...stretch }],
    crossings: [],
    offLevel: 0,
    coverNear: null,
    coverFar: null,
    depthFits: true,
    metal: false,
    answer: stretch.answer,
  };
}

const untouched = (answer: Stretch['answer'], why: string) =>
  ({ answer, surface: null, outsideMm: 0, nearest: null, why }) as const;

/** A spot of a surface that a cable comes through. */
function spotVerdict(ctx: ZoneContext, spot: Spot, facts: RunFacts): Omit<Stretch, 't0' | 't1' | 'length'> {
  const face = ctx.fabrics.get(spot.storey)?.faces.get(spot.face);
  if (face === undefined) return untouched('not-checked', 'There is no wall here.');
  const holding = nearAreas(ctx, face, facts, null).filter((a) => holds(a, spot, ROUNDING));
  const permitted = holding.find((a) => a.status === 'permitted');
  if (permitted !== undefined) return untouched('inside', permitted.why);
  if (holding[0] !== undefined) return untouched('disputed', holding[0].why);
  const legal = nearAreas(ctx, face, facts, null).filter((a) => a.status === 'permitted');
  const nearest = nearestOf(legal, spot);
  return {
    answer: 'outside',
    surface: null,
    outsideMm: nearest?.distance ?? 0,
    nearest: nearest?.at ?? null,
    why: 'The hole through the wall is outside the permitted zones of a face.',
  };
}

function checkThrough(ctx: ZoneContext, run: Run, leg: Leg, alone: boolean, facts: RunFacts): LegCheck {
  const path = runPath(ctx.doc, run);
  const [a, b] = [path[leg.stretch], path[leg.stretch + 1]];
  const wall = find(ctx.doc, 'walls', leg.wall);
  const metal = wall !== undefined && find(ctx.doc, 'buildUps', wall.buildUp)?.frame === 'metal';
  // A stretch that is nothing but this leg goes from one surface of the wall to the other.
  const across = alone && a?.on === 'face' && b?.on === 'face';
  if (!across) {
    return {
      ...bare(leg, untouched('inside', 'Goes through a partition at its angle, square to it.')),
      metal,
    };
  }
  const [near, far] = [spotOf(ctx.doc, ctx.fabrics, a), spotOf(ctx.doc, ctx.fabrics, b)];
  if (near === null || far === null) return bare(leg, untouched('not-checked', 'There is no wall here.'));
  const verdicts = [
    { ...spotVerdict(ctx, near, facts), surface: 'near' as const },
    { ...spotVerdict(ctx, far, facts), surface: 'far' as const },
  ];
  const answer = worstAnswer(verdicts.map((v) => v.answer)) ?? 'not-checked';
  const worst = verdicts
    .filter((v) => v.answer === answer)
    .reduce((x, y) => (y.outsideMm > x.outsideMm ? y : x));
  return { ...bare(leg, { ...worst, surface: answer === 'inside' ? null : worst.surface }), metal };
}

function checkLeg(ctx: ZoneContext, run: Run, leg: Leg, alone: boolean, facts: RunFacts): LegCheck {
  if (leg.kind === 'face' && leg.face !== null && leg.fa !== null && leg.fb !== null) {
    const fabric = ctx.fabrics.get(leg.storey);
    const face = fabric?.faces.get(leg.face);
    if (fabric !== undefined && face !== undefined) {
      return checkFaceLeg(ctx, fabric, face, { ...leg, fa: leg.fa, fb: leg.fb }, facts);
    }
  }
  if (leg.kind === 'through') return checkThrough(ctx, run, leg, alone, facts);
  // Settled by the stretches on both sides of it: see `settleOver`.
  if (leg.kind === 'over') return bare(leg, untouched('not-checked', 'Passes above a lower partition.'));
  if (leg.kind === 'corner') return bare(leg, untouched('inside', 'Turns at the angle between two walls.'));
  return bare(leg, untouched('not-checked', UNCHECKED[leg.kind === 'face' ? 'loose' : leg.kind]));
}

/** Above a lower partition the surface goes on: the leg is as good as the worse of the stretches it joins. */
function settleOver(checks: readonly LegCheck[]): LegCheck[] {
  return checks.map((check, i) => {
    if (check.leg.kind !== 'over') return check;
    const [before, after] = [checks[i - 1], checks[i + 1]];
    const beside = [before?.stretches.at(-1), after?.stretches[0]].flatMap((s) => s ?? []);
    const answer =
      beside.length < 2 ? 'not-checked' : (worstAnswer(beside.map((s) => s.answer)) ?? 'not-checked');
    const worst = beside.find((s) => s.answer === answer);
    const said = worst ?? untouched(answer, 'Passes above a lower partition.');
    const { surface, outsideMm, nearest, why } = said;
    return {
      ...bare(check.leg, { answer, surface, outsideMm, nearest, why }),
      coverNear: least(before?.coverNear, after?.coverNear),
      coverFar: least(before?.coverFar, after?.coverFar),
      metal: (before?.metal ?? false) || (after?.metal ?? false),
    };
  });
}

const least = (a: Mm | null | undefined, b: Mm | null | undefined): Mm | null => {
  const known = [a, b].flatMap((cover) => cover ?? []);
  return known.length === 0 ? null : Math.min(...known);
};

/** Legs that lie in walls, or might: what a run's answer is made of. */
const inWall = ({ leg }: LegCheck): boolean =>
  leg.kind === 'face' || leg.kind === 'through' || leg.kind === 'over' || leg.kind === 'loose';

/**
 * A run held against the permitted zones of every face it lies on and of those behind it, leg by leg. Voids are
 * `not-checked` and never a pass; a run with no leg in a wall is `not-checked` as a whole.
 * Source: BS 7671 522.6.202-204 by the plan's edition.
 */
export function checkRun(ctx: ZoneContext, run: Run, resolved: ResolvedRun): RunCheck {
  const facts = factsOf(ctx.doc, run);
  const alone = (i: number): boolean =>
    resolved.legs[i - 1]?.stretch !== resolved.legs[i]?.stretch &&
    resolved.legs[i + 1]?.stretch !== resolved.legs[i]?.stretch;
  const legs = settleOver(resolved.legs.map((leg, i) => checkLeg(ctx, run, leg, alone(i), facts)));
  return {
    run: run.id,
    legs,
    answer: worstAnswer(legs.filter(inWall).map((l) => l.answer)) ?? 'not-checked',
    missing: resolved.missing,
  };
}

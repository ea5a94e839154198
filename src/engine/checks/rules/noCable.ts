import { insideOutline } from '../../geometry/outline.ts';
import { uOfAlong } from '../../fabric/lookup.ts';
import type { Run, Thing } from '../../model/document.ts';
import { rows } from '../../model/tables.ts';
import { clipSegment, rectangle, ROUNDING } from '../../zones/convex.ts';
import type { LegCheck } from '../../zones/types.ts';
import { COMMON_PRACTICE, type CheckContext, type Draft, type Rule } from '../rule.ts';
import { mm, placeOnLeg, thingKindName, whereIsLeg } from '../words.ts';

/** Things that will be drilled or screwed to the wall, that were drawn to be kept clear, and beams, as the router has it. */
export const KEPT_CLEAR: ReadonlySet<Thing['kind']> = new Set(['no-cable', 'bracket', 'radiator', 'beam']);

interface Part {
  readonly t0: number;
  readonly t1: number;
}

/** What of a leg on a wall lies within the rectangle of a thing on the same face. */
function onWall(ctx: CheckContext, leg: LegCheck, thing: Thing): Part[] {
  const { place } = thing;
  const { face: id, fa, fb, storey } = leg.leg;
  const face = id === null ? undefined : ctx.fabrics.get(storey)?.faces.get(id);
  if (place.on !== 'face' || face === undefined || fa === null || fb === null) return [];
  const u0 = uOfAlong(face, place.wall, place.side, place.along0);
  const u1 = uOfAlong(face, place.wall, place.side, place.along1);
  if (u0 === null || u1 === null) return [];
  const [z0, z1] = [Math.min(place.z0, place.z1), Math.max(place.z0, place.z1)];
  const box = rectangle(Math.min(u0, u1), Math.max(u0, u1), z0, z1);
  const part = clipSegment(fa, fb, box, -ROUNDING);
  return part === null ? [] : [part];
}

/** What of a leg in a void lies within the outline of a thing in the same void. */
function inVoid(leg: LegCheck, thing: Thing): Part[] {
  const { place } = thing;
  const { kind, a, b, storey } = leg.leg;
  if (place.on !== 'plan' || place.storey !== storey || place.where !== kind || place.outline.length < 3)
    return [];
  return insideOutline(a, b, place.outline, ROUNDING).map(({ lo, hi }) => ({ t0: lo, t1: hi }));
}

function drafts(ctx: CheckContext, run: Run): Draft[] {
  const things = rows(ctx.doc.things).filter((t) => KEPT_CLEAR.has(t.kind));
  const legs = ctx.checks.get(run.id)?.legs ?? [];
  return things.flatMap((thing): Draft[] => {
    const within = legs.flatMap((leg, index) =>
      [...onWall(ctx, leg, thing), ...inVoid(leg, thing)]
        .map((part) => ({ index, leg, part, length: (part.t1 - part.t0) * leg.leg.length }))
        .filter((w) => w.length > ROUNDING),
    );
    const [first] = within;
    if (first === undefined) return [];
    const name = thing.name === '' ? `a ${thingKindName(thing.kind)}` : `"${thing.name}"`;
    return [
      {
        about: `${run.id}:${thing.id}`,
        run: run.id,
        leg: first.index,
        wall: first.leg.leg.wall,
        at: placeOnLeg(ctx, first.leg, (first.part.t0 + first.part.t1) / 2),
        message: `${run.label} lies ${thing.kind === 'beam' ? 'in' : 'behind'} ${name} for ${mm(within.reduce((sum, w) => sum + w.length, 0))}, ${whereIsLeg(ctx, first.leg)}: ${thing.kind === 'beam' ? 'no cable is taken through a beam without its designer' : 'its fixings will go in there'}.`,
        fix: 'Take the run round it, or move the thing.',
      },
    ];
  });
}

export const runThroughNoCable: Rule<'run'> = {
  id: 'run-through-no-cable',
  title: 'Through a place to keep clear',
  looksAt: 'run',
  severity: 'warning',
  stage: 'runs',
  source: COMMON_PRACTICE,
  find: drafts,
};

import { legFromThing } from '../../electrical/apart.ts';
import { PIPES } from '../../electrical/tables/siting.ts';
import { sourceOf } from '../../electrical/tables/cited.ts';
import { legInThing } from '../../electrical/within.ts';
import type { Run, Thing } from '../../model/document.ts';
import { find, rows } from '../../model/tables.ts';
import type { Mm } from '../../model/units.ts';
import type { CheckContext, Draft, Rule } from '../rule.ts';
import { mm, placeOnLeg, thingKindName, whereIsLeg } from '../words.ts';
import { once } from '../../model/evidence.ts';

const name = (thing: Thing): string =>
  thing.name === '' ? `a ${thingKindName(thing.kind)}` : `"${thing.name}"`;

const levelOf = (ctx: CheckContext, storey: string): Mm => ctx.doc.storeys.byId[storey]?.level ?? 0;

/** Polystyrene draws the softener out of PVC: the cable grows stiff and sticky. */
export const polystyrene: Rule<'run'> = {
  id: 'polystyrene-contact',
  title: 'Cable touching polystyrene',
  looksAt: 'run',
  severity: 'warning',
  stage: 'runs',
  source: () => once('NHBC Standards 8.1.6 (PVC cable must not touch polystyrene)'),
  find: (ctx, run) =>
    rows(ctx.doc.things)
      .filter((t) => t.kind === 'polystyrene')
      .flatMap((thing): Draft[] => {
        const half = (find(ctx.doc, 'cables', run.cable)?.height ?? 0) / 2;
        const within = (ctx.checks.get(run.id)?.legs ?? []).flatMap((leg, index) =>
          legInThing(ctx.fabrics, leg.leg, thing, levelOf(ctx, leg.leg.storey), half).map((part) => ({
            leg,
            index,
            part,
            length: (part.hi - part.lo) * leg.leg.length,
          })),
        );
        const [first] = within;
        if (first === undefined) return [];
        const length = within.reduce((sum, w) => sum + w.length, 0);
        return [
          {
            about: `${run.id}:${thing.id}`,
            run: run.id,
            leg: first.index,
            wall: first.leg.leg.wall,
            at: placeOnLeg(ctx, first.leg, (first.part.lo + first.part.hi) / 2),
            message: `${run.label} lies in ${name(thing)} for ${mm(length)}, ${whereIsLeg(ctx, first.leg)}: PVC must not touch polystyrene.`,
            fix: 'Take it another way, or put it in conduit there.',
          },
        ];
      }),
};

/** How far a run keeps from each pipe, where they share a wall or a void. */
function tooNear(ctx: CheckContext, run: Run, thing: Thing): Draft[] {
  if (run.fixing === 'conduit') return [];
  const limit = thing.kind === 'gas-pipe' ? PIPES.values.gas : PIPES.values.hot;
  const half = (find(ctx.doc, 'cables', run.cable)?.width ?? 0) / 2;
  let best: { index: number; clear: Mm } | null = null;
  (ctx.checks.get(run.id)?.legs ?? []).forEach((leg, index) => {
    const apart = legFromThing(ctx.fabrics, leg.leg, thing, levelOf(ctx, leg.leg.storey));
    if (apart === null) return;
    const clear = Math.max(0, apart - half);
    if (best === null || clear < best.clear) best = { index, clear };
  });
  const near = best as { index: number; clear: Mm } | null;
  const leg = near === null ? undefined : ctx.checks.get(run.id)?.legs[near.index];
  if (near === null || leg === undefined || near.clear >= limit - 1e-6) return [];
  return [
    {
      about: `${run.id}:${thing.id}`,
      run: run.id,
      leg: near.index,
      wall: leg.leg.wall,
      at: placeOnLeg(ctx, leg, 0.5),
      message: `${run.label} is ${mm(near.clear)} clear of ${name(thing)}, ${whereIsLeg(ctx, leg)}; ${limit} mm is kept.`,
      fix: 'Take it further from the pipe, or put it in conduit.',
    },
  ];
}

export const nearPipe: Rule<'run'> = {
  id: 'near-pipe',
  title: 'Too near a hot or gas pipe',
  looksAt: 'run',
  severity: 'warning',
  stage: 'runs',
  source: () => sourceOf(PIPES),
  find: (ctx, run) =>
    rows(ctx.doc.things)
      .filter((t) => t.kind === 'hot-pipe' || t.kind === 'gas-pipe')
      .flatMap((thing) => tooNear(ctx, run, thing)),
};

import { besideStretch, offLine, squaresOfLeg } from '../../electrical/grouping.ts';
import { sourceOf } from '../../electrical/tables/cited.ts';
import { MAINS_FROM_DATA } from '../../electrical/tables/siting.ts';
import type { Id, Run } from '../../model/document.ts';
import { find } from '../../model/tables.ts';
import type { Mm } from '../../model/units.ts';
import type { LegCheck } from '../../zones/types.ts';
import type { CheckContext, Draft, Rule } from '../rule.ts';
import { metres, mm, placeOnLeg, whereIsLeg } from '../words.ts';

const ROUNDING: Mm = 1e-6;

/** In conduit or trunking of its own: a compartment. */
const apart = (run: Run): boolean =>
  run.fixing === 'conduit' || run.protection === 'earthed-conduit' || run.protection === 'earthed-trunking';

interface Part {
  readonly index: number;
  readonly leg: LegCheck;
  readonly t0: number;
  readonly t1: number;
  /** Between the surfaces of the two cables. */
  readonly clear: Mm;
}

/** Mains runs that share a square with the run. */
function neighbours(ctx: CheckContext, run: Run): Run[] {
  const ids = new Set<Id>();
  for (const { leg } of ctx.checks.get(run.id)?.legs ?? []) {
    for (const square of squaresOfLeg(leg)) for (const id of ctx.squareRuns.get(square) ?? []) ids.add(id);
  }
  return [...ids].sort().flatMap((id) => {
    const other = find(ctx.doc, 'runs', id);
    const cable = find(ctx.doc, 'cables', other?.cable ?? null);
    return other === undefined || cable === undefined || cable.use === 'data' || apart(other) ? [] : [other];
  });
}

/** Where the data run lies nearer to the mains run than is kept, leg by leg, each stretch once. */
function partsBeside(ctx: CheckContext, data: Run, mains: Run): Part[] {
  const half = [data, mains].reduce((sum, r) => sum + (find(ctx.doc, 'cables', r.cable)?.width ?? 0) / 2, 0);
  const others = ctx.checks.get(mains.id)?.legs ?? [];
  return (ctx.checks.get(data.id)?.legs ?? []).flatMap((leg, index) => {
    const parts = others.flatMap(({ leg: other }): Part[] => {
      const part = besideStretch(leg.leg, other, MAINS_FROM_DATA.values.apart + half - ROUNDING);
      if (part === null) return [];
      const off = Math.min(offLine(leg.leg, other.a), offLine(leg.leg, other.b));
      return [{ index, leg, ...part, clear: Math.max(0, off - half) }];
    });
    return merged(parts.sort((a, b) => a.t0 - b.t0));
  });
}

function merged(parts: readonly Part[]): Part[] {
  const found: Part[] = [];
  for (const part of parts) {
    const last = found.at(-1);
    if (last === undefined || part.t0 > last.t1) found.push(part);
    else
      found[found.length - 1] = {
        ...last,
        t1: Math.max(last.t1, part.t1),
        clear: Math.min(last.clear, part.clear),
      };
  }
  return found;
}

function besides(ctx: CheckContext, data: Run, mains: Run): Draft[] {
  const parts = partsBeside(ctx, data, mains);
  const length = parts.reduce((sum, { t0, t1, leg }) => sum + (t1 - t0) * leg.leg.length, 0);
  const [first] = parts;
  const { apart: least, together } = MAINS_FROM_DATA.values;
  if (first === undefined || length <= together + ROUNDING) return [];
  const clear = Math.min(...parts.map((part) => part.clear));
  return [
    {
      about: `${data.id}:${mains.id}`,
      run: data.id,
      leg: first.index,
      wall: first.leg.leg.wall,
      at: placeOnLeg(ctx, first.leg, (first.t0 + first.t1) / 2),
      message: `${data.label}, a data cable, lies beside ${mains.label} for ${metres(length)}, ${mm(clear)} clear, ${whereIsLeg(ctx, first.leg)}; ${least} mm is kept where they are together for more than ${metres(together)}.`,
      fix: `Take one of them ${mm(least - clear)} further off, or put one in conduit or a compartment of its own.`,
    },
  ];
}

/** Data cables close beside mains cables, where neither is in a compartment of its own. */
export const mainsBesideData: Rule<'run'> = {
  id: 'mains-beside-data',
  title: 'Mains beside data',
  looksAt: 'run',
  severity: 'warning',
  stage: 'runs',
  source: () => sourceOf(MAINS_FROM_DATA),
  find: (ctx, run) =>
    find(ctx.doc, 'cables', run.cable)?.use !== 'data' || apart(run)
      ? []
      : neighbours(ctx, run).flatMap((mains) => besides(ctx, run, mains)),
};

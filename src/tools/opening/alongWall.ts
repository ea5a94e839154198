import type { WallFrame } from '../../engine/fabric/wallFrame.ts';
import { rows } from '../../engine/model/tables.ts';
import type { Mm, PlanPoint } from '../../engine/model/units.ts';
import { shapesOf } from '../kit.ts';
import { roundStep } from '../snap.ts';
import type { ToolContext } from '../types.ts';

/** Near jamb: in the middle of the wall, or with its jamb against its neighbours by equal distances; else round. */
export function placeAlong(
  ctx: ToolContext,
  frame: WallFrame,
  along: Mm,
  width: Mm,
  reach: Mm,
  own: string | null = null,
): { readonly along: Mm; readonly why: string | null } {
  const most = Math.max(0, frame.length - width);
  const held = Math.max(0, Math.min(most, along));
  const offers: { along: Mm; why: string }[] = [{ along: most / 2, why: 'Middle of the wall' }];
  const others = rows(ctx.doc.openings)
    .filter((o) => o.wall === frame.id && o.id !== own)
    .sort((a, b) => a.along - b.along);
  const edges = [0, ...others.flatMap((o) => [o.along, o.along + o.width]), frame.length];
  for (let i = 0; i + 1 < edges.length; i += 2) {
    const middle = ((edges[i] as number) + (edges[i + 1] as number)) / 2 - width / 2;
    if (others.length > 0) offers.push({ along: middle, why: 'Middle between openings' });
  }
  const best = offers
    .filter((o) => Math.abs(o.along - held) <= reach)
    .sort((a, b) => Math.abs(a.along - held) - Math.abs(b.along - held))[0];
  if (best) return best;
  const step = roundStep(ctx.scale);
  return { along: Math.max(0, Math.min(most, Math.round(held / step) * step)), why: null };
}

/** The wall under or nearest to a place of the plan, and how far along its centre line. */
export function wallUnder(
  ctx: ToolContext,
  p: PlanPoint,
  tolerance: number,
): { readonly frame: WallFrame; readonly along: Mm } | null {
  let best: { frame: WallFrame; along: Mm; off: Mm } | null = null;
  for (const { frame } of shapesOf(ctx).walls) {
    const dx = p.x - frame.from.x;
    const dy = p.y - frame.from.y;
    const along = dx * frame.dir.x + dy * frame.dir.y;
    const past = Math.max(0, -along, along - frame.length);
    const off = Math.max(0, Math.abs(dx * frame.normal.x + dy * frame.normal.y) - frame.half) + past;
    if (off * ctx.scale > tolerance * 1.5) continue;
    if (best === null || off < best.off) best = { frame, along, off };
  }
  return best;
}

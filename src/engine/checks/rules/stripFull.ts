import { CLIP_ROOM } from '../../electrical/tables/siting.ts';
import { sourceOf } from '../../electrical/tables/cited.ts';
import type { FaceId } from '../../fabric/types.ts';
import { find } from '../../model/tables.ts';
import type { FacePoint, Mm } from '../../model/units.ts';
import { zoneNeeded } from '../../zones/editions.ts';
import { protects } from '../../zones/surfaces.ts';
import type { Zone } from '../../zones/types.ts';
import type { CheckContext, Draft, Rule } from '../rule.ts';
import { faceName, mm, placeOnFace } from '../words.ts';

const ROUNDING: Mm = 1e-6;
/** A stretch of strip shorter than this is no place to clip, mm. */
const LEAST: Mm = 1;

type Lie = 'plumb' | 'level';

/** A cable that lies straight up or straight along a face: where across, and from where to where. */
interface Laid {
  readonly across: Mm;
  readonly from: Mm;
  readonly to: Mm;
  readonly width: Mm;
}

/** A permitted zone as it lies to those cables. */
interface Strip {
  readonly a0: Mm;
  readonly a1: Mm;
  readonly from: Mm;
  readonly to: Mm;
  /** The point that makes it, or which edge of the wall. */
  readonly name: string;
}

/** Cables on a face that must keep to a zone and lie plumb, or level. */
function laidOn(ctx: CheckContext, face: FaceId, lie: Lie): Laid[] {
  return (ctx.faceRuns.get(face) ?? []).flatMap((id) => {
    const run = find(ctx.doc, 'runs', id);
    const cable = find(ctx.doc, 'cables', run?.cable ?? null);
    if (run === undefined || cable === undefined) return [];
    const p204 = protects(run, cable) === 'yes';
    return (ctx.checks.get(id)?.legs ?? []).flatMap(({ leg, coverNear, metal, offLevel }): Laid[] => {
      const { fa, fb } = leg;
      if (leg.face !== face || fa === null || fb === null || offLevel !== 0) return [];
      const plumb = Math.abs(fb.z - fa.z) > Math.abs(fb.u - fa.u);
      const shallow = coverNear === null || coverNear < ctx.rules.shallow;
      if (plumb !== (lie === 'plumb') || !zoneNeeded(ctx.rules, { shallow, metal, p204 })) return [];
      const [across, p, q] = plumb ? [(fa.u + fb.u) / 2, fa.z, fb.z] : [(fa.z + fb.z) / 2, fa.u, fb.u];
      return [{ across, from: Math.min(p, q), to: Math.max(p, q), width: cable.width }];
    });
  });
}

function stripsOn(zones: readonly Zone[], lie: Lie): Strip[] {
  return zones
    .filter((zone) => zone.status === 'permitted')
    .map(({ u0, u1, z0, z1, point, source }) => {
      const name = point ?? source;
      return lie === 'plumb'
        ? { a0: u0, a1: u1, from: z0, to: z1, name }
        : { a0: z0, a1: z1, from: u0, to: u1, name };
    });
}

/** Strips that touch or overlap at one height are one, across. */
function joined(strips: readonly Strip[]): Strip[] {
  const found: Strip[] = [];
  for (const strip of strips.toSorted((a, b) => a.a0 - b.a0)) {
    const last = found.at(-1);
    if (last === undefined || strip.a0 > last.a1 + ROUNDING) found.push(strip);
    else found[found.length - 1] = { ...last, a1: Math.max(last.a1, strip.a1) };
  }
  return found;
}

/** What cables take side by side, with a clip between each and the next, mm. */
export const sideBySide = (widths: readonly Mm[]): Mm =>
  widths.reduce((sum, w) => sum + w, 0) + Math.max(0, widths.length - 1) * CLIP_ROOM.values;

/** How many of them fit, the widest first. */
export function howManyFit(widths: readonly Mm[], room: Mm): number {
  const sorted = widths.toSorted((a, b) => b - a);
  return sorted.filter((_, i) => sideBySide(sorted.slice(0, i + 1)) <= room + ROUNDING).length;
}

interface Full {
  readonly strip: Strip;
  readonly widths: readonly Mm[];
  readonly at: FacePoint;
}

/** Strips with more cables side by side than they hold: each once, where the most lie in it. */
function fullStrips(laid: readonly Laid[], strips: readonly Strip[], lie: Lie): Full[] {
  const worst = new Map<string, Full>();
  const cuts = [...laid, ...strips].flatMap(({ from, to }) => [from, to]).sort((a, b) => a - b);
  cuts.forEach((low, i) => {
    const high = cuts[i + 1] ?? low;
    if (high - low < LEAST) return;
    const middle = (low + high) / 2;
    const there = (x: { from: Mm; to: Mm }): boolean => x.from < middle && middle < x.to;
    const now = laid.filter(there);
    for (const strip of joined(strips.filter(there))) {
      const widths = now
        .filter(({ across }) => across >= strip.a0 - ROUNDING && across <= strip.a1 + ROUNDING)
        .map(({ width }) => width);
      if (sideBySide(widths) <= strip.a1 - strip.a0 + ROUNDING) continue;
      const across = (strip.a0 + strip.a1) / 2;
      const at = lie === 'plumb' ? { u: across, z: middle } : { u: middle, z: across };
      const before = worst.get(strip.name);
      if (before === undefined || sideBySide(before.widths) < sideBySide(widths))
        worst.set(strip.name, { strip, widths, at });
    }
  });
  return [...worst.values()];
}

/** More cables in a permitted strip than lie in it side by side. Those that need no zone are not counted. */
export const stripFull: Rule<'face'> = {
  id: 'strip-full',
  title: 'More cables than a strip holds',
  looksAt: 'face',
  severity: 'warning',
  stage: 'runs',
  source: () => sourceOf(CLIP_ROOM),
  find: (ctx, { storey, face }) =>
    (['plumb', 'level'] as const).flatMap((lie): Draft[] => {
      const laid = laidOn(ctx, face, lie);
      if (laid.length < 2) return [];
      return fullStrips(laid, stripsOn(ctx.zones.get(face) ?? [], lie), lie).map(({ strip, widths, at }) => {
        const room = strip.a1 - strip.a0;
        const fit = howManyFit(widths, room);
        return {
          about: `${face}:${lie}:${strip.name}`,
          wall: face.split('.')[0] ?? null,
          at: placeOnFace(ctx, storey, face, at),
          message: `${widths.length} cables lie side by side in ${mm(room)} of permitted zone, ${lie}, on ${faceName(ctx, storey, face)}: with ${CLIP_ROOM.values} mm between them for clips they take ${mm(sideBySide(widths))}. ${fit} fit.`,
          fix: `Leave ${fit} there and take the rest another way: the strip of another point, or the band along the top or a corner.`,
        };
      });
    }),
};

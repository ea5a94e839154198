import type { Mm } from '../model/units.ts';
import type { RunLength, Straight } from './types.ts';
import { once } from '../model/evidence.ts';

/** Clip spacing by the cable's major axis, mm. The last row ends at 40 mm; wider cables are the maker's business. */
export interface ClipSpacing {
  readonly upTo: Mm;
  readonly horizontal: Mm;
  readonly vertical: Mm;
}

/** OSG Table D1, non-armoured PVC/rubber/XLPE cables. */
export const CLIP_SPACINGS: readonly ClipSpacing[] = [
  { upTo: 9, horizontal: 250, vertical: 400 },
  { upTo: 15, horizontal: 300, vertical: 400 },
  { upTo: 20, horizontal: 350, vertical: 450 },
  { upTo: 40, horizontal: 400, vertical: 550 },
];
export const CLIPS_SOURCE = once('IET On-Site Guide Table D1 (flat cable: the major axis counts)');

/** Rounding noise of added lengths that must not cost a clip, mm. */
const NOISE: Mm = 1e-6;

/** The row for a cable of this major axis, mm; null above 40 mm, where the table ends. */
export function clipSpacing(width: Mm): ClipSpacing | null {
  return CLIP_SPACINGS.find((row) => width <= row.upTo) ?? null;
}

/** Clips of one straight: one each spacing, the last at or before its end. Sloping stretches take the closer spacing. */
export function clipsOn(straight: Straight, spacing: ClipSpacing): number {
  if (!straight.clipped) return 0;
  const every = straight.lie === 'plumb' ? spacing.vertical : spacing.horizontal;
  return Math.ceil((straight.length - NOISE) / every);
}

export interface ClipCount {
  readonly horizontal: number;
  readonly vertical: number;
  readonly horizontalMm: Mm;
  readonly verticalMm: Mm;
}

/** Clips of some runs of one cable, and the metres they hold, apart by orientation. */
export function countClips(lengths: readonly RunLength[], spacing: ClipSpacing): ClipCount {
  const straights = lengths.flatMap((l) => l.straights).filter((s) => s.clipped);
  const upright = straights.filter((s) => s.lie === 'plumb');
  const lying = straights.filter((s) => s.lie !== 'plumb');
  const add = (some: readonly Straight[], f: (s: Straight) => number) =>
    some.reduce((sum, s) => sum + f(s), 0);
  return {
    horizontal: add(lying, (s) => clipsOn(s, spacing)),
    vertical: add(upright, (s) => clipsOn(s, spacing)),
    horizontalMm: add(lying, (s) => s.length),
    verticalMm: add(upright, (s) => s.length),
  };
}

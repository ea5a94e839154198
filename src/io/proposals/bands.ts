import type { Interval } from '../../engine/geometry/interval.ts';
import { intervalGaps, intervalOverlap } from '../../engine/geometry/interval.ts';
import type { Mm } from '../../engine/model/units.ts';
import type { Family, Track } from './tracks.ts';
import type { ProposalRules } from './types.ts';

/** A stretch of wall in a family: between two offsets, over one span. */
export interface Band {
  readonly low: Mm;
  readonly high: Mm;
  readonly span: Interval;
}

/** What both lists cover. */
function common(a: readonly Interval[], b: readonly Interval[]): Interval[] {
  return a.flatMap((p) => b.map((q) => intervalOverlap(p, q)).filter((o) => o !== null));
}

/**
 * Pairs of lines 60 to 450 mm apart, the nearest first: each side of a line bounds one wall only. Treads and hatching
 * are passed over, the leaves of a cavity wall joined.
 */
export function bandsOf(family: Family, rules: ProposalRules): Band[] {
  const tracks = family.tracks;
  const pairs: { low: number; high: number; apart: Mm }[] = [];
  for (let i = 0; i < tracks.length; i++)
    for (let j = i + 1; j < tracks.length; j++) {
      const apart = (tracks[j] as Track).offset - (tracks[i] as Track).offset;
      if (apart > rules.thickest) break;
      if (apart >= rules.thinnest) pairs.push({ low: i, high: j, apart });
    }
  pairs.sort((a, b) => a.apart - b.apart || a.low - b.low);
  const above = tracks.map((t) => t.spans);
  const below = tracks.map((t) => t.spans);
  const bands: Band[] = [];
  for (const { low, high } of pairs) {
    const shared = common(above[low] ?? [], below[high] ?? []).filter(
      (span) => size(span) >= Math.min(rules.shortest, 100),
    );
    if (shared.length === 0) continue;
    const left = (spans: readonly Interval[]): Interval[] =>
      spans.flatMap((span) => intervalGaps(span, shared, 0));
    above[low] = left(above[low] ?? []);
    below[high] = left(below[high] ?? []);
    for (const span of shared)
      bands.push({ low: (tracks[low] as Track).offset, high: (tracks[high] as Track).offset, span });
  }
  return leavesJoined(withoutLadders(bands, rules), rules);
}

const size = (s: Interval): Mm => s.hi - s.lo;
const overlap = (a: Interval, b: Interval): Mm => Math.min(a.hi, b.hi) - Math.max(a.lo, b.lo);

/** Bands edge to edge, as thick as one another, and deeper together than a wall can be: treads, tiles, hatching. */
function withoutLadders(bands: readonly Band[], rules: ProposalRules): Band[] {
  const sorted = [...bands].sort((a, b) => a.low - b.low);
  const next = (band: Band): Band | undefined =>
    sorted.find(
      (b) =>
        Math.abs(b.low - band.high) <= rules.near &&
        Math.abs(b.high - b.low - (band.high - band.low)) <= 2 * rules.near &&
        overlap(b.span, band.span) > 0.8 * Math.min(size(b.span), size(band.span)),
    );
  const ladder = new Set<Band>();
  for (const band of sorted) {
    const steps = [band];
    for (let step = next(band); step && steps.length < 64; step = next(step)) steps.push(step);
    const deep = (steps.at(-1) as Band).high - band.low;
    if (deep > rules.thickest) for (const s of steps) ladder.add(s);
  }
  return bands.filter((b) => !ladder.has(b));
}

/** The leaves of a cavity wall, side by side, are one wall as long as the whole is no thicker than a wall may be. */
function leavesJoined(bands: readonly Band[], rules: ProposalRules): Band[] {
  const left = [...bands].sort((a, b) => a.low - b.low || a.span.lo - b.span.lo);
  for (let i = 0; i < left.length; i++)
    for (let j = i + 1; j < left.length; j++) {
      const [a, b] = [left[i] as Band, left[j] as Band];
      const cavity = b.low - a.high;
      if (cavity > 150) break;
      const shared = overlap(a.span, b.span);
      if (cavity < -rules.near || shared < 0.7 * Math.min(size(a.span), size(b.span))) continue;
      if (b.high - a.low > rules.thickest) continue;
      const span = { lo: Math.min(a.span.lo, b.span.lo), hi: Math.max(a.span.hi, b.span.hi) };
      left[i] = { low: a.low, high: b.high, span };
      left.splice(j, 1);
      j = i;
    }
  return left;
}

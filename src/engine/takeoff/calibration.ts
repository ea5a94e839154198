import { grainOf, straightenError } from '../geometry/straightened.ts';
import type { PlanDocument } from '../model/document.ts';
import type { KnownLength, Tracing, TracingSource } from '../model/tracing.ts';
import { rows } from '../model/tables.ts';
import { liesOnStorey } from '../model/tracing.ts';
import type { Mm, Px } from '../model/units.ts';
import type { Scale } from './types.ts';

/** How far off each end of a known length may have been picked. Own estimate: a steady hand at full zoom. */
export const PICK_ERROR: Px = 1;

/** Two known lengths within this of square on are "at about right angles" (15°). */
export const SQUARE_TOLERANCE = (15 * Math.PI) / 180;

/** A known length shorter than this on the picture tells nothing: the pick error is then over a tenth of it. */
export const SHORTEST_KNOWN: Px = 20;

/** One scale fitted to the known lengths of a picture. */
export interface ScaleFit {
  readonly mmPerPixel: number;
  /** The largest disagreement of a known length with the fitted scale, as a share of that length. */
  readonly residual: number;
  /** ± mm in each metre: the largest disagreement plus the pick error, both at their worst. */
  readonly errorPerMetre: Mm;
  /** Two of the lengths are at about right angles, so that a picture stretched one way shows up. */
  readonly crossed: boolean;
  readonly lengths: number;
  /** Only one length: its error is the pick alone, and nothing checks it. */
  readonly single: boolean;
}

const pixels = (k: KnownLength): Px => Math.hypot(k.bx - k.ax, k.by - k.ay);

/**
 * Units of the source that a slip of the hand is worth: a pixel of the picture that was marked; half a point of a page, a
 * usual line's width; of a line drawing, whose units may be metres, a five-thousandth of its longer side. Own estimates.
 */
export function grainOfSource(source: TracingSource): number {
  switch (source.kind) {
    case 'picture':
      return source.straighten === null ? 1 : grainOf(source.straighten);
    case 'page':
      return 0.5;
    case 'lines':
      return Math.max(source.width, source.height) / 5000;
  }
}

/** Why these known lengths give no scale, in words for the person; null when they do. `grain`: units to a pixel. */
export function knownLengthsProblem(known: readonly KnownLength[], grain = 1): string | null {
  if (known.length === 0) return 'No known length is marked on the picture.';
  for (const [i, k] of known.entries()) {
    const p = pixels(k) / grain;
    if (!Number.isFinite(p) || !Number.isFinite(k.length)) return `Known length ${i + 1} is not a number.`;
    if (k.length <= 0) return `Known length ${i + 1} must be longer than nothing.`;
    if (p < SHORTEST_KNOWN) {
      if (grain !== 1) return `Known length ${i + 1} is too short on the drawing: mark a longer one.`;
      return `Known length ${i + 1} is only ${p.toFixed(1)} pixels long on the picture: mark a longer one.`;
    }
  }
  return null;
}

/**
 * Least squares of one scale through known lengths: L = s p, so s = Σ p L / Σ p². The picking error of each length is
 * ±1 px at each end (`grain` units of the source), all taken the same way: ds / s = 2 Σ p / Σ p². Null where `knownLengthsProblem` has a reason.
 */
export function fitScale(known: readonly KnownLength[], grain = 1): ScaleFit | null {
  if (knownLengthsProblem(known, grain) !== null) return null;
  const lengths = known.map((k) => ({
    p: pixels(k),
    mm: k.length,
    angle: Math.atan2(k.by - k.ay, k.bx - k.ax),
  }));
  const sum = (f: (k: { p: number; mm: number }) => number) => lengths.reduce((total, k) => total + f(k), 0);
  const squares = sum((k) => k.p * k.p);
  const mmPerPixel = sum((k) => k.p * k.mm) / squares;
  const residual = Math.max(...lengths.map((k) => Math.abs(mmPerPixel * k.p - k.mm) / k.mm));
  const pick = (2 * PICK_ERROR * grain * sum((k) => k.p)) / squares;
  const crossed = lengths.some((k, i) =>
    lengths
      .slice(i + 1)
      .some((other) => Math.abs(Math.cos(k.angle - other.angle)) <= Math.sin(SQUARE_TOLERANCE)),
  );
  return {
    mmPerPixel,
    residual: lengths.length === 1 ? 0 : residual,
    errorPerMetre: 1000 * ((lengths.length === 1 ? 0 : residual) + pick),
    crossed,
    lengths: lengths.length,
    single: lengths.length === 1,
  };
}

/** The scale of a tracing by its known lengths, its ± with that of the straightening where it is straightened. */
export function scaleOfTracing({ source, scale }: Tracing): ScaleFit | null {
  const fit = fitScale(scale.known, grainOfSource(source));
  const straighten = source.kind === 'picture' ? source.straighten : null;
  if (!fit || !straighten) return fit;
  return { ...fit, errorPerMetre: fit.errorPerMetre + straightenError(straighten, scale.mmPerUnit) };
}

/** Storeys whose walls or points stand on something drawn. */
function storeysInUse(doc: PlanDocument): ReadonlySet<string> {
  const used = new Set<string>();
  for (const wall of rows(doc.walls)) used.add(wall.storey);
  for (const point of rows(doc.points)) {
    if (point.place.on !== 'face') used.add(point.place.storey);
  }
  return used;
}

/** ± mm per metre of a placed picture: its fit, and how far it is drawn from that fit. */
function errorOf(tracing: Tracing, fit: ScaleFit): Mm {
  const drift = Math.abs(tracing.scale.mmPerUnit / fit.mmPerPixel - 1);
  return fit.errorPerMetre + 1000 * drift;
}

/**
 * How far the plan's metres can be believed. Refused while walls or points stand on a storey over a tracing that has no usable
 * known length and says no scale of its own; measured with the worst tracing's error; typed when nothing was traced, or what
 * was is taken at its word. What lies on a wall is no ground of the plan and has no say.
 */
export function scaleOf(doc: PlanDocument): Scale {
  const used = storeysInUse(doc);
  let worst: Mm = 0;
  let lengths = Infinity;
  for (const tracing of rows(doc.tracings)) {
    if (!liesOnStorey(tracing) || !used.has(tracing.lies.storey)) continue;
    const { known, stated } = tracing.scale;
    if (known.length === 0 && stated !== null) continue;
    const fit = scaleOfTracing(tracing);
    if (fit === null) {
      const storey = doc.storeys.byId[tracing.lies.storey]?.name ?? tracing.lies.storey;
      return {
        state: 'refused',
        why: `${storey}: ${knownLengthsProblem(known, grainOfSource(tracing.source)) ?? ''} Metres are not given until "${tracing.name}" has one.`,
      };
    }
    worst = Math.max(worst, errorOf(tracing, fit));
    lengths = Math.min(lengths, fit.lengths);
  }
  return lengths === Infinity ? { state: 'typed' } : { state: 'measured', errorPerMetre: worst, lengths };
}

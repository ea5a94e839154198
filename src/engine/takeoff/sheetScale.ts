import type { Mm } from '../model/units.ts';

/** mm of one point of a page: 1/72 inch (ISO 32000, user space), an inch being 25.4 mm. */
export const POINT_MM = 25.4 / 72;

/** Trimmed sheets, short side first, mm: ISO 216 (A series), and letter and tabloid of ANSI/ASME Y14.1. */
const SHEETS: readonly (readonly [string, Mm, Mm])[] = [
  ['A0', 841, 1189],
  ['A1', 594, 841],
  ['A2', 420, 594],
  ['A3', 297, 420],
  ['A4', 210, 297],
  ['A5', 148, 210],
  ['letter', 215.9, 279.4],
  ['tabloid', 279.4, 431.8],
];
/** How far a page may be off its sheet: ISO 216 allows 2 mm on sides of 150 to 600 mm and 3 mm beyond. */
const TRIM: Mm = 3;

/** The sheet a page has the size of, whichever way it lies, from its sides in points; null for another size. */
export function sheetOf(width: number, height: number): string | null {
  const [short, long] = [Math.min(width, height) * POINT_MM, Math.max(width, height) * POINT_MM];
  return SHEETS.find(([, s, l]) => Math.abs(s - short) <= TRIM && Math.abs(l - long) <= TRIM)?.[0] ?? null;
}

/** What a sheet says of its own scale. */
export interface StatedScale {
  /** As "1:50 @ A3". */
  readonly text: string;
  /** 50 for 1:50. */
  readonly ratio: number;
  /** The sheet it holds on, where it says one. */
  readonly sheet: string | null;
}

const SCALE = /\b1\s?[:/]\s?(\d{1,5})\b(?:\s*(?:@|at|on)?\s*\(?(A[0-5])\b)?/gi;
/** Ratios that plans are drawn to; others are levels, falls, dates. ISO 5455 and the 1:25, 1:125 of common practice. */
const USUAL = new Set([1, 2, 5, 10, 20, 25, 50, 75, 100, 125, 150, 200, 250, 500, 1000, 1250, 2500, 5000]);

/**
 * The scales written on a sheet, the likeliest first: those beside a sheet's name, then those that come most often, then
 * the larger ratio. A fall of 1:80 is none, for nobody draws to it.
 */
export function statedScales(texts: readonly string[]): StatedScale[] {
  const found = new Map<string, { scale: StatedScale; times: number }>();
  for (const piece of [...texts, texts.join(' ')]) {
    for (const match of piece.matchAll(SCALE)) {
      const ratio = Number(match[1]);
      if (!USUAL.has(ratio) || ratio === 1) continue;
      const sheet = match[2]?.toUpperCase() ?? null;
      const text = sheet ? `1:${ratio} @ ${sheet}` : `1:${ratio}`;
      const known = found.get(text);
      if (known) known.times++;
      else found.set(text, { scale: { text, ratio, sheet }, times: 1 });
    }
  }
  return [...found.values()]
    .sort(
      (a, b) =>
        Number(b.scale.sheet !== null) - Number(a.scale.sheet !== null) ||
        b.times - a.times ||
        b.scale.ratio - a.scale.ratio,
    )
    .map((each) => each.scale);
}

/** mm of the building that a point of the page stands for at 1:ratio. */
export const mmPerPoint = (ratio: number): Mm => ratio * POINT_MM;

/** How a page that was not printed at full size comes out: its size over what it should be. */
interface Slip {
  readonly from: number;
  readonly to: number;
  readonly words: string;
}

/** The sides of ISO 216 sheets stand as 1 : √2; what a printer's "fit to page" leaves for its margins is common practice. */
const SLIPS: readonly Slip[] = [
  { from: 0.697, to: 0.717, words: 'one sheet too small, as an A3 drawing printed on A4 (0.707)' },
  { from: 0.49, to: 0.51, words: 'two sheets too small, as an A1 drawing printed on A3 (0.5)' },
  { from: 0.935, to: 0.975, words: 'made to "fit to page", which takes 3 to 6 in 100 off' },
  { from: 1.394, to: 1.434, words: 'one sheet too large, as an A4 drawing printed on A3 (1.414)' },
  { from: 1.96, to: 2.04, words: 'two sheets too large, as an A3 drawing printed on A1 (2)' },
];
/** Within this the known length bears the stated scale out: what marking at a line's width leaves. Own choice. */
const AGREES = 0.01;

/**
 * What a known length says of the scale written on the sheet: `size` is the page's size over what it should be (stated mm a
 * point over measured). Agreeing, a usual slip by its name, or another scale.
 */
export function scaleVerdict(
  stated: number,
  measured: number,
): { readonly kind: 'agrees' | 'slip' | 'other'; readonly size: number; readonly words: string } {
  const size = stated / measured;
  if (Math.abs(size - 1) <= AGREES) return { kind: 'agrees', size, words: 'The known length bears it out.' };
  const slip = SLIPS.find((each) => size >= each.from && size <= each.to);
  if (slip)
    return {
      kind: 'slip',
      size,
      words: `By the known length this page is ${slip.words}. The known length holds.`,
    };
  return {
    kind: 'other',
    size,
    words: `By the known length it is drawn at about 1:${Math.round(measured / POINT_MM)}. The known length holds; check it.`,
  };
}

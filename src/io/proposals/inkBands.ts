import type { Px } from '../../engine/model/units.ts';
import type { Ink } from './ink.ts';

/** A level stripe of ink: rows `top` to `bottom` (edges, px), columns `from` to `to`. */
export interface InkBand {
  readonly top: Px;
  readonly bottom: Px;
  readonly from: Px;
  readonly to: Px;
  /** Rows its edges go down in each column: how far the picture is turned. */
  readonly slope: number;
}

interface Chain {
  readonly tops: number[];
  readonly bottoms: number[];
  readonly from: number;
  to: number;
}

const median = (values: readonly number[]): number => {
  const sorted = [...values].sort((a, b) => a - b);
  const half = sorted.length >> 1;
  return sorted.length % 2 === 1
    ? (sorted[half] as number)
    : ((sorted[half - 1] as number) + (sorted[half] as number)) / 2;
};

/** Slope of the least-squares line through both edges. */
function slopeOf({ tops, bottoms }: Chain): number {
  const n = tops.length;
  let [xy, xx] = [0, 0];
  for (let i = 0; i < n; i++) {
    const x = i - (n - 1) / 2;
    xy += (x * ((tops[i] as number) + (bottoms[i] as number))) / 2;
    xx += x * x;
  }
  return xx > 0 ? xy / xx : 0;
}

/** An edge may wander this far from one column to the next, and from the chain's own first columns. */
const STEP: Px = 2;

/**
 * Level stripes of ink of a thickness from `thinnest` to `thickest` px, at least `shortest` long: runs of ink down each
 * column, chained with the run beside them whose two edges lie within a step. A run that is too thick (a wall that
 * crosses) ends the chain. The edges are medians, so that marks and dirt on them do no harm.
 */
export function levelBands(ink: Ink, thinnest: Px, thickest: Px, shortest: Px): InkBand[] {
  const { width, height, dark } = ink;
  const out: InkBand[] = [];
  let open: Chain[] = [];
  const close = (chain: Chain): void => {
    if (chain.to - chain.from < shortest) return;
    out.push({
      top: median(chain.tops),
      bottom: median(chain.bottoms),
      from: chain.from,
      to: chain.to,
      slope: slopeOf(chain),
    });
  };
  for (let x = 0; x < width; x++) {
    const next: Chain[] = [];
    let k = 0;
    for (let y = 0; y < height; y++) {
      if (!dark[y * width + x]) continue;
      const top = y;
      while (y < height && dark[y * width + x]) y++;
      const bottom = y;
      if (bottom - top < thinnest || bottom - top > thickest) continue;
      // Chains and runs both go down the column: one walk finds all partners.
      while (k < open.length && (open[k] as Chain).tops.at(-1)! < top - STEP) k++;
      const chain = open[k];
      const fits =
        chain !== undefined &&
        Math.abs((chain.tops.at(-1) as number) - top) <= STEP &&
        Math.abs((chain.bottoms.at(-1) as number) - bottom) <= STEP;
      if (fits) {
        chain.tops.push(top);
        chain.bottoms.push(bottom);
        chain.to = x + 1;
        next.push(chain);
        k++;
      } else next.push({ tops: [top], bottoms: [bottom], from: x, to: x + 1 });
    }
    for (const chain of open) if (chain.to !== x + 1) close(chain);
    open = next;
  }
  for (const chain of open) close(chain);
  return out;
}

/** The picture on its side: what is plumb becomes level. Row and column change places. */
export function onItsSide({ width, height, dark }: Ink): Ink {
  const out = new Uint8Array(dark.length);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) out[x * height + y] = dark[y * width + x] as number;
  return { width: height, height: width, dark: out };
}

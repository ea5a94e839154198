import type { SourceBox } from '../../engine/model/tracing.ts';

/** Pixels of a tile's side: few tiles fill a screen, for a busy page takes as long for a small part as for a large one. */
export const TILE_PX = 1024;
/** Levels are powers of two of pixels a point: from a wall-sized sheet as a stamp to a hair of it filling the screen. */
const LEVELS: readonly [number, number] = [-14, 6];

/** One tile of a page as shown: points of the crop from its top left corner, at `2^level` pixels a point. */
export interface PageTile {
  readonly key: string;
  readonly level: number;
  readonly box: SourceBox;
}

/** The level at which a page of this size is one tile: shown until sharper ones are there. */
export function coarseLevel(width: number, height: number): number {
  return within(Math.floor(Math.log2(TILE_PX / Math.max(width, height))));
}

/** The level that gives every screen pixel at least a pixel, at `scale` screen pixels a point. */
export function sharpLevel(scale: number): number {
  return within(Math.ceil(Math.log2(scale) - 1e-6));
}

const within = (level: number): number => Math.min(LEVELS[1], Math.max(LEVELS[0], level));

/**
 * The tiles of a level that cover a part of a page of `width` by `height` points; those nearest to the middle of the part
 * first. Where there would be more than `most`, those of a coarser level.
 */
export function tilesFor(
  page: { readonly width: number; readonly height: number },
  part: SourceBox,
  level: number,
  most = 40,
): PageTile[] {
  const side = TILE_PX / 2 ** level;
  const first = (low: number): number => Math.max(0, Math.floor(low / side));
  const last = (high: number, length: number): number =>
    Math.min(Math.ceil(length / side), Math.ceil(Math.min(high, length) / side));
  const [i0, j0] = [first(part.x0), first(part.y0)];
  const [i1, j1] = [last(part.x1, page.width), last(part.y1, page.height)];
  if (!(i1 > i0 && j1 > j0)) return [];
  if ((i1 - i0) * (j1 - j0) > most) return tilesFor(page, part, level - 1, most);
  const tiles: PageTile[] = [];
  for (let j = j0; j < j1; j++)
    for (let i = i0; i < i1; i++) {
      const [x1, y1] = [Math.min(page.width, (i + 1) * side), Math.min(page.height, (j + 1) * side)];
      tiles.push({ key: `${level}/${i}/${j}`, level, box: { x0: i * side, y0: j * side, x1, y1 } });
    }
  const [mx, my] = [(part.x0 + part.x1) / 2, (part.y0 + part.y1) / 2];
  const far = ({ box }: PageTile): number =>
    Math.hypot((box.x0 + box.x1) / 2 - mx, (box.y0 + box.y1) / 2 - my);
  return tiles.sort((a, b) => far(a) - far(b));
}

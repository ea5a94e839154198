import type { SourceBox } from '../../engine/model/tracing.ts';
import { coarseLevel, sharpLevel, tilesFor, type PageTile } from '../../io/pdf/tilePlan.ts';
import type { PdfClient } from '../../workers/pdfClient.ts';
import type { DrawnTile, PageSource } from '../../tools/drawings.ts';

/** Bytes that tiles may take together: some thirty of 1024 by 1024. Own choice. */
export const TILE_BUDGET = 128 * 1024 * 1024;

/** Tiles of one look at most: fewer than the budget holds, or they would drive one another out for ever. */
const MOST_IN_SIGHT = 24;

export interface PageTilesParts {
  /** The reader of a file, opened; null where it cannot be (told elsewhere). */
  readonly client: (asset: string) => Promise<PdfClient | null>;
  readonly changed: () => void;
  readonly problem: (text: string) => void;
  readonly budget?: number;
}

interface Wanted {
  readonly source: PageSource;
  readonly view: string;
  readonly tile: PageTile;
}

/** One page as it is shown: its file, page, turn, crop and layers. */
export function viewKey(source: PageSource): string {
  const { asset, page, quarterTurns, crop, layers } = source;
  return JSON.stringify([asset, page, quarterTurns, crop, layers]);
}

/**
 * Tiles of pages, drawn one at a time: what the last look asked for comes first, and what nobody looks at any more is not
 * drawn. Those looked at longest ago go when the budget is spent.
 */
export function createPageTiles(parts: PageTilesParts) {
  const budget = parts.budget ?? TILE_BUDGET;
  /** Oldest look first. Null: could not be drawn. */
  const held = new Map<string, ImageBitmap | null>();
  /** What the last look at each page is missing, by page. */
  const missing = new Map<string, readonly Wanted[]>();
  let bytes = 0;
  let drawing = false;
  const keyOf = (w: Pick<Wanted, 'view' | 'tile'>): string => `${w.view} ${w.tile.key}`;
  const look = (view: string, tile: PageTile): ImageBitmap | null | undefined => {
    const key = keyOf({ view, tile });
    const bitmap = held.get(key);
    if (bitmap !== undefined) {
      held.delete(key);
      held.set(key, bitmap);
    }
    return bitmap;
  };
  function keep(key: string, bitmap: ImageBitmap | null): void {
    held.set(key, bitmap);
    if (bitmap) bytes += 4 * bitmap.width * bitmap.height;
    for (const [old, one] of held) {
      if (bytes <= budget || old === key) break;
      if (!one) continue;
      held.delete(old);
      bytes -= 4 * one.width * one.height;
      one.close();
    }
  }
  async function draw({ source, view, tile }: Wanted): Promise<void> {
    const { box } = tile;
    let bitmap: ImageBitmap | null = null;
    try {
      const client = await parts.client(source.asset);
      bitmap =
        (await client?.tile({
          page: source.page,
          quarterTurns: source.quarterTurns,
          layers: source.layers,
          x: box.x0 + (source.crop?.x0 ?? 0),
          y: box.y0 + (source.crop?.y0 ?? 0),
          width: box.x1 - box.x0,
          height: box.y1 - box.y0,
          scale: 2 ** tile.level,
        })) ?? null;
    } catch (error) {
      parts.problem(error instanceof Error ? error.message : String(error));
    }
    keep(keyOf({ view, tile }), bitmap);
    parts.changed();
  }
  async function work(): Promise<void> {
    if (drawing) return;
    drawing = true;
    for (;;) {
      const [view, wanted] = [...missing].find(([, list]) => list.length > 0) ?? [];
      const next = wanted?.[0];
      if (view === undefined || wanted === undefined || next === undefined) break;
      missing.set(view, wanted.slice(1));
      if (!held.has(keyOf(next))) await draw(next);
    }
    drawing = false;
  }

  return {
    tiles(source: PageSource, inSight: SourceBox, scale: number): readonly DrawnTile[] {
      const view = viewKey(source);
      const whole = { x0: 0, y0: 0, x1: source.width, y1: source.height };
      const coarse = coarseLevel(source.width, source.height);
      const under = tilesFor(source, whole, coarse);
      const level = sharpLevel(scale);
      const sharp = level > coarse ? tilesFor(source, inSight, level, MOST_IN_SIGHT) : [];
      missing.set(
        view,
        [...under, ...sharp].flatMap((tile) =>
          held.has(keyOf({ view, tile })) ? [] : [{ source, view, tile }],
        ),
      );
      void work();
      const drawn = (tiles: readonly PageTile[]): DrawnTile[] =>
        tiles.flatMap((tile) => {
          const bitmap = look(view, tile);
          return bitmap ? [{ box: tile.box, bitmap }] : [];
        });
      const [below, above] = [drawn(under), drawn(sharp)];
      return sharp.length > 0 && above.length === sharp.length ? above : [...below, ...above];
    },
    /** Forgets what could not be drawn of a file, to try again. */
    again(asset: string): void {
      for (const [key, bitmap] of held) if (!bitmap && key.includes(asset)) held.delete(key);
    },
  };
}

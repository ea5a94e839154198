import { describe, expect, it } from 'vitest';
import { createPageTiles } from '../../src/app/drawings/pageTiles.ts';
import type { PdfTile } from '../../src/io/pdf/types.ts';
import type { PageSource } from '../../src/tools/drawings.ts';
import type { PdfClient } from '../../src/workers/pdfClient.ts';

const source: PageSource = {
  kind: 'page',
  asset: 'a',
  page: 1,
  quarterTurns: 0,
  crop: { x0: 100, y0: 50, x1: 1100, y1: 850 },
  layers: null,
  width: 1000,
  height: 800,
};
const PART = { x0: 0, y0: 0, x1: 1000, y1: 800 };

/** A reader whose tiles are empty pictures of the right size: what is under test is which are asked for and kept. */
function desk(budget: number) {
  const asked: PdfTile[] = [];
  let open = 0;
  const client = {
    tile: (tile: PdfTile) => {
      asked.push(tile);
      open++;
      const bitmap = {
        width: Math.ceil(tile.width * tile.scale),
        height: Math.ceil(tile.height * tile.scale),
      };
      return Promise.resolve({ ...bitmap, close: () => open-- } as unknown as ImageBitmap);
    },
  } as unknown as PdfClient;
  let idle = (): void => undefined;
  const tiles = createPageTiles({
    client: () => Promise.resolve(client),
    changed: () => idle(),
    problem: (text) => {
      throw new Error(text);
    },
    budget,
  });
  const settled = async (): Promise<void> => {
    for (let i = 0; i < 400; i++) await Promise.resolve();
    idle = () => undefined;
  };
  return { tiles, asked, settled, open: () => open };
}

describe('tiles that are drawn by and by', () => {
  it('shows the whole page coarse first, sharp alone once all of it is there', async () => {
    const { tiles, asked, settled } = desk(1e9);
    expect(tiles.tiles(source, PART, 2)).toEqual([]);
    await settled();
    expect(asked[0]).toMatchObject({ x: 100, y: 50, width: 1000, height: 800, scale: 1 });
    const now = tiles.tiles(source, PART, 2);
    expect(now).toHaveLength(4);
    expect(now.every(({ box }) => box.x1 - box.x0 <= 512)).toBe(true);
    // The second look asks for nothing more.
    const before = asked.length;
    await settled();
    expect(asked.length).toBe(before);
  });
  it('keeps the coarse one below while sharp ones are missing, and closes the oldest beyond the budget', async () => {
    const budget = 4 * 1024 * 1024 * 6;
    const { tiles, settled, open } = desk(budget);
    for (const x of [0, 300, 600, 900]) {
      tiles.tiles(source, { x0: x, y0: 0, x1: x + 100, y1: 100 }, 16);
      await settled();
    }
    expect(open()).toBeLessThanOrEqual(6);
    expect(open()).toBeGreaterThan(2);
  });
});

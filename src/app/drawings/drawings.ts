import { sheetOf, statedScales, type StatedScale } from '../../engine/takeoff/sheetScale.ts';
import type { DrawingKind } from '../../io/drawingKind.ts';
import type { LineDrawing } from '../../io/lineDrawing.ts';
import type { DrawingSource, DrawnLines, LinesSource, PageSource } from '../../tools/drawings.ts';
import { readDxfApart } from '../../workers/dxfClient.ts';
import { createPdfClient, type PdfClient } from '../../workers/pdfClient.ts';
import { drawnLines } from './drawnLines.ts';
import type { LinesOffer, Offer, PageOffer } from './offer.ts';
import { createPageTiles, viewKey } from './pageTiles.ts';

/** What a page says of itself. */
export interface PageFacts {
  /** "A3", or null for no usual sheet. */
  readonly sheet: string | null;
  readonly scales: readonly StatedScale[];
}

export interface Drawings extends DrawingSource {
  /** Reads a file and offers what is in it; answers why not, or null. */
  open(kind: DrawingKind, name: string, bytes: Uint8Array<ArrayBuffer>): Promise<string | null>;
  offer(): Offer | null;
  /** Tries a password on the PDF that is offered; false where it does not open it. */
  unlockOffer(offer: PageOffer, password: string): Promise<boolean>;
  /** The offer is done with; with an asset, what was read serves it from now on. */
  settle(offer: Offer, asset: string | null): void;
  /** What a page says of its sheet and scale; null while that is being read. */
  facts(source: PageSource): PageFacts | null;
  /** The file asks for its password before it is shown again. */
  locked(asset: string): boolean;
  unlock(asset: string, password: string): Promise<boolean>;
  /** The whole drawing behind a source; null while it is being read. */
  drawing(asset: string): LineDrawing | null;
}

export interface DrawingsParts {
  readonly bytes: (asset: string) => Promise<Uint8Array | null>;
  readonly problem: (text: string) => void;
  readonly startPdf: () => Worker;
  readonly startDxf: () => Worker;
}

/** Readers kept open at once; beyond, the one opened longest ago is closed and opened anew when it is looked at. */
const MOST_OPEN = 4;

/** Pages and line drawings: read in workers, kept while they are looked at. */
export function createDrawings(parts: DrawingsParts): Drawings {
  const listeners = new Set<() => void>();
  const clients = new Map<string, Promise<PdfClient | null>>();
  const passwords = new Map<string, string>();
  const locks = new Set<string>();
  const drawings = new Map<string, LineDrawing | null>();
  const lines = new Map<string, DrawnLines | null>();
  const facts = new Map<string, PageFacts | null>();
  let offer: Offer | null = null;
  const changed = (): void => {
    for (const listener of [...listeners]) listener();
  };
  const started = (): PdfClient => createPdfClient(parts.startPdf);

  async function opened(asset: string): Promise<PdfClient | null> {
    const bytes = await parts.bytes(asset);
    if (!bytes) return null;
    const client = started();
    const answer = await client.open(bytes as Uint8Array<ArrayBuffer>, passwords.get(asset) ?? null);
    if (answer.ok) return client;
    client.close();
    if (answer.password) locks.add(asset);
    else parts.problem(answer.message);
    changed();
    return null;
  }
  function client(asset: string): Promise<PdfClient | null> {
    let one = clients.get(asset);
    if (!one) {
      one = opened(asset).catch(() => null);
      holdClient(asset, one);
    }
    return one;
  }
  function holdClient(asset: string, one: Promise<PdfClient | null>): void {
    clients.set(asset, one);
    const [oldest] = clients;
    if (clients.size <= MOST_OPEN || !oldest) return;
    clients.delete(oldest[0]);
    void oldest[1].then((old) => old?.close());
  }
  const pages = createPageTiles({ client, changed, problem: parts.problem });

  /** Reads something once; null until it is there. */
  function once<T>(kept: Map<string, T | null>, key: string, read: () => Promise<T | null>): T | null {
    const known = kept.get(key);
    if (known !== undefined) return known;
    kept.set(key, null);
    read().then(
      (value) => {
        kept.set(key, value);
        if (value !== null) changed();
      },
      () => undefined,
    );
    return null;
  }

  const drawing = (asset: string): LineDrawing | null =>
    once(drawings, asset, async () => {
      const bytes = await parts.bytes(asset);
      if (!bytes) return null;
      const result = await readDxfApart(bytes, parts.startDxf);
      if (!result.ok) parts.problem(result.message);
      return result.ok ? result.drawing : null;
    });

  function linesOf(source: LinesSource): DrawnLines | null {
    const read = drawing(source.asset);
    if (!read) return null;
    const key = JSON.stringify([source.asset, source.layers, source.offset, source.width, source.height]);
    let made = lines.get(key);
    if (!made) {
      const shift = { x: read.origin.x - source.offset.x, y: source.offset.y - read.origin.y };
      made = drawnLines(read, source.layers, shift, source);
      lines.set(key, made);
    }
    return made;
  }

  const pageLines = (source: PageSource): DrawnLines | null =>
    once(lines, viewKey(source), async () => {
      const { page, quarterTurns, layers, crop } = source;
      const found = await (await client(source.asset))?.lines({ page, quarterTurns, layers });
      if (!found) return null;
      // What lies on hidden layers was left out already.
      const every = found.layers.map((each) => each.name);
      return drawnLines(found, every, { x: -(crop?.x0 ?? 0), y: -(crop?.y0 ?? 0) }, source);
    });

  async function openPage(name: string, bytes: Uint8Array<ArrayBuffer>): Promise<string | null> {
    const reader = started();
    const answer = await reader.open(bytes, null);
    if (!answer.ok && !answer.password) {
      reader.close();
      return answer.message;
    }
    // A page tree that leads nowhere shows only when a page is asked for.
    const first = answer.ok ? await reader.page(1).catch(() => null) : true;
    if (first === null) {
      reader.close();
      return 'Its first page could not be read.';
    }
    offer = { kind: 'page', name, bytes, client: reader, opened: answer } satisfies PageOffer;
    return null;
  }
  async function openLines(name: string, bytes: Uint8Array<ArrayBuffer>): Promise<string | null> {
    const result = await readDxfApart(bytes, parts.startDxf);
    if (!result.ok) return result.message;
    offer = { kind: 'lines', name, bytes, drawing: result.drawing } satisfies LinesOffer;
    return null;
  }

  return {
    tiles: pages.tiles,
    lines: (source) => (source.kind === 'lines' ? linesOf(source) : pageLines(source)),
    subscribe(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    async open(kind, name, bytes) {
      if (offer?.kind === 'page') offer.client.close();
      offer = null;
      const why = await (kind === 'page' ? openPage : openLines)(name, bytes).catch((error: unknown) =>
        error instanceof Error ? error.message : String(error),
      );
      changed();
      return why === null ? null : `${name}: ${why} The open plan is untouched.`;
    },
    offer: () => offer,
    async unlockOffer(locked, password) {
      const answer = await locked.client.open(locked.bytes, password);
      if (!answer.ok) return false;
      if (offer === locked) offer = { ...locked, opened: answer };
      changed();
      return true;
    },
    settle(done, asset) {
      if (offer === done) offer = null;
      if (asset !== null && done.kind === 'lines') drawings.set(asset, done.drawing);
      if (done.kind === 'page') {
        if (asset === null || clients.has(asset)) done.client.close();
        else holdClient(asset, Promise.resolve(done.client));
      }
      changed();
    },
    facts: (source) =>
      once(facts, `${source.asset} ${source.page}`, async () => {
        const reader = await client(source.asset);
        if (!reader) return null;
        const { width, height } = await reader.page(source.page);
        return { sheet: sheetOf(width, height), scales: statedScales(await reader.texts(source.page)) };
      }),
    locked: (asset) => locks.has(asset),
    async unlock(asset, password) {
      passwords.set(asset, password);
      locks.delete(asset);
      clients.delete(asset);
      pages.again(asset);
      lines.clear();
      facts.clear();
      const reader = await client(asset);
      changed();
      return reader !== null;
    },
    drawing,
  };
}

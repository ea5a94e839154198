import * as pdfjs from 'pdfjs-dist';
import type { PDFDocumentProxy, PDFPageProxy } from 'pdfjs-dist';
import { NO_LAYER, pageLines } from './pageLines.ts';
import type { OperatorList } from './pageLines.ts';
import { PDF_LIMITS } from './types.ts';
import type { PdfAnswer, PdfLayer, PdfOpened, PdfPage, PdfTile, PdfView } from './types.ts';

/** Where the reader's own parts lie, each ending with a slash, and its inner worker. */
export interface PdfParts {
  readonly wasm: string;
  readonly cMaps: string;
  readonly fonts: string;
  readonly worker: () => Worker;
}

/** Canvases without a page: the reader runs in a worker. */
class WorkerCanvasFactory {
  create(width: number, height: number) {
    const canvas = new OffscreenCanvas(Math.max(1, width), Math.max(1, height));
    return { canvas, context: canvas.getContext('2d', { willReadFrequently: false }) };
  }
  reset(held: { canvas: OffscreenCanvas | null }, width: number, height: number): void {
    if (!held.canvas) return;
    held.canvas.width = Math.max(1, width);
    held.canvas.height = Math.max(1, height);
  }
  destroy(held: { canvas: OffscreenCanvas | null; context: unknown }): void {
    if (held.canvas) held.canvas.width = held.canvas.height = 0;
    held.canvas = null;
    held.context = null;
  }
}

/** Filters need a page's SVG; colours that ask for one are drawn without it. */
class WorkerFilterFactory {
  addFilter = (): string => 'none';
  addHCMFilter = (): string => 'none';
  addAlphaFilter = (): string => 'none';
  addLuminosityFilter = (): string => 'none';
  addKnockoutFilter = (): string => 'none';
  addHighlightHCMFilter = (): string => 'none';
  addSelectionHCMFilter = (): string => 'none';
  addSelectionFilter = (): string => 'none';
  createSelectionStyle = (): null => null;
  destroy(): void {}
}

export interface PdfReader {
  open(bytes: Uint8Array, password: string | null): Promise<PdfOpened>;
  page(page: number): Promise<PdfPage>;
  tile(tile: PdfTile): Promise<Extract<PdfAnswer, { kind: 'tile' }>>;
  lines(view: PdfView): Promise<Extract<PdfAnswer, { kind: 'lines' }>>;
  /** What is written on a page, piece by piece; at most `PDF_LIMITS.texts`. */
  texts(page: number): Promise<Extract<PdfAnswer, { kind: 'texts' }>>;
}

/** One sentence for an error of the reader. */
function reasonOf(error: unknown): string {
  const name = error instanceof Error ? error.name : '';
  if (name === 'InvalidPDFException') return 'The file is damaged, or is no PDF.';
  if (name === 'MissingPDFException') return 'The file is empty.';
  return 'The PDF could not be read. Print it to a new PDF, or take a picture of the page, and open that.';
}

/**
 * Reads a PDF with pdf.js, no script, no forms, no annotations, fonts drawn as shapes. For a worker that can be ended:
 * nothing here bounds the time a page may take.
 */
export function createPdfReader(parts: PdfParts): PdfReader {
  const inner = pdfjs.PDFWorker.create({ port: parts.worker() } as Parameters<
    typeof pdfjs.PDFWorker.create
  >[0]);
  let doc: PDFDocumentProxy | null = null;
  const held = (): PDFDocumentProxy => {
    if (!doc) throw new Error('no PDF is open');
    return doc;
  };

  async function layers(): Promise<PdfLayer[]> {
    const config = await held().getOptionalContentConfig();
    return [...config].map(([id, group]) => ({
      id,
      name: String((group as { name?: unknown }).name ?? '').slice(0, 200) || 'without a name',
      shown: config.isVisible({ type: 'OCG', id }),
    }));
  }

  async function configFor(view: PdfView) {
    const config = await held().getOptionalContentConfig();
    if (view.layers !== null)
      for (const { id, name } of await layers()) config.setVisibility(id, view.layers.includes(name), false);
    return config;
  }

  const viewport = (page: PDFPageProxy, turns: number, scale: number, x = 0, y = 0) =>
    page.getViewport({
      scale,
      rotation: (page.rotate + 90 * turns) % 360,
      offsetX: -x * scale,
      offsetY: -y * scale,
    });

  return {
    async open(bytes, password) {
      if (bytes.length === 0) return { ok: false, password: false, message: 'The file is empty.' };
      const task = pdfjs.getDocument({
        data: bytes,
        worker: inner,
        ...(password === null ? {} : { password }),
        wasmUrl: parts.wasm,
        cMapUrl: parts.cMaps,
        cMapPacked: true,
        standardFontDataUrl: parts.fonts,
        useWorkerFetch: true,
        maxImageSize: PDF_LIMITS.image,
        canvasMaxAreaInBytes: 4 * PDF_LIMITS.image,
        enableXfa: false,
        disableFontFace: true,
        useSystemFonts: false,
        disableAutoFetch: true,
        isImageDecoderSupported: false,
        CanvasFactory: WorkerCanvasFactory,
        FilterFactory: WorkerFilterFactory,
        verbosity: pdfjs.VerbosityLevel.ERRORS,
      } as Parameters<typeof pdfjs.getDocument>[0]);
      try {
        doc = await task.promise;
        if (doc.numPages < 1) return { ok: false, password: false, message: 'The PDF has no pages.' };
        return { ok: true, pages: doc.numPages, layers: await layers() };
      } catch (error) {
        await task.destroy().catch(() => undefined);
        if (error instanceof pdfjs.PasswordException)
          return {
            ok: false,
            password: true,
            wrong: error.code === pdfjs.PasswordResponses.INCORRECT_PASSWORD,
          };
        return { ok: false, password: false, message: reasonOf(error) };
      }
    },

    async page(number) {
      const page = await held().getPage(number);
      const { width, height } = viewport(page, 0, 1);
      return { page: number, width, height };
    },

    async tile(tile) {
      const page = await held().getPage(tile.page);
      const [width, height] = [Math.ceil(tile.width * tile.scale), Math.ceil(tile.height * tile.scale)];
      if (!(width >= 1 && height >= 1) || width * height > PDF_LIMITS.tile)
        throw new RangeError(`a tile of ${width} by ${height} pixels`);
      const canvas = new OffscreenCanvas(width, height);
      const context = canvas.getContext('2d', { alpha: false });
      if (!context) throw new Error('no memory for a tile');
      await page.render({
        canvas: null,
        canvasContext: context,
        viewport: viewport(page, tile.quarterTurns, tile.scale, tile.x, tile.y),
        annotationMode: 0,
        optionalContentConfigPromise: configFor(tile),
      } as unknown as Parameters<PDFPageProxy['render']>[0]).promise;
      return { kind: 'tile', bitmap: canvas.transferToImageBitmap() };
    },

    async lines(view) {
      const page = await held().getPage(view.page);
      const list = (await page.getOperatorList({ annotationMode: 0 })) as OperatorList;
      const config = await configFor(view);
      const names = new Map((await layers()).map((l) => [l.id, l.name]));
      const layerOf = (properties: unknown): string | null => {
        if (!config.isVisible(properties as Parameters<typeof config.isVisible>[0])) return null;
        return names.get((properties as { id?: string } | null)?.id ?? '') ?? NO_LAYER;
      };
      const { transform } = viewport(page, view.quarterTurns, 1);
      return { kind: 'lines', drawing: pageLines(list, pdfjs.OPS, transform, layerOf) };
    },

    async texts(number) {
      const page = await held().getPage(number);
      const { items } = await page.getTextContent();
      const texts = items
        .slice(0, PDF_LIMITS.texts)
        .map((item) => ('str' in item ? item.str.slice(0, 400) : ''));
      return { kind: 'texts', texts };
    },
  };
}

import { PDF_LIMITS } from '../io/pdf/types.ts';
import type { FromPdf, PdfAnswer, PdfOpened, PdfPage, PdfTile, PdfView, ToPdf } from '../io/pdf/types.ts';

/** Why a call gave nothing, in one sentence for the person. */
export class PdfStopped extends Error {}

/** One open PDF, in a worker of its own. Every call may reject with `PdfStopped`, and then all further ones do. */
export interface PdfClient {
  open(bytes: Uint8Array<ArrayBuffer>, password: string | null): Promise<PdfOpened>;
  page(page: number): Promise<PdfPage>;
  tile(tile: PdfTile): Promise<ImageBitmap>;
  lines(view: PdfView): Promise<Extract<PdfAnswer, { kind: 'lines' }>['drawing']>;
  /** What is written on a page, piece by piece. */
  texts(page: number): Promise<readonly string[]>;
  /** Ends the worker; whatever still runs is given up. */
  close(): void;
}

interface Waiting {
  readonly settle: (answer: PdfAnswer) => void;
  readonly fail: (error: Error) => void;
  timer: ReturnType<typeof setTimeout> | null;
}

type Call = ToPdf extends infer M ? (M extends { id: number } ? Omit<M, 'id'> : never) : never;

/**
 * Starts the reader. Calls are answered one after the other; one that takes longer than `PDF_LIMITS.patience` ends the
 * worker, so that no file can hold it for ever. The clock of a call starts when the one before is through.
 */
export function createPdfClient(start: () => Worker): PdfClient {
  const worker = start();
  const waiting = new Map<number, Waiting>();
  let next = 1;
  let stopped: PdfStopped | null = null;
  const stop = (reason: string): void => {
    if (stopped) return;
    stopped = new PdfStopped(reason);
    worker.terminate();
    for (const each of waiting.values()) {
      if (each.timer !== null) clearTimeout(each.timer);
      each.fail(stopped);
    }
    waiting.clear();
  };
  const watch = (): void => {
    const [first] = waiting.values();
    if (first && first.timer === null)
      first.timer = setTimeout(
        () =>
          stop(
            'The page takes too long to draw. Print it to a new PDF, or take a picture of it, and open that.',
          ),
        PDF_LIMITS.patience,
      );
  };
  worker.onmessage = ({ data }: MessageEvent<FromPdf>) => {
    const each = waiting.get(data.id);
    if (!each) return;
    waiting.delete(data.id);
    if (each.timer !== null) clearTimeout(each.timer);
    if (data.kind === 'failed')
      each.fail(new PdfStopped(`This page of the PDF could not be read (${data.message}).`));
    else each.settle(data);
    watch();
  };
  worker.onerror = () =>
    stop('The reader of PDFs could not be started. Load the page again when the plan is safe.');
  const call = (message: Call, transfer: Transferable[] = []): Promise<PdfAnswer> => {
    if (stopped) return Promise.reject(stopped);
    const id = next++;
    return new Promise((settle, fail) => {
      waiting.set(id, { settle, fail, timer: null });
      worker.postMessage({ id, ...message }, transfer);
      watch();
    });
  };
  const expected = async <K extends PdfAnswer['kind']>(
    kind: K,
    answer: Promise<PdfAnswer>,
  ): Promise<Extract<PdfAnswer, { kind: K }>> => {
    const given = await answer;
    if (given.kind !== kind) throw new Error(`the reader answered ${given.kind} to ${kind}`);
    return given as Extract<PdfAnswer, { kind: K }>;
  };
  return {
    open: async (bytes, password) => {
      if (bytes.length > PDF_LIMITS.bytes)
        return {
          ok: false,
          password: false,
          message: `The PDF is larger than ${PDF_LIMITS.bytes / 1024 / 1024} MB. Ask for the one page that is needed.`,
        };
      return (await expected('open', call({ kind: 'open', bytes: bytes.slice(), password }))).opened;
    },
    page: async (page) => (await expected('page', call({ kind: 'page', page }))).page,
    tile: async (tile) => (await expected('tile', call({ kind: 'tile', tile }))).bitmap,
    lines: async (view) => (await expected('lines', call({ kind: 'lines', view }))).drawing,
    texts: async (page) => (await expected('texts', call({ kind: 'texts', page }))).texts,
    close: () => stop('The PDF was closed.'),
  };
}

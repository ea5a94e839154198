import innerUrl from 'pdfjs-dist/build/pdf.worker.min.mjs?url';
import { createPdfReader } from '../io/pdf/reader.ts';
import type { FromPdf, PdfAnswer, ToPdf } from '../io/pdf/types.ts';

interface WorkerScope {
  onmessage: ((event: MessageEvent<ToPdf>) => void) | null;
  postMessage(message: FromPdf, transfer: Transferable[]): void;
  readonly location: { readonly href: string };
}

const scope = self as unknown as WorkerScope;
/** The build puts the reader's data beside the page, in pdf/; this script lies in assets/. */
const part = (path: string): string => new URL(`../pdf/${path}/`, scope.location.href).href;
const reader = createPdfReader({
  wasm: part('wasm'),
  cMaps: part('cmaps'),
  fonts: part('standard_fonts'),
  worker: () => new Worker(new URL(innerUrl, scope.location.href), { type: 'module' }),
});

async function answer(message: ToPdf): Promise<PdfAnswer> {
  switch (message.kind) {
    case 'open':
      return { kind: 'open', opened: await reader.open(message.bytes, message.password) };
    case 'page':
      return { kind: 'page', page: await reader.page(message.page) };
    case 'tile':
      return reader.tile(message.tile);
    case 'lines':
      return reader.lines(message.view);
    case 'texts':
      return reader.texts(message.page);
  }
}

/** One call after the other: two drawings at once would only wait for one another. */
let last: Promise<void> = Promise.resolve();
scope.onmessage = ({ data }) => {
  last = last.then(async () => {
    try {
      const done = await answer(data);
      scope.postMessage({ id: data.id, ...done }, done.kind === 'tile' ? [done.bitmap] : []);
    } catch (error) {
      const message = error instanceof Error ? error.message : String(error);
      scope.postMessage({ id: data.id, kind: 'failed', message }, []);
    }
  });
};

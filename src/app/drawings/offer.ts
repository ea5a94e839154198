import type { LineDrawing } from '../../io/lineDrawing.ts';
import type { PdfOpened } from '../../io/pdf/types.ts';
import type { PdfClient } from '../../workers/pdfClient.ts';

interface Opened {
  readonly name: string;
  readonly bytes: Uint8Array<ArrayBuffer>;
}

/** A PDF that was opened, or is locked: somebody is to choose a page. */
export interface PageOffer extends Opened {
  readonly kind: 'page';
  readonly client: PdfClient;
  readonly opened: Exclude<PdfOpened, { readonly ok: false; readonly password: false }>;
}

/** A line drawing that was read: somebody is to say its unit and choose its layers. */
export interface LinesOffer extends Opened {
  readonly kind: 'lines';
  readonly drawing: LineDrawing;
}

/** A drawing that was opened and waits for a choice. */
export type Offer = PageOffer | LinesOffer;

import type { LineDrawing } from '../lineDrawing.ts';

/** Bounds of what is read of a PDF. Own choice, after measuring hostile files. */
export const PDF_LIMITS = {
  bytes: 100 * 1024 * 1024,
  /** Pixels of one tile or preview: what canvases of every device bear. */
  tile: 2048 * 2048,
  /** A page side in points (1/72 inch) beyond which the page is drawn at a smaller scale: 5 m of paper. */
  side: 14_400,
  /** Pixels of a picture inside the page; larger ones are left out. */
  image: 64_000_000,
  segments: 1_000_000,
  /** Pieces of text read of one page. */
  texts: 5_000,
  /** What one call may take before its worker is ended, ms. */
  patience: 15_000,
} as const;

export interface PdfLayer {
  /** The file's own key of it. */
  readonly id: string;
  readonly name: string;
  readonly shown: boolean;
}

export interface PdfPage {
  /** Counted from 1. */
  readonly page: number;
  /** Points (1/72 inch) as it is to be read: turned as the file says, its user unit counted in. */
  readonly width: number;
  readonly height: number;
}

/** A page as somebody wants to see it: quarter turns clockwise on top of its own, and the layers that show. */
export interface PdfView {
  readonly page: number;
  readonly quarterTurns: 0 | 1 | 2 | 3;
  /** Names of the layers shown; null for those the file itself shows. */
  readonly layers: readonly string[] | null;
}

/** A part of a view to be drawn: points from its top left, at so many pixels a point. */
export interface PdfTile extends PdfView {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
  readonly scale: number;
}

export type PdfOpened =
  | { readonly ok: true; readonly pages: number; readonly layers: readonly PdfLayer[] }
  /** It is locked; `wrong` when a password was given and does not open it. */
  | { readonly ok: false; readonly password: true; readonly wrong: boolean }
  | { readonly ok: false; readonly password: false; readonly message: string };

/** What the page is asked for, by number, so that answers find their question. */
export type ToPdf = { readonly id: number } & (
  | { readonly kind: 'open'; readonly bytes: Uint8Array; readonly password: string | null }
  | { readonly kind: 'page'; readonly page: number }
  | { readonly kind: 'tile'; readonly tile: PdfTile }
  | { readonly kind: 'lines'; readonly view: PdfView }
  | { readonly kind: 'texts'; readonly page: number }
);

export type PdfAnswer =
  | { readonly kind: 'open'; readonly opened: PdfOpened }
  | { readonly kind: 'page'; readonly page: PdfPage }
  | { readonly kind: 'tile'; readonly bitmap: ImageBitmap }
  | { readonly kind: 'lines'; readonly drawing: LineDrawing | null }
  | { readonly kind: 'texts'; readonly texts: readonly string[] }
  | { readonly kind: 'failed'; readonly message: string };

export type FromPdf = { readonly id: number } & PdfAnswer;

import { sniffPicture } from './sniff.ts';
import type { NotAPicture, PictureType } from './types.ts';
import { isWhole } from './whole.ts';

/** Above this the picture is shown from a smaller copy: 4096 × 4096, what canvases of small devices bear. */
export const DISPLAY_PIXELS = 16_777_216;

/** A picture ready to draw. Known lengths refer to `width` × `height`, whatever the size of `bitmap`. */
export interface LoadedPicture {
  readonly ok: true;
  readonly mediaType: PictureType;
  /** Upright pixels of the picture itself. */
  readonly width: number;
  readonly height: number;
  /** Upright; a smaller copy when the picture has more than DISPLAY_PIXELS. The caller closes it. */
  readonly bitmap: ImageBitmap;
}

const DAMAGED: NotAPicture = {
  ok: false,
  message: 'The picture is damaged or cut short: the browser could not read it whole.',
};

/** A copy of at most DISPLAY_PIXELS; the given bitmap is closed. */
function reduced(bitmap: ImageBitmap): ImageBitmap | null {
  const factor = Math.sqrt(DISPLAY_PIXELS / (bitmap.width * bitmap.height));
  const canvas = new OffscreenCanvas(
    Math.max(1, Math.floor(bitmap.width * factor)),
    Math.max(1, Math.floor(bitmap.height * factor)),
  );
  const context = canvas.getContext('2d');
  if (context === null) return null;
  context.imageSmoothingQuality = 'high';
  context.drawImage(bitmap, 0, 0, canvas.width, canvas.height);
  bitmap.close();
  return canvas.transferToImageBitmap();
}

/**
 * Reads a picture whole, upright by its EXIF orientation, for showing on a canvas. The header is judged first, so a
 * hostile size never reaches the decoder; a file cut short is refused, not shown half. Browser or worker only. Never rejects: a damaged picture is an answer.
 */
export async function loadPicture(bytes: Uint8Array<ArrayBuffer>): Promise<LoadedPicture | NotAPicture> {
  const header = sniffPicture(bytes);
  if (!header.ok) return header;
  if (!isWhole(header.mediaType, bytes)) return DAMAGED;
  let bitmap: ImageBitmap;
  try {
    bitmap = await createImageBitmap(new Blob([bytes], { type: header.mediaType }), {
      imageOrientation: 'from-image',
    });
  } catch {
    return DAMAGED;
  }
  // The decoder's size is the truth: it may know an orientation the header reader does not.
  const { width, height } = bitmap;
  const shown = width * height > DISPLAY_PIXELS ? reduced(bitmap) : bitmap;
  if (shown === null) return { ok: false, message: 'The browser has no memory left to show the picture.' };
  return { ok: true, mediaType: header.mediaType, width, height, bitmap: shown };
}

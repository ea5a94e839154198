import type { Page } from '@playwright/test';
import { exifBlock, joined, text } from './make.ts';

/** A 12-megapixel picture as a phone stores it: lying on its side, with EXIF orientation 6 (turn clockwise to see it). */
export const PHONE = { storedWidth: 4000, storedHeight: 3000, width: 3000, height: 4000 } as const;

/** Puts an EXIF segment with this orientation right after the start of a JPEG. */
export function withOrientation(jpeg: Uint8Array, orientation: number): Uint8Array<ArrayBuffer> {
  const body = joined(text('Exif\0\0'), exifBlock(orientation, 'MM'));
  const length = body.length + 2;
  return joined(jpeg.subarray(0, 2), [0xff, 0xe1, length >> 8, length & 255], body, jpeg.subarray(2));
}

/**
 * Photographs a picture: drawn upright it would be 3000 x 4000 px with the picture across its middle, red in its top
 * left corner and green in its top right. Made in the page given, as JPEG with EXIF orientation 6.
 */
export async function phonePhoto(page: Page, png: Uint8Array): Promise<Uint8Array<ArrayBuffer>> {
  const base64 = await page.evaluate(
    async ({ source, size }) => {
      const image = new Image();
      image.src = `data:image/png;base64,${source}`;
      await image.decode();
      const canvas = document.createElement('canvas');
      canvas.width = size.storedWidth;
      canvas.height = size.storedHeight;
      const context = canvas.getContext('2d') as CanvasRenderingContext2D;
      // Upright (x, y) is stored at (y, storedHeight - x).
      context.transform(0, -1, 1, 0, 0, size.storedHeight);
      context.fillStyle = '#d8d2c4';
      context.fillRect(0, 0, size.width, size.height);
      context.fillStyle = '#ff0000';
      context.fillRect(0, 0, 300, 300);
      context.fillStyle = '#00ff00';
      context.fillRect(size.width - 300, 0, 300, 300);
      const height = (image.height * size.width) / image.width;
      context.drawImage(image, 0, (size.height - height) / 2, size.width, height);
      const blob = await new Promise<Blob | null>((done) => canvas.toBlob(done, 'image/jpeg', 0.85));
      const bytes = new Uint8Array(await (blob as Blob).arrayBuffer());
      let binary = '';
      for (let i = 0; i < bytes.length; i += 0x8000) {
        binary += String.fromCharCode(...bytes.subarray(i, i + 0x8000));
      }
      return btoa(binary);
    },
    { source: Buffer.from(png).toString('base64'), size: PHONE },
  );
  return withOrientation(new Uint8Array(Buffer.from(base64, 'base64')), 6);
}

import { wallsFromPicture } from '../io/proposals/fromPicture.ts';
import { greyOf } from '../io/proposals/ink.ts';
import { sheetCorners } from '../io/pictures/sheetCorners.ts';
import { straightenedPixels, type Pixels } from '../io/pictures/straightened.ts';
import type { FromPicture, ToPicture } from './pictureMessages.ts';

interface WorkerScope {
  onmessage: ((event: MessageEvent<ToPicture>) => void) | null;
  postMessage(message: FromPicture, transfer: Transferable[]): void;
}

const scope = self as unknown as WorkerScope;

/** The pixels of a bitmap, at `width` by `height`; the bitmap is closed. */
function pixelsOf(bitmap: ImageBitmap, width: number, height: number): Pixels {
  const context = new OffscreenCanvas(width, height).getContext('2d', { willReadFrequently: true });
  if (!context) throw new Error('no memory for the picture');
  context.imageSmoothingQuality = 'high';
  context.drawImage(bitmap, 0, 0, width, height);
  bitmap.close();
  return context.getImageData(0, 0, width, height);
}

async function answer(message: ToPicture): Promise<FromPicture> {
  const { width, height } = message.kind === 'walls' ? message : message.bitmap;
  const pixels = pixelsOf(message.bitmap, width, height);
  switch (message.kind) {
    case 'straighten': {
      const done = straightenedPixels(pixels, message.by);
      if (!done) return { kind: 'failed', message: 'the marks hold nothing' };
      const image = new ImageData(new Uint8ClampedArray(done.data), done.width, done.height);
      return { kind: 'straightened', bitmap: await createImageBitmap(image) };
    }
    case 'corners':
      return { kind: 'corners', corners: sheetCorners(greyOf(pixels.data, width, height)) };
    case 'walls':
      return {
        kind: 'walls',
        found: wallsFromPicture(greyOf(pixels.data, width, height), message.mmPerPixel),
      };
  }
}

scope.onmessage = ({ data }) => {
  void answer(data)
    .catch((error: unknown): FromPicture => ({
      kind: 'failed',
      message: error instanceof Error ? error.message : String(error),
    }))
    .then((said) => scope.postMessage(said, said.kind === 'straightened' ? [said.bitmap] : []));
};

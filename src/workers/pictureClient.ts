import type { PictureSpot } from '../engine/geometry/flattening.ts';
import type { Straighten } from '../engine/model/tracing.ts';
import type { Mm, Px } from '../engine/model/units.ts';
import type { PictureProposal } from '../io/proposals/fromPicture.ts';
import type { FromPicture, ToPicture } from './pictureMessages.ts';

/** Longer than this no question about a picture takes; then its worker is ended. Own choice. */
const PATIENCE_MS = 30_000;

export type Picture = ImageBitmap | HTMLImageElement;

/** Work on pictures, each piece in a worker of its own that ends with it. Bitmaps given are left as they are. Rejects with a plain reason. */
export interface PictureWork {
  straighten(bitmap: Picture, by: Straighten): Promise<ImageBitmap>;
  corners(bitmap: Picture): Promise<readonly PictureSpot[] | null>;
  walls(bitmap: Picture, width: Px, height: Px, mmPerPixel: Mm): Promise<PictureProposal>;
}

export function createPictureWork(start: () => Worker): PictureWork {
  const ask = async <K extends FromPicture['kind']>(
    kind: K,
    bitmap: Picture,
    message: (copy: ImageBitmap) => ToPicture,
  ): Promise<Extract<FromPicture, { kind: K }>> => {
    const copy = await createImageBitmap(bitmap);
    const worker = start();
    try {
      const said = await new Promise<FromPicture>((settle, fail) => {
        const timer = setTimeout(() => fail(new Error('it takes too long')), PATIENCE_MS);
        worker.onmessage = ({ data }: MessageEvent<FromPicture>) => {
          clearTimeout(timer);
          settle(data);
        };
        worker.onerror = () => {
          clearTimeout(timer);
          fail(new Error('the part that works on pictures could not be started'));
        };
        worker.postMessage(message(copy), [copy]);
      });
      if (said.kind !== kind)
        throw new Error(said.kind === 'failed' ? said.message : `answered ${said.kind}`);
      return said as Extract<FromPicture, { kind: K }>;
    } finally {
      worker.terminate();
    }
  };
  return {
    straighten: async (bitmap, by) =>
      (await ask('straightened', bitmap, (copy) => ({ kind: 'straighten', bitmap: copy, by }))).bitmap,
    corners: async (bitmap) =>
      (await ask('corners', bitmap, (copy) => ({ kind: 'corners', bitmap: copy }))).corners,
    walls: async (bitmap, width, height, mmPerPixel) =>
      (await ask('walls', bitmap, (copy) => ({ kind: 'walls', bitmap: copy, width, height, mmPerPixel })))
        .found,
  };
}

import type { PictureSpot } from '../engine/geometry/flattening.ts';
import type { Straighten } from '../engine/model/tracing.ts';
import type { Mm, Px } from '../engine/model/units.ts';
import type { PictureProposal } from '../io/proposals/fromPicture.ts';

/** What the worker for pictures is asked; the bitmap goes over to it. One question to a worker. */
export type ToPicture =
  | { readonly kind: 'straighten'; readonly bitmap: ImageBitmap; readonly by: Straighten }
  | { readonly kind: 'corners'; readonly bitmap: ImageBitmap }
  /** Walls looked for in a copy of `width` by `height`, of which a pixel is so many mm of the building. */
  | {
      readonly kind: 'walls';
      readonly bitmap: ImageBitmap;
      readonly width: Px;
      readonly height: Px;
      readonly mmPerPixel: Mm;
    };

export type FromPicture =
  | { readonly kind: 'straightened'; readonly bitmap: ImageBitmap }
  /** From the top left one, clockwise; null where the sheet's edge is not clear. */
  | { readonly kind: 'corners'; readonly corners: readonly PictureSpot[] | null }
  | { readonly kind: 'walls'; readonly found: PictureProposal }
  | { readonly kind: 'failed'; readonly message: string };

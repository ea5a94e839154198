import { spotOf } from '../../engine/geometry/flattening.ts';
import { flatteningOf, grainOf } from '../../engine/geometry/straightened.ts';
import type { Straighten } from '../../engine/model/tracing.ts';

/** Pixels with red, green, blue and opacity, row by row. */
export interface Pixels {
  readonly width: number;
  readonly height: number;
  readonly data: Uint8ClampedArray;
}

/** No side of a straightened picture is longer, px: what canvases of small devices bear. */
export const LONGEST_SIDE = 4096;

/** Size of the straightened picture, px: about as fine as the photograph is where it is marked. */
export function straightenedSize(s: Straighten): { readonly width: number; readonly height: number } {
  const fine = 1 / grainOf(s);
  const by = Math.min(fine, LONGEST_SIDE / Math.max(s.width, s.height));
  const px = (mm: number): number => Math.max(1, Math.min(LONGEST_SIDE, Math.round(mm * by)));
  return { width: px(s.width), height: px(s.height) };
}

/**
 * The photograph as it would look from straight above, every pixel by the exact mapping of the fit and mixed of the four it
 * falls between; what the photograph does not show is clear. `photo` may be a smaller copy of the picture that was marked.
 * Null where the marks hold nothing.
 */
export function straightenedPixels(photo: Pixels, s: Straighten): Pixels | null {
  const f = flatteningOf(s);
  if (!f) return null;
  const { width, height } = straightenedSize(s);
  const data = new Uint8ClampedArray(width * height * 4);
  const [byX, byY] = [photo.width / s.pictureWidth, photo.height / s.pictureHeight];
  for (let row = 0; row < height; row++)
    for (let col = 0; col < width; col++) {
      const flat = {
        x: s.left + ((col + 0.5) * s.width) / width,
        y: s.top + ((row + 0.5) * s.height) / height,
      };
      const spot = spotOf(f, flat);
      if (spot) mix(photo, spot.col * byX - 0.5, spot.row * byY - 0.5, data, 4 * (row * width + col));
    }
  return { width, height, data };
}

/** Writes the colour at a spot between pixel middles; nothing outside the picture. */
function mix(photo: Pixels, x: number, y: number, out: Uint8ClampedArray, at: number): void {
  const { width, height, data } = photo;
  if (!(x >= -0.5 && y >= -0.5 && x <= width - 0.5 && y <= height - 0.5)) return;
  const x0 = Math.max(0, Math.floor(x));
  const y0 = Math.max(0, Math.floor(y));
  const x1 = Math.min(width - 1, x0 + 1);
  const y1 = Math.min(height - 1, y0 + 1);
  const [fx, fy] = [Math.max(0, x - x0), Math.max(0, y - y0)];
  const [a, b, c, d] = [
    4 * (y0 * width + x0),
    4 * (y0 * width + x1),
    4 * (y1 * width + x0),
    4 * (y1 * width + x1),
  ];
  for (let k = 0; k < 4; k++) {
    const above = (data[a + k] as number) * (1 - fx) + (data[b + k] as number) * fx;
    const below = (data[c + k] as number) * (1 - fx) + (data[d + k] as number) * fx;
    out[at + k] = above * (1 - fy) + below * fy;
  }
}

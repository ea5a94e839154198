import { latin1, u16be, u16le, u32be, u32le } from './bytes.ts';
import type { Orientation } from './types.ts';

const ORIENTATION_TAG = 0x0112;
const SHORT = 3;

/**
 * Orientation from a TIFF block (the body of an EXIF segment, with or without its "Exif" heading).
 * 1 when there is none or the block is broken: a bad EXIF block must not cost the picture.
 * Source: TIFF 6.0 section 2, EXIF 2.32 tag 0x0112.
 */
export function exifOrientation(block: Uint8Array): Orientation {
  const tiff = latin1(block, 0, 6) === 'Exif\0\0' ? block.subarray(6) : block;
  const order = latin1(tiff, 0, 2);
  if (order !== 'II' && order !== 'MM') return 1;
  const u16 = order === 'II' ? u16le : u16be;
  const u32 = order === 'II' ? u32le : u32be;
  if (u16(tiff, 2) !== 42) return 1;
  const directory = u32(tiff, 4);
  if (directory === null) return 1;
  const count = u16(tiff, directory) ?? 0;
  for (let i = 0; i < count; i++) {
    const entry = directory + 2 + 12 * i;
    const tag = u16(tiff, entry);
    if (tag === null) return 1;
    if (tag !== ORIENTATION_TAG) continue;
    const value = u16(tiff, entry + 8);
    if (u16(tiff, entry + 2) !== SHORT || value === null || value < 1 || value > 8) return 1;
    return value as Orientation;
  }
  return 1;
}

/** True when the picture lies on its side in the file. */
export function swapsSides(orientation: Orientation): boolean {
  return orientation >= 5;
}

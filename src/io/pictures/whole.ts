import { latin1, u16be, u32be } from './bytes.ts';
import type { PictureType } from './types.ts';

/** Does a PNG reach its end chunk (IEND)? Source: PNG specification, 5.6. */
function pngEnds(bytes: Uint8Array): boolean {
  let at = 8;
  while (at + 12 <= bytes.length) {
    if (latin1(bytes, at + 4, 4) === 'IEND') return true;
    at += 12 + (u32be(bytes, at) as number);
  }
  return false;
}

/**
 * Does a JPEG reach an end marker (EOI) after its first scan? What follows that is allowed: phones add to it. A preview
 * inside EXIF has an end of its own, so the search begins at the scan. Source: ITU-T T.81 B.1.1.3.
 */
function jpegEnds(bytes: Uint8Array): boolean {
  let at = 2;
  while (at + 4 <= bytes.length && bytes[at + 1] !== 0xda) {
    const marker = bytes[at + 1] as number;
    if (marker === 0xff) at += 1;
    else if (marker === 0x01 || (marker >= 0xd0 && marker <= 0xd7)) at += 2;
    else at += 2 + Math.max(2, u16be(bytes, at + 2) as number);
  }
  for (let i = bytes.indexOf(0xff, at); i >= 0; i = bytes.indexOf(0xff, i + 1)) {
    if (bytes[i + 1] === 0xd9) return true;
  }
  return false;
}

/** Is the file there to its end? Browsers show the half of a picture that was cut short, and the rest in grey. */
export function isWhole(type: PictureType, bytes: Uint8Array): boolean {
  if (type === 'image/png') return pngEnds(bytes);
  // A WebP says its length at the start: sniffPicture has compared it.
  return type === 'image/webp' || jpegEnds(bytes);
}

import { latin1, u16le, u24le, u32le } from './bytes.ts';
import { exifOrientation } from './exif.ts';
import type { Orientation, StoredSize } from './types.ts';

const SHORT_FILE = 'The WebP file ends within its header.';

/** Size of a lossy frame. Source: RFC 6386 section 9.1. */
function lossySize(bytes: Uint8Array, body: number): StoredSize | string {
  if (bytes.length < body + 10) return SHORT_FILE;
  if (((bytes[body] as number) & 1) !== 0) return 'The WebP file does not begin with a key frame.';
  if (bytes[body + 3] !== 0x9d || bytes[body + 4] !== 0x01 || bytes[body + 5] !== 0x2a) {
    return 'The WebP file is damaged: its frame has no start code.';
  }
  const width = u16le(bytes, body + 6) as number;
  const height = u16le(bytes, body + 8) as number;
  return { width: width & 0x3fff, height: height & 0x3fff, orientation: 1 };
}

/** Size of a lossless frame. Source: RFC 9649 section 3.4 (14-bit fields after the signature byte 0x2f). */
function losslessSize(bytes: Uint8Array, body: number): StoredSize | string {
  const bits = u32le(bytes, body + 1);
  if (bits === null) return SHORT_FILE;
  if (bytes[body] !== 0x2f) return 'The WebP file is damaged: its lossless frame has no signature.';
  return { width: (bits & 0x3fff) + 1, height: ((bits >>> 14) & 0x3fff) + 1, orientation: 1 };
}

/** Orientation from the EXIF chunk of an extended file. Source: RFC 9649 section 2.7.1.5. */
function chunkOrientation(bytes: Uint8Array): Orientation {
  let at = 12;
  while (at + 8 <= bytes.length) {
    const size = u32le(bytes, at + 4) as number;
    if (latin1(bytes, at, 4) === 'EXIF') return exifOrientation(bytes.subarray(at + 8, at + 8 + size));
    at += 8 + size + (size % 2);
  }
  return 1;
}

/** Size of a WebP file of any of its three kinds. Source: RFC 9649 section 2. */
export function readWebp(bytes: Uint8Array): StoredSize | string {
  const declared = u32le(bytes, 4);
  if (declared === null || bytes.length < 20) return SHORT_FILE;
  if (declared + 8 > bytes.length) {
    return `The WebP file is cut short: it should have ${declared + 8} bytes and has ${bytes.length}.`;
  }
  const kind = latin1(bytes, 12, 4);
  if (kind === 'VP8 ') return lossySize(bytes, 20);
  if (kind === 'VP8L') return losslessSize(bytes, 20);
  if (kind !== 'VP8X') return 'The WebP file is damaged: its first chunk is not a picture.';
  const width = u24le(bytes, 24);
  const height = u24le(bytes, 27);
  if (width === null || height === null) return SHORT_FILE;
  return { width: width + 1, height: height + 1, orientation: chunkOrientation(bytes) };
}

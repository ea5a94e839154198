import { latin1, u16be } from './bytes.ts';
import { exifOrientation } from './exif.ts';
import type { Orientation, StoredSize } from './types.ts';

/** SOF0 to SOF15 without DHT (C4), JPG (C8) and DAC (CC). */
function isFrame(marker: number): boolean {
  return marker >= 0xc0 && marker <= 0xcf && marker !== 0xc4 && marker !== 0xc8 && marker !== 0xcc;
}

/** TEM and RST0 to RST7 stand alone, without a length. */
function standsAlone(marker: number): boolean {
  return marker === 0x01 || (marker >= 0xd0 && marker <= 0xd7);
}

/**
 * Size from the first frame header, orientation from the EXIF segment before it.
 * Source: ITU-T T.81 annex B (markers, frame header B.2.2), EXIF 2.32.
 */
export function readJpeg(bytes: Uint8Array): StoredSize | string {
  let orientation: Orientation = 1;
  let at = 2;
  for (;;) {
    if (at + 1 >= bytes.length) return 'The JPEG file ends before it says its size.';
    if (bytes[at] !== 0xff) return `The JPEG file is damaged at byte ${at}: a marker was expected.`;
    const marker = bytes[at + 1] as number;
    if (marker === 0xff) {
      at += 1;
      continue;
    }
    if (standsAlone(marker)) {
      at += 2;
      continue;
    }
    if (marker === 0xda || marker === 0xd9)
      return 'The JPEG file has no frame header: its size is not known.';
    const length = u16be(bytes, at + 2);
    if (length === null) return 'The JPEG file ends before it says its size.';
    if (length < 2) return `The JPEG file is damaged at byte ${at}: a segment of length ${length}.`;
    const end = at + 2 + length;
    if (isFrame(marker)) {
      if (length < 8) return `The JPEG file is damaged at byte ${at}: its frame header is too short.`;
      const height = u16be(bytes, at + 5);
      const width = u16be(bytes, at + 7);
      if (height === null || width === null) return 'The JPEG file ends before it says its size.';
      return { width, height, orientation };
    }
    if (marker === 0xe1 && latin1(bytes, at + 4, 6) === 'Exif\0\0') {
      orientation = exifOrientation(bytes.subarray(at + 4, Math.min(end, bytes.length)));
    }
    at = end;
  }
}

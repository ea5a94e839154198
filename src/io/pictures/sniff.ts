import { latin1 } from './bytes.ts';
import { swapsSides } from './exif.ts';
import { readJpeg } from './jpeg.ts';
import { readPng } from './png.ts';
import type { HeaderReader, NotAPicture, PictureHeader, PictureType } from './types.ts';
import { readWebp } from './webp.ts';

/** Limits of a picture: a header may promise more than memory holds (a 48 kB PNG can open to 1.6 GB). */
export const PICTURE_LIMITS = { bytes: 40_000_000, pixels: 64_000_000, side: 16_384 } as const;

const PNG_SIGNATURE = '\x89PNG\r\n\x1a\n';

function knownFormat(bytes: Uint8Array): { type: PictureType; read: HeaderReader } | null {
  if (latin1(bytes, 0, 8) === PNG_SIGNATURE) return { type: 'image/png', read: readPng };
  if (latin1(bytes, 0, 3) === '\xff\xd8\xff') return { type: 'image/jpeg', read: readJpeg };
  if (latin1(bytes, 0, 4) === 'RIFF' && latin1(bytes, 8, 4) === 'WEBP') {
    return { type: 'image/webp', read: readWebp };
  }
  return null;
}

const HEIC_BRANDS = ['heic', 'heix', 'hevc', 'hevx', 'heim', 'heis', 'mif1', 'msf1'];

/** The name of a format that is recognised but not read, or null. */
function unreadFormat(bytes: Uint8Array): string | null {
  const head = latin1(bytes, 0, 1024);
  if (/^GIF8[79]a/.test(head)) return 'GIF';
  if (head.includes('%PDF-')) return 'PDF';
  if (head.slice(4, 8) === 'ftyp') {
    const brand = head.slice(8, 12);
    if (HEIC_BRANDS.includes(brand)) return 'HEIC';
    if (brand === 'avif' || brand === 'avis') return 'AVIF';
  }
  if (head.startsWith('II*\0') || head.startsWith('MM\0*')) return 'TIFF';
  if (/^BM[\s\S]{4}\0\0\0\0/.test(head)) return 'BMP';
  if (/^(?:\xef\xbb\xbf)?\s*(?:<\?xml|<!--|<!DOCTYPE svg|<svg)/i.test(head) && /<svg[\s>]/i.test(head)) {
    return 'SVG';
  }
  if (/^\s*(?:999\r?\n[^\n]*\n\s*)*0\s*\r?\n\s*SECTION/.test(head)) return 'DXF';
  return null;
}

const HEIC =
  'This is an HEIC photograph, which is not read. Set the phone’s camera to take “most compatible” pictures, or send the photograph as JPEG.';

const refuse = (message: string): NotAPicture => ({ ok: false, message });

/**
 * What picture the bytes are, by their content and not their name: type, upright size in pixels, EXIF orientation.
 * Refuses, with one plain sentence, what is not PNG, JPEG or WebP, what is cut short within its header, and what is
 * beyond PICTURE_LIMITS. Reads headers only, so the whole may still prove damaged: see loadPicture. Never throws.
 */
export function sniffPicture(bytes: Uint8Array): PictureHeader | NotAPicture {
  if (bytes.length === 0) return refuse('The file is empty.');
  const format = knownFormat(bytes);
  if (format === null) {
    const named = unreadFormat(bytes);
    if (named === 'HEIC') return refuse(HEIC);
    return refuse(
      named === null
        ? 'This is not a picture: only PNG, JPEG and WebP are read.'
        : `This is a ${named} file, which is not read yet: use PNG, JPEG or WebP.`,
    );
  }
  if (bytes.length > PICTURE_LIMITS.bytes) {
    return refuse(`The picture file has ${(bytes.length / 1e6).toFixed(1)} MB; at most 40 MB are read.`);
  }
  const stored = format.read(bytes);
  if (typeof stored === 'string') return refuse(stored);
  const { orientation } = stored;
  const [width, height] = swapsSides(orientation)
    ? [stored.height, stored.width]
    : [stored.width, stored.height];
  const size = `${width} × ${height} pixels`;
  if (width === 0 || height === 0) return refuse(`The picture says it is ${size}: there is nothing in it.`);
  if (width > PICTURE_LIMITS.side || height > PICTURE_LIMITS.side) {
    return refuse(`The picture is ${size}; at most ${PICTURE_LIMITS.side} pixels a side are read.`);
  }
  if (width * height > PICTURE_LIMITS.pixels) {
    const mega = (width * height) / 1e6;
    return refuse(`The picture is ${size} (${mega.toFixed(1)} megapixels); at most 64 megapixels are read.`);
  }
  return { ok: true, mediaType: format.type, width, height, orientation };
}

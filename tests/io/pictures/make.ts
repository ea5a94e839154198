import { crc32 } from 'node:zlib';
import { PNG } from 'pngjs';

/** Bytes of a real PNG of one colour. */
export function pngBytes(width: number, height: number): Uint8Array<ArrayBuffer> {
  const png = new PNG({ width, height });
  png.data.fill(200);
  return new Uint8Array(PNG.sync.write(png));
}

/** Changes width and height in the header of a PNG, leaving its body as it is. */
export function pngClaiming(width: number, height: number): Uint8Array<ArrayBuffer> {
  const bytes = pngBytes(2, 2);
  new DataView(bytes.buffer).setUint32(16, width);
  new DataView(bytes.buffer).setUint32(20, height);
  return bytes;
}

/** A real small PNG that is this many bytes long: a chunk of its own, that readers pass over, fills it with `byte`. */
export function pngOfSize(bytes: number, byte: number): Uint8Array<ArrayBuffer> {
  const png = pngBytes(300, 200);
  const out = new Uint8Array(bytes).fill(byte);
  const header = 33;
  const extra = bytes - png.length;
  const view = new DataView(out.buffer);
  out.set(png.subarray(0, header));
  view.setUint32(header, extra - 12);
  out.set(text('zwFi'), header + 4);
  view.setUint32(header + extra - 4, crc32(out.subarray(header + 4, header + extra - 4)));
  out.set(png.subarray(header), header + extra);
  return out;
}

export const text = (s: string): Uint8Array<ArrayBuffer> => Uint8Array.from(s, (c) => c.charCodeAt(0));

export function joined(...parts: readonly (Uint8Array | readonly number[])[]): Uint8Array<ArrayBuffer> {
  return Uint8Array.from(parts.flatMap((p) => [...p]));
}

const be16 = (n: number): number[] => [(n >> 8) & 255, n & 255];
const le16 = (n: number): number[] => [n & 255, (n >> 8) & 255];
const le24 = (n: number): number[] => [...le16(n), (n >> 16) & 255];
const le32 = (n: number): number[] => [...le16(n), ...le16(n >>> 16)];
const be32 = (n: number): number[] => [...be16(n >>> 16), ...be16(n)];

/** A TIFF block with a decoy entry and the orientation tag, in either byte order. */
export function exifBlock(orientation: number, order: 'II' | 'MM'): Uint8Array {
  const u16 = order === 'II' ? le16 : be16;
  const u32 = order === 'II' ? le32 : be32;
  const entry = (tag: number, value: number): number[] => [
    ...u16(tag),
    ...u16(3),
    ...u32(1),
    ...u16(value),
    0,
    0,
  ];
  return joined(text(order), u16(42), u32(8), u16(2), entry(0x0100, 7), entry(0x0112, orientation), u32(0));
}

function segment(marker: number, body: Uint8Array | readonly number[]): Uint8Array {
  return joined([0xff, marker], be16(body.length + 2), body);
}

export interface JpegWish {
  readonly width: number;
  readonly height: number;
  /** 0xc0 baseline, 0xc2 progressive, ... */
  readonly frame?: number;
  readonly exif?: Uint8Array;
  readonly fill?: number;
}

/** The header of a JPEG up to its scan: APP0, EXIF if wanted, a quantisation table, the frame. */
export function jpegHeader(wish: JpegWish): Uint8Array<ArrayBuffer> {
  const { width, height, frame = 0xc0, exif, fill = 0 } = wish;
  return joined(
    [0xff, 0xd8],
    segment(0xe0, joined(text('JFIF\0'), [1, 1, 0, 0, 1, 0, 1, 0, 0])),
    exif === undefined ? [] : segment(0xe1, joined(text('Exif\0\0'), exif)),
    segment(0xdb, new Uint8Array(65)),
    new Uint8Array(fill).fill(0xff),
    segment(frame, [8, ...be16(height), ...be16(width), 1, 1, 0x11, 0]),
    segment(0xda, [1, 1, 0, 0, 63, 0]),
    [0x12, 0x34, 0xff, 0xd9],
  );
}

function chunk(name: string, body: Uint8Array): Uint8Array {
  return joined(text(name), le32(body.length), body, body.length % 2 === 1 ? [0] : []);
}

function riff(...chunks: readonly Uint8Array[]): Uint8Array<ArrayBuffer> {
  const body = joined(text('WEBP'), ...chunks);
  return joined(text('RIFF'), le32(body.length), body);
}

export function webpLossy(width: number, height: number): Uint8Array<ArrayBuffer> {
  // The two top bits of each side are a scaling hint and no part of the size.
  const sides = [...le16(width | 0x4000), ...le16(height | 0x8000)];
  return riff(chunk('VP8 ', joined([0x10, 0, 0, 0x9d, 0x01, 0x2a], sides, [1, 2, 3, 4])));
}

export function webpLossless(width: number, height: number): Uint8Array<ArrayBuffer> {
  const bits = width - 1 + (height - 1) * 2 ** 14;
  return riff(chunk('VP8L', joined([0x2f], le32(bits), [9, 9, 9, 9, 9])));
}

export function webpExtended(width: number, height: number, exif?: Uint8Array): Uint8Array<ArrayBuffer> {
  const head = joined([exif === undefined ? 0 : 8, 0, 0, 0], le24(width - 1), le24(height - 1));
  return riff(
    chunk('VP8X', head),
    chunk('VP8 ', joined([0x10, 0, 0, 0x9d, 0x01, 0x2a], le16(width), le16(height), [5])),
    ...(exif === undefined ? [] : [chunk('EXIF', exif)]),
  );
}

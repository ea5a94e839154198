import { describe, expect, test } from 'vitest';
import { PICTURE_LIMITS, sniffPicture } from '../../../src/io/pictures/sniff.ts';
import {
  exifBlock,
  joined,
  jpegHeader,
  pngBytes,
  pngClaiming,
  text,
  webpExtended,
  webpLossless,
  webpLossy,
} from './make.ts';

const message = (bytes: Uint8Array): string => {
  const read = sniffPicture(bytes);
  return read.ok ? `read as ${read.mediaType}` : read.message;
};

describe('what is read', () => {
  test('PNG: size from IHDR', () => {
    expect(sniffPicture(pngBytes(37, 11))).toEqual({
      ok: true,
      mediaType: 'image/png',
      width: 37,
      height: 11,
      orientation: 1,
    });
  });

  test.each([0xc0, 0xc1, 0xc2, 0xc3, 0xc5, 0xc9, 0xcf])('JPEG: size from frame header %i', (frame) => {
    expect(sniffPicture(jpegHeader({ width: 4000, height: 3000, frame }))).toMatchObject({
      mediaType: 'image/jpeg',
      width: 4000,
      height: 3000,
      orientation: 1,
    });
  });

  test('JPEG: fill bytes before a marker are passed over', () => {
    expect(sniffPicture(jpegHeader({ width: 640, height: 480, fill: 7 }))).toMatchObject({ width: 640 });
  });

  test.each(['II', 'MM'] as const)('JPEG: EXIF orientation in %s order turns the size', (order) => {
    for (let o = 1; o <= 8; o++) {
      const read = sniffPicture(jpegHeader({ width: 4032, height: 3024, exif: exifBlock(o, order) }));
      expect(read).toMatchObject({
        orientation: o,
        width: o >= 5 ? 3024 : 4032,
        height: o >= 5 ? 4032 : 3024,
      });
    }
  });

  test('a broken EXIF block leaves the picture upright', () => {
    for (const exif of [
      exifBlock(9, 'II'),
      exifBlock(0, 'MM'),
      text('II*'),
      exifBlock(6, 'II').subarray(0, 24),
    ]) {
      expect(sniffPicture(jpegHeader({ width: 40, height: 30, exif }))).toMatchObject({
        ok: true,
        orientation: 1,
        width: 40,
      });
    }
  });

  test('WebP: lossy, lossless and extended', () => {
    for (const make of [webpLossy, webpLossless, webpExtended]) {
      expect(sniffPicture(make(1601, 907))).toEqual({
        ok: true,
        mediaType: 'image/webp',
        width: 1601,
        height: 907,
        orientation: 1,
      });
    }
    expect(sniffPicture(webpExtended(1600, 900, exifBlock(8, 'II')))).toMatchObject({
      orientation: 8,
      width: 900,
      height: 1600,
    });
  });
});

describe('what is refused, and how it is said', () => {
  test('empty, and no picture at all', () => {
    expect(message(new Uint8Array())).toBe('The file is empty.');
    expect(message(text('hello, this is a letter'))).toContain('not a picture');
    expect(message(joined([0, 1, 2, 3]))).toContain('not a picture');
  });

  test.each([
    ['GIF', 'GIF89a\x01\0\x01\0'],
    ['PDF', '%PDF-1.7\n%'],
    ['SVG', '<?xml version="1.0"?>\n<svg xmlns="http://www.w3.org/2000/svg"/>'],
    ['SVG', '<svg width="3"/>'],
    ['DXF', '  0\r\nSECTION\r\n  2\r\nHEADER\r\n'],
    ['AVIF', '\0\0\0\x18ftypavif\0\0\0\0'],
    ['TIFF', 'II*\0\x08\0\0\0'],
  ])('%s is named as not read yet', (name, head) => {
    expect(message(text(head))).toBe(`This is a ${name} file, which is not read yet: use PNG, JPEG or WebP.`);
  });

  test('a photograph as phones keep them is refused with the two ways to change it', () => {
    for (const brand of ['heic', 'heix', 'mif1'])
      expect(message(text(`\0\0\0\x18ftyp${brand}\0\0\0\0`))).toMatch(/HEIC.*most compatible.*JPEG/);
  });

  test('a truncated header of each kind, at every length', () => {
    const png = pngBytes(3, 3);
    for (let n = 0; n < 33; n++) expect(sniffPicture(png.subarray(0, n)).ok, `${n} bytes`).toBe(false);
    expect(sniffPicture(png.subarray(0, 33)).ok).toBe(true);
    for (const bytes of [webpLossy(9, 9), webpLossless(9, 9), webpExtended(9, 9)]) {
      for (let n = 0; n < bytes.length; n++) {
        expect(sniffPicture(bytes.subarray(0, n)).ok, `${n} of ${bytes.length} bytes`).toBe(false);
      }
    }
    const jpeg = jpegHeader({ width: 9, height: 9, exif: exifBlock(6, 'II') });
    const frame = jpeg.lastIndexOf(0xc0);
    for (let n = 0; n < frame + 8; n++)
      expect(sniffPicture(jpeg.subarray(0, n)).ok, `${n} bytes`).toBe(false);
    expect(sniffPicture(jpeg.subarray(0, frame + 8)).ok).toBe(true);
  });

  test('no frame before the scan, a damaged segment, bytes that are no marker', () => {
    const soi = [0xff, 0xd8];
    expect(message(joined(soi, [0xff, 0xd9, 0, 0]))).toContain('no frame header');
    expect(message(joined(soi, [0xff, 0xe0, 0, 1, 0, 0]))).toContain('a segment of length 1');
    expect(message(joined(soi, [0xff, 0xc0, 0, 4, 8, 0, 0, 0]))).toContain('frame header is too short');
    expect(message(joined(soi, [0xff, 0xe0, 0, 2, 0x41, 0x41]))).toContain('damaged at byte 6');
  });

  test('a header chunk out of place, a colour type that is not allowed', () => {
    const bytes = pngBytes(3, 3);
    bytes[12] = 0x4a;
    expect(message(bytes)).toContain('IHDR');
    const colour = pngBytes(3, 3);
    colour[25] = 5;
    expect(message(colour)).toContain('colour type 5');
  });

  test('nothing in it', () => {
    expect(message(pngClaiming(0, 20))).toContain('0 × 20 pixels');
    expect(message(jpegHeader({ width: 0, height: 0 }))).toContain('0 × 0 pixels');
    expect(message(webpLossy(5, 0))).toContain('5 × 0 pixels');
  });

  test('too many pixels, too long a side: the size is told', () => {
    expect(message(pngClaiming(40_000, 100))).toContain('40000 × 100 pixels');
    expect(message(pngClaiming(16_385, 1))).toContain('at most 16384');
    expect(sniffPicture(pngClaiming(16_384, 1)).ok).toBe(true);
    expect(message(pngClaiming(8_001, 8_000))).toContain('64.0 megapixels');
    expect(sniffPicture(pngClaiming(8_000, 8_000)).ok).toBe(true);
    expect(message(pngClaiming(0xffffffff, 0xffffffff))).toContain('4294967295');
    expect(message(webpExtended(2 ** 24, 2 ** 24))).toContain('16777216 × 16777216');
  });

  test('too large a file', () => {
    const bytes = new Uint8Array(PICTURE_LIMITS.bytes + 1);
    bytes.set(pngBytes(3, 3));
    expect(message(bytes)).toContain('at most 40 MB');
    expect(sniffPicture(bytes.subarray(0, PICTURE_LIMITS.bytes)).ok).toBe(true);
  });

  test('a WebP cut short says how much is missing', () => {
    const bytes = webpLossless(9, 9);
    expect(message(bytes.subarray(0, bytes.length - 3))).toBe(
      `The WebP file is cut short: it should have ${bytes.length} bytes and has ${bytes.length - 3}.`,
    );
  });
});

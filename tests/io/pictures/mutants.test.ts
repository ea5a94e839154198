import { expect, test } from 'vitest';
import { PICTURE_LIMITS, sniffPicture } from '../../../src/io/pictures/sniff.ts';
import { isWhole } from '../../../src/io/pictures/whole.ts';
import { exifBlock, jpegHeader, pngBytes, text, webpExtended, webpLossless, webpLossy } from './make.ts';

/** A small seeded generator (mulberry32), so a failure can be repeated from its number. */
function seeded(seed: number): () => number {
  let a = seed >>> 0;
  return () => {
    a = (a + 0x6d2b79f5) >>> 0;
    let t = Math.imul(a ^ (a >>> 15), a | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  };
}

const STARTS: readonly Uint8Array[] = [
  pngBytes(20, 30),
  jpegHeader({ width: 400, height: 300, exif: exifBlock(6, 'II') }),
  jpegHeader({ width: 400, height: 300, frame: 0xc2, exif: exifBlock(3, 'MM') }),
  webpLossy(400, 300),
  webpLossless(400, 300),
  webpExtended(400, 300, exifBlock(8, 'II')),
  text('<svg width="3"/>'),
  text('  0\nSECTION\n  2\nHEADER\n'),
  text('999\nnote\n'.repeat(80)),
];

function mutant(seed: number): Uint8Array {
  const random = seeded(seed);
  const below = (n: number): number => Math.floor(random() * n);
  let bytes = Uint8Array.from(STARTS[below(STARTS.length)] as Uint8Array);
  const edits = 1 + below(6);
  for (let i = 0; i < edits && bytes.length > 0; i++) {
    const at = below(bytes.length);
    const how = below(6);
    if (how === 0) bytes[at] = below(256);
    if (how === 1) bytes[at] = (bytes[at] as number) ^ (1 << below(8));
    if (how === 2) bytes.fill(random() < 0.5 ? 0xff : 0, at, at + 1 + below(8));
    if (how === 3) bytes = bytes.slice(0, at);
    if (how === 4) bytes = Uint8Array.from([...bytes.slice(0, at), ...bytes.slice(at + 1 + below(9))]);
    if (how === 5) {
      const from = below(bytes.length);
      bytes = Uint8Array.from([...bytes.slice(0, at), ...bytes.slice(from), ...bytes.slice(at)]);
    }
  }
  return bytes;
}

test('3,000 mutants of headers: a size within the limits or one plain sentence, never anything else', () => {
  let read = 0;
  for (let seed = 1; seed <= 3000; seed++) {
    const answer = sniffPicture(mutant(seed));
    if (answer.ok) {
      read += 1;
      expect(typeof isWhole(answer.mediaType, mutant(seed)), `seed ${seed}`).toBe('boolean');
      const { width, height, orientation } = answer;
      for (const n of [width, height, orientation]) {
        expect(Number.isInteger(n) && n >= 1, `seed ${seed}`).toBe(true);
      }
      expect(Math.max(width, height), `seed ${seed}`).toBeLessThanOrEqual(PICTURE_LIMITS.side);
      expect(width * height, `seed ${seed}`).toBeLessThanOrEqual(PICTURE_LIMITS.pixels);
      expect(orientation, `seed ${seed}`).toBeLessThanOrEqual(8);
    } else {
      expect(answer.message, `seed ${seed}`).toMatch(/^[A-Z].*\.$/);
    }
  }
  // Both outcomes must occur, or the test would prove nothing.
  expect(read).toBeGreaterThan(300);
  expect(read).toBeLessThan(2700);
});

import { latin1, u32be } from './bytes.ts';
import type { StoredSize } from './types.ts';

const DEPTHS: Readonly<Record<number, readonly number[]>> = {
  0: [1, 2, 4, 8, 16],
  2: [8, 16],
  3: [1, 2, 4, 8],
  4: [8, 16],
  6: [8, 16],
};

/** Size from the IHDR chunk, which must come first. Source: PNG specification (W3C, third edition) 11.2.1. */
export function readPng(bytes: Uint8Array): StoredSize | string {
  if (bytes.length < 33) return 'The PNG file ends within its header.';
  if (u32be(bytes, 8) !== 13 || latin1(bytes, 12, 4) !== 'IHDR') {
    return 'The PNG file does not begin with its header chunk (IHDR).';
  }
  const depth = bytes[24] as number;
  const colour = bytes[25] as number;
  if (DEPTHS[colour]?.includes(depth) !== true) {
    return `The PNG header is damaged: colour type ${colour} with ${depth} bits is not allowed.`;
  }
  return { width: u32be(bytes, 16) as number, height: u32be(bytes, 20) as number, orientation: 1 };
}

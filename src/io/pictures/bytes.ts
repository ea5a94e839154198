/** Big-endian unsigned 16 bits, or null past the end. */
export function u16be(bytes: Uint8Array, at: number): number | null {
  const a = bytes[at];
  const b = bytes[at + 1];
  return a === undefined || b === undefined ? null : a * 256 + b;
}

/** Little-endian unsigned 16 bits, or null past the end. */
export function u16le(bytes: Uint8Array, at: number): number | null {
  const a = bytes[at];
  const b = bytes[at + 1];
  return a === undefined || b === undefined ? null : b * 256 + a;
}

/** Big-endian unsigned 32 bits, or null past the end. */
export function u32be(bytes: Uint8Array, at: number): number | null {
  const high = u16be(bytes, at);
  const low = u16be(bytes, at + 2);
  return high === null || low === null ? null : high * 65536 + low;
}

/** Little-endian unsigned 32 bits, or null past the end. */
export function u32le(bytes: Uint8Array, at: number): number | null {
  const low = u16le(bytes, at);
  const high = u16le(bytes, at + 2);
  return high === null || low === null ? null : high * 65536 + low;
}

/** Little-endian unsigned 24 bits, or null past the end. */
export function u24le(bytes: Uint8Array, at: number): number | null {
  const low = u16le(bytes, at);
  const high = bytes[at + 2];
  return low === null || high === undefined ? null : high * 65536 + low;
}

/** Bytes as Latin-1 text; shorter when the file ends first. */
export function latin1(bytes: Uint8Array, at: number, length: number): string {
  let text = '';
  for (let i = at; i < Math.min(at + length, bytes.length); i++)
    text += String.fromCharCode(bytes[i] as number);
  return text;
}

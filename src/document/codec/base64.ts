const LETTERS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/';
const VALUES = new Int16Array(128).fill(-1);
for (let i = 0; i < 64; i++) VALUES[LETTERS.charCodeAt(i)] = i;
/** The bytes of padded base64, or null where it is none: a stray character, wrong length, or bits left over. */
export function fromBase64(text: string): Uint8Array | null {
  if (text.length % 4 !== 0) return null;
  const padding = text.endsWith('==') ? 2 : text.endsWith('=') ? 1 : 0;
  const size = (text.length / 4) * 3 - padding;
  const out = new Uint8Array(size);
  let at = 0;
  for (let i = 0; i < text.length; i += 4) {
    let group = 0;
    const isLast = i + 4 === text.length;
    for (let k = 0; k < 4; k++) {
      const padded = isLast && k >= 4 - padding;
      const value = padded ? 0 : (VALUES[text.charCodeAt(i + k)] ?? -1);
      if (value < 0) return null;
      group = (group << 6) | value;
    }
    if (isLast && padding > 0 && (group & (padding === 2 ? 0xffff : 0xff)) !== 0) return null;
    for (let k = 0; k < 3 && at < size; k++) out[at++] = (group >> (16 - 8 * k)) & 0xff;
  }
  return out;
}

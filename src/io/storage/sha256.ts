// Round constants and start values: the first 32 bits of the fractional parts of the cube and square roots of the first
// primes (FIPS 180-4, sections 4.2.2 and 5.3.3), computed rather than copied.
const PRIMES: readonly number[] = (() => {
  const found: number[] = [];
  for (let n = 2; found.length < 64; n++) if (found.every((p) => n % p !== 0)) found.push(n);
  return found;
})();

/** First 32 fractional bits of the n-th root, exactly: floor(root(p · 2^(32 n))) modulo 2^32, by bisection on integers. */
function rootBits(prime: number, n: 2n | 3n): number {
  const target = BigInt(prime) << (32n * n);
  let low = 0n;
  let high = 1n << 40n;
  while (high - low > 1n) {
    const middle = (low + high) >> 1n;
    if (middle ** n <= target) low = middle;
    else high = middle;
  }
  return Number(low & 0xffffffffn);
}
const K = Uint32Array.from(PRIMES, (p) => rootBits(p, 3n));
const START = Uint32Array.from(PRIMES.slice(0, 8), (p) => rootBits(p, 2n));

const turn = (x: number, n: number): number => (x >>> n) | (x << (32 - n));

/**
 * SHA-256 of bytes, 64 hexadecimal digits (FIPS 180-4), at once: for the small records that must be written while the page
 * is being left, where waiting for the browser's own is too late.
 */
export function sha256Now(bytes: Uint8Array): string {
  const blocks = Math.ceil((bytes.length + 9) / 64);
  const padded = new Uint8Array(blocks * 64);
  padded.set(bytes);
  padded[bytes.length] = 0x80;
  const view = new DataView(padded.buffer);
  view.setUint32(padded.length - 8, Math.floor(bytes.length / 0x20000000));
  view.setUint32(padded.length - 4, (bytes.length << 3) >>> 0);
  const state = START.slice();
  const w = new Uint32Array(64);
  for (let block = 0; block < blocks; block++) {
    for (let i = 0; i < 16; i++) w[i] = view.getUint32(block * 64 + i * 4);
    for (let i = 16; i < 64; i++) {
      const a = w[i - 15] as number;
      const b = w[i - 2] as number;
      const s0 = turn(a, 7) ^ turn(a, 18) ^ (a >>> 3);
      const s1 = turn(b, 17) ^ turn(b, 19) ^ (b >>> 10);
      w[i] = (w[i - 16] as number) + s0 + (w[i - 7] as number) + s1;
    }
    compress(state, w);
  }
  return [...state].map((word) => word.toString(16).padStart(8, '0')).join('');
}

function compress(state: Uint32Array, w: Uint32Array): void {
  let [a, b, c, d, e, f, g, h] = state as unknown as [
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  for (let i = 0; i < 64; i++) {
    const s1 = turn(e, 6) ^ turn(e, 11) ^ turn(e, 25);
    const choice = (e & f) ^ (~e & g);
    const t1 = (h + s1 + choice + (K[i] as number) + (w[i] as number)) | 0;
    const s0 = turn(a, 2) ^ turn(a, 13) ^ turn(a, 22);
    const majority = (a & b) ^ (a & c) ^ (b & c);
    h = g;
    g = f;
    f = e;
    e = (d + t1) | 0;
    d = c;
    c = b;
    b = a;
    a = (t1 + ((s0 + majority) | 0)) | 0;
  }
  [a, b, c, d, e, f, g, h].forEach((v, i) => (state[i] = (state[i] as number) + v));
}

/** SHA-256 of text in UTF-8, at once. */
export function sha256Text(text: string): string {
  return sha256Now(new TextEncoder().encode(text));
}

/** SHA-256 of bytes, off the main thread where the browser offers it (secure pages only). */
export async function sha256(bytes: Uint8Array): Promise<string> {
  const subtle = globalThis.crypto?.subtle;
  if (!subtle) return sha256Now(bytes);
  const hash = new Uint8Array(await subtle.digest('SHA-256', new Uint8Array(bytes)));
  return [...hash].map((byte) => byte.toString(16).padStart(2, '0')).join('');
}

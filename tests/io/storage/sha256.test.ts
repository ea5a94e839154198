import { createHash } from 'node:crypto';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { sha256, sha256Now, sha256Text } from '../../../src/io/storage/sha256.ts';

describe('SHA-256', () => {
  it('gives the examples of FIPS 180 (one block, two blocks, a million letters a)', () => {
    expect(sha256Text('abc')).toBe('ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad');
    expect(sha256Text('abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq')).toBe(
      '248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1',
    );
    expect(sha256Text('a'.repeat(1_000_000))).toBe(
      'cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0',
    );
  });

  it('agrees with Node on any bytes, at once and later', async () => {
    await fc.assert(
      fc.asyncProperty(fc.uint8Array({ maxLength: 300 }), async (bytes) => {
        const node = createHash('sha256').update(bytes).digest('hex');
        expect(sha256Now(bytes)).toBe(node);
        expect(await sha256(bytes)).toBe(node);
      }),
      { seed: 180 },
    );
  });
});

import { crc32 as nodeCrc32 } from 'node:zlib';
import { zipSync } from 'fflate';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { crc32 } from '../../../src/io/zip/crc32.ts';
import { readZip } from '../../../src/io/zip/read.ts';
import type { ZipLimits } from '../../../src/io/zip/types.ts';
import { writeZip } from '../../../src/io/zip/write.ts';

const LIMITS: ZipLimits = {
  bytes: 100_000,
  parts: 4,
  ratio: 50,
  largest: (name) =>
    name === 'assets/' ? 0 : /^(plan\.json|assets\/[a-d]\.png)$/.test(name) ? 60_000 : null,
};
const text = (s: string): Uint8Array<ArrayBuffer> => new TextEncoder().encode(s);
const PLAN = text('{"walls": [1, 2, 3, 4, 5, 6, 7, 8, 9], "points": [1, 2, 3, 4, 5, 6, 7, 8, 9]}');
const PICTURE = new Uint8Array(500).map((_, i) => (i * 7919) % 251);
const good = (): Uint8Array<ArrayBuffer> =>
  writeZip(
    [
      { name: 'plan.json', bytes: PLAN, deflate: true },
      { name: 'assets/a.png', bytes: PICTURE, deflate: false },
    ],
    LIMITS.ratio,
  );

/** Where the n-th head of a kind begins: "PK" and two more bytes. */
function head(bytes: Uint8Array, kind: 'part' | 'entry' | 'end', n = 0): number {
  const [c, d] = { part: [3, 4], entry: [1, 2], end: [5, 6] }[kind] as [number, number];
  let found = -1;
  for (let i = 0; i + 4 <= bytes.length; i++)
    if (
      bytes[i] === 0x50 &&
      bytes[i + 1] === 0x4b &&
      bytes[i + 2] === c &&
      bytes[i + 3] === d &&
      ++found === n
    )
      return i;
  throw new Error(`no ${kind} ${n}`);
}
const set16 = (bytes: Uint8Array, at: number, value: number): void =>
  new DataView(bytes.buffer, bytes.byteOffset).setUint16(at, value, true);
const set32 = (bytes: Uint8Array, at: number, value: number): void =>
  new DataView(bytes.buffer, bytes.byteOffset).setUint32(at, value, true);
/** The good file with some bytes changed. */
const changed = (change: (bytes: Uint8Array) => void): Uint8Array => {
  const bytes = good();
  change(bytes);
  return bytes;
};
/** The good file with the name of its second part, as long as `assets/a.png`, changed in both places. */
const named = (name: string): Uint8Array => {
  if (name.length !== 12) throw new Error(`${name} has another length`);
  return changed((bytes) => {
    bytes.set(text(name), head(bytes, 'part', 1) + 30);
    bytes.set(text(name), head(bytes, 'entry', 1) + 46);
  });
};
const joined = (...parts: Uint8Array[]): Uint8Array => Uint8Array.from(parts.flatMap((p) => [...p]));
/** A file of parts with any names, by the library alone. */
const made = (...names: string[]): Uint8Array =>
  zipSync(Object.fromEntries(names.map((name) => [name, new Uint8Array(name.endsWith('/') ? 0 : 3)])), {
    level: 0,
  });
const twice = (): Uint8Array => {
  const bytes = made('assets/a.png', 'assets/b.png');
  for (const at of [head(bytes, 'part', 1) + 30, head(bytes, 'entry', 1) + 46])
    bytes.set(text('assets/a.png'), at);
  return bytes;
};
/** A part that says it unpacks to `says` bytes and does to more. */
const lying = (says: number): Uint8Array => {
  const bytes = zipSync({ 'plan.json': new Uint8Array(5_000_000) });
  set32(bytes, head(bytes, 'part') + 22, says);
  set32(bytes, head(bytes, 'entry') + 24, says);
  return bytes;
};

const BAD: readonly (readonly [what: string, bytes: Uint8Array, at: string, says: RegExp])[] = [
  ['nothing', new Uint8Array(), '', /cut short/],
  ['cut short by one byte', good().subarray(0, -1), '', /cut short/],
  ['cut in the middle', good().subarray(0, 300), '', /cut short/],
  ['with its beginning cut off', good().subarray(40), '', /not where the zip file says/],
  ['with bytes after its end', joined(good(), text('more')), '', /4 bytes after its end/],
  [
    'with a comment',
    joined(
      changed((b) => set16(b, head(b, 'end') + 20, 3)),
      text('abc'),
    ),
    '',
    /3 bytes after its end/,
  ],
  ['with bytes before its beginning', joined(text('#!/bin/sh'), good()), '', /put before or after/],
  ['larger than the limit', joined(new Uint8Array(100_000), good()), '', /at most 0\.1 MB are read/],
  [
    'of the kind for more than 4 GB',
    changed((b) => set32(b, head(b, 'end') + 16, 0xffffffff)),
    '',
    /more than 4 GB/,
  ],
  ['in several pieces', changed((b) => set16(b, head(b, 'end') + 4, 1)), '', /several pieces/],
  ['with too many parts', made('a', 'b', 'c', 'd', 'e'), '', /5 parts; at most 4/],
  [
    'with more parts than its list',
    changed((b) => (set16(b, head(b, 'end') + 8, 3), set16(b, head(b, 'end') + 10, 3))),
    '',
    /damaged at part 3/,
  ],
  [
    'with fewer parts than its list',
    changed((b) => (set16(b, head(b, 'end') + 8, 1), set16(b, head(b, 'end') + 10, 1))),
    '',
    /more in it than it says/,
  ],
  ['with a damaged list', changed((b) => (b[head(b, 'entry', 1)] = 0)), '', /damaged at part 2/],
  [
    'with a name longer than the list',
    changed((b) => set16(b, head(b, 'entry', 1) + 28, 60_000)),
    '',
    /damaged at part 2/,
  ],
  [
    'that holds more than the limit in all',
    changed((b) => {
      for (const n of [0, 1]) {
        set32(b, head(b, 'entry', n) + 24, 59_999);
        set32(b, head(b, 'entry', n) + 20, 59_999);
      }
    }),
    '',
    /unpacked; at most/,
  ],
  ['of another program', made('word/document.xml'), 'word/document.xml', /does not belong in a plan/],
  ['with a strange folder', made('assets/', 'other/'), 'other/', /does not belong/],
  ['with a name at the top of a disk', named('/etc/passwd1'), '/etc/passwd1', /top of a disk/],
  ['with a name on a named disk', named('C:/users/abc'), 'C:/users/abc', /top of a disk/],
  ['with a name that leads out', named('assets/../..'), 'assets/../..', /leads out of the zip file/],
  ['with a name of two steps back', named('../../ab.png'), '../../ab.png', /leads out/],
  ['with a backslash', named('assets\\a.png'), 'assets\\a.png', /step or a letter/],
  ['with a NUL in a name', named('assets/a\0png'), 'assets/a\0png', /step or a letter/],
  ['with an empty step', named('assets//.png'), 'assets//.png', /step or a letter/],
  ['with a part without a name', made(''), '', /has no name/],
  ['with a part twice', twice(), 'assets/a.png', /twice/],
  [
    'locked with a password',
    changed((b) => {
      for (const at of [head(b, 'part') + 6, head(b, 'entry') + 8]) set16(b, at, 1);
    }),
    'plan.json',
    /password/,
  ],
  [
    'packed in another way',
    changed((b) => {
      for (const at of [head(b, 'part') + 8, head(b, 'entry') + 10]) set16(b, at, 12);
    }),
    'plan.json',
    /method 12/,
  ],
  [
    'with a part over its limit',
    zipSync({ 'plan.json': text('ab cd '.repeat(10_001)) }),
    'plan.json',
    /at most 0\.1 MB/,
  ],
  [
    'with a part that unpacks to 1000 times its size',
    zipSync({ 'plan.json': new Uint8Array(50_000) }),
    'plan.json',
    /more than 50 times/,
  ],
  [
    'with two sizes of a stored part',
    changed((b) => set32(b, head(b, 'entry', 1) + 24, 501)),
    'assets/a.png',
    /two different sizes/,
  ],
  ['that unpacks to more than it says', lying(60_000), 'plan.json', /unpacks to more than its size/],
  [
    'that unpacks to less than it says',
    changed((b) => {
      for (const at of [head(b, 'part') + 22, head(b, 'entry') + 24]) set32(b, at, PLAN.length + 1);
    }),
    'plan.json',
    /unpacks to less/,
  ],
  [
    'with a broken stream',
    changed((b) => b.fill(0xff, head(b, 'part') + 39, head(b, 'part') + 50)),
    'plan.json',
    /damaged|unpacks to/,
  ],
  [
    'with a changed byte of a picture',
    changed((b) => {
      const at = head(b, 'part', 1) + 60;
      b[at] = (b[at] as number) ^ 1;
    }),
    'assets/a.png',
    /not those that were saved/,
  ],
  [
    'with a wrong checksum in both places',
    changed((b) => {
      for (const at of [head(b, 'part') + 14, head(b, 'entry') + 16]) set32(b, at, 1);
    }),
    'plan.json',
    /not those that were saved/,
  ],
  ['with two checksums', changed((b) => set32(b, head(b, 'part') + 14, 1)), 'plan.json', /contradict/],
  [
    'with two names of a part',
    changed((b) => (b[head(b, 'part', 1) + 37] = 0x62)),
    'assets/a.png',
    /contradict/,
  ],
  [
    'with two ways of packing a part',
    changed((b) => set16(b, head(b, 'part', 1) + 8, 8)),
    'assets/a.png',
    /contradict/,
  ],
  [
    'with parts over one another',
    changed((b) => set32(b, head(b, 'entry', 1) + 42, 0)),
    'assets/a.png',
    /lies over another|contradict/,
  ],
  [
    'with a part beyond the list',
    changed((b) => set32(b, head(b, 'entry', 1) + 42, 0x7fffffff)),
    'assets/a.png',
    /belong to no part/,
  ],
  [
    'with a part that reaches into the list',
    changed((b) => {
      for (const [kind, at] of [
        ['part', 18],
        ['entry', 20],
      ] as const) {
        set32(b, head(b, kind, 1) + at, 600);
        set32(b, head(b, kind, 1) + at + 4, 600);
      }
    }),
    'assets/a.png',
    /cut short/,
  ],
  [
    'with bytes of no part before the list',
    changed((b) => {
      for (const [kind, at] of [
        ['part', 18],
        ['entry', 20],
      ] as const) {
        set32(b, head(b, kind, 1) + at, 400);
        set32(b, head(b, kind, 1) + at + 4, 400);
      }
    }),
    '',
    /100 bytes that belong to no part/,
  ],
];

describe('the reader of zip files', () => {
  it('reads what was written', () => {
    const read = readZip(good(), LIMITS);
    expect(read).toEqual({
      ok: true,
      parts: new Map([
        ['plan.json', PLAN],
        ['assets/a.png', PICTURE],
      ]),
    });
  });

  it('takes a folder for what it is, and sizes that stand behind a part', () => {
    expect(readZip(made('assets/', 'plan.json'), LIMITS)).toEqual({
      ok: true,
      parts: new Map([['plan.json', new Uint8Array(3)]]),
    });
    const bytes = made('plan.json');
    const list = head(bytes, 'entry');
    const behind = joined(
      bytes.subarray(0, list),
      text('PK\x07\x08'),
      bytes.subarray(14, 26),
      bytes.subarray(list),
    );
    for (const at of [6, head(behind, 'entry') + 8]) set16(behind, at, 8);
    behind.fill(0, 14, 26);
    set32(behind, head(behind, 'end') + 16, list + 16);
    expect(readZip(behind, LIMITS)).toEqual({ ok: true, parts: new Map([['plan.json', new Uint8Array(3)]]) });
  });

  it.each(BAD)('refuses one %s, and says where', (_, bytes, at, says) => {
    const read = readZip(bytes, LIMITS);
    if (read.ok) throw new Error('it was read');
    expect(read.message).toMatch(says);
    expect(read.at).toBe(at);
  });

  it('never throws and never gives other bytes for the good file with any one byte changed', () => {
    const bytes = good();
    for (let i = 0; i < bytes.length; i++)
      for (const bit of [1, 0x80]) {
        const mutant = bytes.with(i, (bytes[i] as number) ^ bit);
        const read = readZip(mutant, LIMITS);
        if (!read.ok) continue;
        const same = [PLAN, PICTURE].every((part, n) =>
          Buffer.from(part).equals([...read.parts.values()][n] ?? new Uint8Array()),
        );
        expect(same, `byte ${i}`).toBe(true);
      }
  });
});

describe('the checksum', () => {
  it("is Node's own, and the check value of the published catalogue for 123456789", () => {
    expect(crc32(text('123456789'))).toBe(0xcbf43926);
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 300 }), (bytes) => {
        expect(crc32(bytes)).toBe(nodeCrc32(bytes));
      }),
      { seed: Number(process.env['ZONEWRIGHT_SEED'] ?? 32) },
    );
  });
});

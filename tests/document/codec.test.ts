import { createHash } from 'node:crypto';
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { Ajv2020 } from 'ajv/dist/2020.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fromBase64 } from '../../src/document/codec/base64.ts';
import { checkAssets, decodeFile, encodeDocument, problemText } from '../../src/document/codec/file.ts';
import { migrated } from '../../src/document/codec/migrate.ts';
import { planSchema } from '../../src/document/codec/planFile.ts';
import { scanJson } from '../../src/document/codec/scan.ts';
import { canonicalJson } from '../../src/document/codec/write.ts';
import { addPicture } from '../../src/document/commands/tracings.ts';
import { createStore } from '../../src/document/store.ts';
import { newDocument } from '../../src/engine/model/defaults.ts';
import { badFiles } from './badFiles.ts';
import { after, wired } from './plans.ts';
import { randomCommand, seeded } from './random.ts';

const SCHEMA = new URL('../../public/plan.schema.json', import.meta.url);
const README = new URL('../../sample-plans/README.md', import.meta.url);
const sha256 = (bytes: Uint8Array) => Promise.resolve(createHash('sha256').update(bytes).digest('hex'));
const bytesOf = (text: string) => new TextEncoder().encode(text);

describe('the canonical writer', () => {
  it('sorts keys, indents by two, ends lines with LF and writes -0 as 0', () => {
    expect(canonicalJson({ b: [1, -0], a: { z: '', y: [] }, c: {} })).toBe(
      '{\n  "a": {\n    "y": [],\n    "z": ""\n  },\n  "b": [\n    1,\n    0\n  ],\n  "c": {}\n}\n',
    );
  });

  it('replaces lone surrogates and throws on what JSON cannot hold', () => {
    expect(canonicalJson('a\uD800b\uDC00\u{1F600}')).toBe('"a\uFFFDb\uFFFD\u{1F600}"\n');
    for (const wrong of [NaN, Infinity, undefined, () => 0]) expect(() => canonicalJson({ wrong })).toThrow();
  });

  it('writes any JSON so that it reads back, whatever the order of keys', () => {
    fc.assert(
      fc.property(fc.jsonValue({ noUnicodeString: false }), (value) => {
        const text = canonicalJson(value);
        expect(scanJson(text)).toBeNull();
        const back = JSON.parse(text) as unknown;
        expect(canonicalJson(back)).toBe(text);
        expect(back).toEqual(JSON.parse(JSON.stringify(value).replace(/(?<![\d.e])-0(?![\d.])/g, '0')));
      }),
      { seed: 20260517, numRuns: 500 },
    );
  });
});

describe('the text scanner', () => {
  it('finds broken exactly what JSON.parse cannot read, on 4,000 mutants of a plan', () => {
    const good = encodeDocument(wired());
    const random = seeded(7);
    const alphabet = '{}[]",:\\/0123456789eE+-. \n\ttrufalsn\u0000\u007f\u2028x';
    for (let i = 0; i < 4000; i++) {
      const from = Math.floor(random() * good.length);
      const piece = good.slice(from, from + 400);
      const cut = Math.floor(random() * 400);
      const mutant = `[${piece.slice(0, cut)}${alphabet[Math.floor(random() * alphabet.length)] ?? ''}${piece.slice(cut + 1)}]`;
      const text = i % 2 ? mutant : good.slice(0, from) + (mutant[cut] ?? '') + good.slice(from + 1);
      let parses = true;
      try {
        JSON.parse(text);
      } catch {
        parses = false;
      }
      const problem = scanJson(text);
      if (problem === null) expect(parses, text).toBe(true);
      else if (!/twice|deeper/.test(problem.message)) expect(parses, text).toBe(false);
    }
  });
});

describe('the decoder', () => {
  const doc = wired();

  it('reads what the writer wrote, to the same bytes', () => {
    for (const each of [doc, newDocument('Empty')]) {
      const text = encodeDocument(each);
      const decoded = decodeFile(text);
      if (!decoded.ok) throw new Error(problemText(decoded.problem));
      expect(encodeDocument(decoded.doc)).toBe(text);
      expect(decoded.doc).toEqual(each);
    }
  });

  it('reads bytes, a byte order mark, CRLF, and replaces lone surrogates', () => {
    const text = encodeDocument(doc);
    for (const form of [
      `\uFEFF${text}`,
      bytesOf(text),
      bytesOf(`\uFEFF${text}`),
      text.replaceAll('\n', '\r\n'),
    ]) {
      const decoded = decodeFile(form);
      expect(decoded.ok && encodeDocument(decoded.doc)).toBe(text);
    }
    const lone = decodeFile(text.replace('Test room', 'Test \\ud800 room'));
    expect(lone.ok && lone.doc.job.title).toBe('Test \uFFFD room');
    const minus = decodeFile(text.replace('"level": 0', '"level": -0'));
    expect(minus.ok && Object.is(minus.doc.storeys.byId['s1']?.level, 0)).toBe(true);
  });

  it('keeps hostile names as text', () => {
    const hostile = '<img src=x onerror=alert(1)>\u202E\u0000=HYPERLINK("x")';
    const text = encodeDocument({ ...doc, job: { ...doc.job, title: hostile } });
    const decoded = decodeFile(text);
    expect(decoded.ok && decoded.doc.job.title).toBe(hostile);
  });

  it.each(badFiles(doc).map((b) => [b.name, b] as const))('refuses: %s', (_name, bad) => {
    const store = createStore(doc);
    const before = encodeDocument(store.getState().doc);
    const decoded = decodeFile(bad.file);
    if (decoded.ok) throw new Error('it was accepted');
    expect(decoded.problem.path).toBe(bad.path);
    expect(decoded.problem.message).toMatch(bad.message);
    if (bad.line !== undefined) expect(decoded.problem.line).toBe(bad.line);
    expect(problemText(decoded.problem)).not.toMatch(/\n/);
    expect(encodeDocument(store.getState().doc)).toBe(before);
    expect(Object.hasOwn(Object.prototype, 'polluted')).toBe(false);
    expect(({} as Record<string, unknown>)['polluted']).toBeUndefined();
  });

  it('refuses a file that is too large before reading it', () => {
    const decoded = decodeFile(new Uint8Array(50 * 1024 * 1024 + 1));
    expect(!decoded.ok && decoded.problem.message).toMatch(/larger than 50 MB/);
  });

  it('never throws on mutants of a good file', () => {
    const random = seeded(99);
    const good = encodeDocument(doc);
    const bits = ['null', '-1', '1e999', '"x"', '[]', '{}', 'true', '{', '"', ',', '\u0000', '__proto__'];
    let refused = 0;
    for (let i = 0; i < 600; i++) {
      const at = Math.floor(random() * good.length);
      const cut = Math.floor(random() * 12);
      const mutant =
        good.slice(0, at) + (bits[Math.floor(random() * bits.length)] ?? '') + good.slice(at + cut);
      const decoded = decodeFile(mutant);
      if (decoded.ok) continue;
      refused++;
      expect(decoded.problem.message).not.toBe('');
    }
    expect(refused).toBeGreaterThan(500);
  });
});

describe('migrations', () => {
  const steps = [
    (f: Readonly<Record<string, unknown>>) => ({ ...f, version: 2, two: true }),
    (f: Readonly<Record<string, unknown>>) => ({ ...f, version: 3, three: f['two'] }),
  ];
  it('go step by step from the version of the file', () => {
    expect(migrated({ version: 1 }, 1, steps)).toEqual({ version: 3, two: true, three: true });
    expect(migrated({ version: 2, two: 'own' }, 2, steps)).toEqual({ version: 3, two: 'own', three: 'own' });
    const newest = { version: 3 };
    expect(migrated(newest, 3, steps)).toBe(newest);
    expect(() => migrated({ version: 1 }, 1, [(f) => f])).toThrow(/did not set version 2/);
  });
});

describe('pictures inside the text, as files had them before zip files', () => {
  it('stand under their SHA-256 and come out the same', async () => {
    const bytes = new Uint8Array(100_000).map((_, i) => (i * 7919) % 256);
    const hash = await sha256(bytes);
    const doc = after(
      wired(),
      addPicture({ storey: 's1', name: 'p', mediaType: 'image/png', asset: hash, width: 10, height: 10 }),
    );
    const base64 = Buffer.from(bytes).toString('base64');
    const file = { ...doc, assets: { [hash]: { mediaType: 'image/png', base64 } } };
    const decoded = decodeFile(canonicalJson(file));
    if (!decoded.ok) throw new Error(problemText(decoded.problem));
    expect(encodeDocument(decoded.doc)).toBe(encodeDocument(doc));
    expect([...decoded.assets.keys()]).toEqual([hash]);
    expect(decoded.assets.get(hash)).toEqual(bytes);
    expect(await checkAssets(decoded.assets, sha256)).toBeNull();
    const wrong = new Map([[hash, bytes.with(5, 1)]]);
    expect(await checkAssets(wrong, sha256)).toMatchObject({ path: `assets.${hash}` });
  });

  it('base64 agrees with Node on any bytes, and refuses what is not canonical', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 300 }), (bytes) => {
        expect(fromBase64(Buffer.from(bytes).toString('base64'))).toEqual(bytes);
      }),
      { seed: 4648 },
    );
    for (const wrong of ['A', 'AB==', 'A===', 'AAA', '=AAA', 'AA=A', 'Zm9vé==='])
      expect(fromBase64(wrong)).toBeNull();
  });
});

describe('the JSON Schema', () => {
  const ajv = new Ajv2020({ strict: false });
  const validate = ajv.compile(planSchema() as object);

  it('in public/ is the one the decoder goes by (UPDATE_SCHEMA=1 writes it anew, then format)', () => {
    if (process.env['UPDATE_SCHEMA']) writeFileSync(SCHEMA, `${JSON.stringify(planSchema(), null, 2)}\n`);
    expect(JSON.parse(readFileSync(SCHEMA, 'utf8'))).toEqual(planSchema());
  });

  it('accepts what the decoder accepts: random plans', () => {
    for (const seed of [11, 12, 13]) {
      const random = seeded(seed);
      const store = createStore(wired());
      for (let i = 0; i < 200; i++) store.dispatch(randomCommand(store.getState().doc, random));
      const file = JSON.parse(encodeDocument(store.getState().doc)) as unknown;
      expect(validate(file), `seed ${seed} ${ajv.errorsText(validate.errors)}`).toBe(true);
      expect(decodeFile(JSON.stringify(file)).ok, `seed ${seed}`).toBe(true);
    }
  });

  it('refuses what the decoder refuses, but for what lies between records', () => {
    const agreed = badFiles(wired()).filter((b) => !b.beyondSchema && typeof b.file === 'string');
    expect(agreed.length).toBeGreaterThan(40);
    for (const bad of agreed) expect(validate(JSON.parse(bad.file as string)), bad.name).toBe(false);
    const between = badFiles(wired()).filter(
      (b) => b.beyondSchema && /^\{\n {2}"format": "zone/.test(String(b.file)),
    );
    expect(between.length).toBeGreaterThan(10);
    for (const bad of between) expect(validate(JSON.parse(bad.file as string)), bad.name).toBe(true);
  });

  it('agrees with the decoder on single random changes of a value', () => {
    const random = seeded(2020);
    const values: unknown[] = [
      null,
      -1,
      0,
      1,
      0.5,
      1e8,
      -1e8,
      '',
      'x',
      's1',
      'p1',
      [],
      {},
      true,
      '2026-05-17',
      [1],
    ];
    let both = 0;
    const good = encodeDocument(wired());
    for (let i = 0; i < 800; i++) {
      const file = JSON.parse(good) as Record<string, unknown>;
      changeOne(file, random, values[Math.floor(random() * values.length)]);
      const decoded = decodeFile(JSON.stringify(file));
      const valid = validate(file);
      // The decoder also looks at what lies between records; only then may it refuse what the schema accepts.
      // A file that was made an older version is brought up to date; the schema is of the newest alone.
      if (file['version'] === 1) continue;
      if (decoded.ok) expect(valid, ajv.errorsText(validate.errors)).toBe(true);
      else if (valid)
        expect(decoded.problem.message).toMatch(
          /names|stands under|in order|layers|node|label of|another|spot|run needs/,
        );
      both += decoded.ok === valid ? 1 : 0;
    }
    expect(both).toBeGreaterThan(700);
  });
});

/** Puts a value in a random place of a file. */
function changeOne(file: Record<string, unknown>, random: () => number, value: unknown): void {
  let at: Record<string, unknown> = file;
  for (;;) {
    const keys = Object.keys(at);
    const key = keys[Math.floor(random() * keys.length)];
    if (key === undefined) return;
    const next = at[key];
    if (typeof next === 'object' && next !== null && random() < 0.93) at = next as Record<string, unknown>;
    else return void (at[key] = value);
  }
}

describe('sample-plans', () => {
  const folder = new URL('../../sample-plans/', import.meta.url);
  const samples = readdirSync(folder).filter((name) => name.endsWith('.json'));
  it.each(samples)('%s opens, is valid by the schema, and is written canonically', (name) => {
    const text = readFileSync(new URL(name, folder), 'utf8');
    const decoded = decodeFile(text);
    if (!decoded.ok) throw new Error(problemText(decoded.problem));
    expect(encodeDocument(decoded.doc)).toBe(text);
    const ajv = new Ajv2020({ strict: false });
    expect(ajv.validate(planSchema() as object, JSON.parse(text)), ajv.errorsText()).toBe(true);
  });
});

describe('sample-plans/README.md', () => {
  it('has an example that opens, is a valid file by the schema, and is written canonically', () => {
    const readme = readFileSync(README, 'utf8');
    const example = /```json\n(\{\n  "acceptances"[\s\S]*?\n)```/.exec(readme)?.[1];
    if (example === undefined) throw new Error('no example found');
    const decoded = decodeFile(example);
    if (!decoded.ok) throw new Error(problemText(decoded.problem));
    expect(encodeDocument(decoded.doc)).toBe(example);
    expect(decoded.doc.runs.order.length).toBeGreaterThan(0);
    expect(new Ajv2020({ strict: false }).validate(planSchema() as object, JSON.parse(example))).toBe(true);
  });
});

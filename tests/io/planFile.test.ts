import { createHash } from 'node:crypto';
import { text as textOf } from 'node:stream/consumers';
import { strFromU8, strToU8, unzipSync, zipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import yauzl from 'yauzl';
import { checkAssets, encodeDocument } from '../../src/document/codec/file.ts';
import { canonicalJson } from '../../src/document/codec/write.ts';
import { addPicture, addTracing } from '../../src/document/commands/tracings.ts';
import type { Command } from '../../src/document/types.ts';
import type { PlanDocument } from '../../src/engine/model/document.ts';
import { decodePlan, encodePlan, readBack, type Encoded } from '../../src/io/planFile.ts';
import { PLAN_ZIP } from '../../src/io/planLimits.ts';
import { readOptions, answerFor } from '../../src/report/run.ts';
import { after, wired } from '../document/plans.ts';
import { seeded } from '../random.ts';
import { pngBytes } from './pictures/make.ts';

const sha = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');
const sha256 = (bytes: Uint8Array) => Promise.resolve(sha(bytes));
const picture = (name: string, bytes: Uint8Array): Command =>
  addPicture({ storey: 's1', name, mediaType: 'image/png', asset: sha(bytes), width: 10, height: 10 });
const lies = { on: 'storey', storey: 's1', x: 0, y: 0, rotation: 0 } as const;

const PNG = pngBytes(40, 30);
const PAGE = strToU8('%PDF-1.7 a page of an invented house');
/** Packs to less than a 200th of its size. */
const LINES = strToU8('0\nSECTION\n'.repeat(4000));
const assets = new Map([PNG, PAGE, LINES].map((bytes) => [sha(bytes), bytes]));
const size = { width: 100, height: 100 };
const full = (): PlanDocument =>
  after(
    wired(),
    picture('ground', PNG),
    picture('the same again', PNG),
    addTracing({
      name: 'page',
      lies,
      source: { kind: 'page', asset: sha(PAGE), page: 1, quarterTurns: 0, crop: null, layers: null, ...size },
    }),
    addTracing({
      name: 'drawing',
      lies,
      source: { kind: 'lines', asset: sha(LINES), unit: 1, offset: { x: 0, y: 0 }, layers: null, ...size },
    }),
  );

function encoded(doc: PlanDocument, given: ReadonlyMap<string, Uint8Array> = assets): Encoded {
  const file = encodePlan(doc, given);
  if (!file.ok) throw new Error(file.message);
  return file;
}

/** Every part of a zip file as another reader gives it: how it is packed, and its bytes as Latin-1 text. */
function byYauzl(
  bytes: Uint8Array,
): Promise<Map<string, { readonly method: number; readonly bytes: string }>> {
  return new Promise((done, failed) => {
    yauzl.fromBuffer(Buffer.from(bytes), { lazyEntries: true, strictFileNames: true }, (error, zip) => {
      if (error) return failed(error);
      const parts = new Map<string, { method: number; bytes: string }>();
      zip.on('error', failed);
      zip.on('end', () => done(parts));
      zip.on('entry', (entry: yauzl.Entry) => {
        zip.openReadStream(entry, (broken, stream) => {
          if (broken) return failed(broken);
          stream.setEncoding('latin1');
          void textOf(stream).then((text) => {
            parts.set(entry.fileName, { method: entry.compressionMethod, bytes: text });
            zip.readEntry();
          }, failed);
        });
      });
      zip.readEntry();
    });
  });
}
const latin1 = (bytes: Uint8Array): string => Buffer.from(bytes).toString('latin1');

describe('a plan without pictures', () => {
  it('is its text alone, as ever', () => {
    const file = encoded(wired());
    expect(file.kind.ending).toBe('.plan.json');
    expect(strFromU8(file.bytes)).toBe(encodeDocument(wired()));
    expect(decodePlan(file.bytes)).toEqual({ ok: true, doc: wired(), assets: new Map(), said: null });
  });
});

describe('a plan with pictures', () => {
  it('is a zip file that another reader unpacks: plan.json, and each picture once under its SHA-256', async () => {
    const doc = full();
    const parts = await byYauzl(encoded(doc).bytes);
    expect([...parts.keys()]).toEqual([
      'plan.json',
      `assets/${sha(PNG)}.png`,
      `assets/${sha(PAGE)}.pdf`,
      `assets/${sha(LINES)}.dxf`,
    ]);
    expect(parts.get('plan.json')?.bytes).toBe(latin1(strToU8(encodeDocument(doc))));
    expect(parts.get(`assets/${sha(PNG)}.png`)).toEqual({ method: 0, bytes: latin1(PNG) });
    expect(parts.get(`assets/${sha(PAGE)}.pdf`)).toEqual({ method: 0, bytes: latin1(PAGE) });
    // A text is packed only as far as no reader takes it for a trap.
    expect(parts.get(`assets/${sha(LINES)}.dxf`)).toEqual({ method: 0, bytes: latin1(LINES) });
    expect(parts.get('plan.json')?.method).toBe(8);
  });

  it('is read back whole, to the same plan, and saved again to the same bytes', async () => {
    const doc = full();
    const file = encoded(doc);
    expect(await readBack(file, doc, sha256)).toBeNull();
    const decoded = decodePlan(file.bytes);
    if (!decoded.ok) throw new Error(decoded.problem.message);
    expect(decoded).toEqual({ ok: true, doc, assets, said: null });
    expect(await checkAssets(decoded.assets, sha256)).toBeNull();
    expect(Buffer.from(encoded(decoded.doc, decoded.assets).bytes).equals(file.bytes)).toBe(true);
  });

  it('says how many of them are not in the file', () => {
    const some = new Map([[sha(PNG), PNG]]);
    const file = encoded(full(), some);
    expect(file.missing).toBe(2);
    expect(decodePlan(file.bytes)).toMatchObject({ said: '2 pictures of the plan are not in the file.' });
    expect(encoded(full(), new Map())).toMatchObject({ missing: 3, kind: { ending: '.plan.json' } });
  });

  it('with two scans of 20 MB is saved, and opens', async () => {
    const random = seeded(20);
    const scan = (): Uint8Array => {
      const bytes = new Uint8Array(20 * 1024 * 1024);
      const words = new Uint32Array(bytes.buffer);
      for (let i = 0; i < words.length; i++) words[i] = random() * 2 ** 32;
      return bytes;
    };
    const scans = [scan(), scan()] as const;
    const doc = after(wired(), picture('one', scans[0]), picture('two', scans[1]));
    const file = encoded(doc, new Map(scans.map((bytes) => [sha(bytes), bytes])));
    expect(file.bytes.length).toBeGreaterThan(40 * 1024 * 1024);
    expect(await readBack(file, doc, sha256)).toBeNull();
  });

  it('is refused before it is packed where a part is too large to open again', () => {
    const given = new Map([[sha(PNG), new Uint8Array(40_000_001)]]);
    expect(encodePlan(full(), given)).toEqual({
      ok: false,
      message:
        'One of the pictures of the plan has 38.1 MB; a file that can be opened again holds at most 38.1 MB of it.',
    });
    const many = Array.from({ length: 12 }, (_, i) => `${i}`.padStart(64, '0'));
    const doc = many.reduce(
      (plan, asset) =>
        after(plan, addPicture({ storey: 's1', name: asset, mediaType: 'image/png', asset, ...size })),
      wired(),
    );
    const shared = new Uint8Array(39_000_000);
    const all = encodePlan(doc, new Map(many.map((hash) => [hash, shared])));
    expect(all).toMatchObject({
      ok: false,
      message: /^The plan with its pictures has 446\.\d MB; .* 400 MB/,
    });
  });

  it('does not pass as saved when it reads back as anything else', async () => {
    const doc = full();
    const file = encoded(doc);
    const other = after(wired(), picture('ground', PNG));
    expect(await readBack(file, other, sha256)).toMatchObject({ message: 'it reads back as another plan' });
    expect(await readBack({ ...file, missing: 1 }, doc, sha256)).toMatchObject({ message: /without some/ });
    const damaged = file.bytes.slice();
    damaged[file.bytes.length - 1] = 7;
    expect(await readBack({ ...file, bytes: damaged }, doc, sha256)).not.toBeNull();
    const wrong = new Map(assets).set(sha(PNG), pngBytes(41, 30));
    expect(await readBack(encoded(doc, wrong), doc, sha256)).toMatchObject({ path: `assets.${sha(PNG)}` });
  });

  it('is answered by the report like the same plan without them', () => {
    const options = readOptions(['plan.zip', '--json']);
    if ('error' in options) throw new Error(options.error);
    const doc = full();
    const zipped = answerFor(options, encoded(doc).bytes);
    expect(zipped.code).toBe(0);
    expect(zipped).toEqual(answerFor(options, strToU8(encodeDocument(doc))));
    const cut = answerFor(options, encoded(doc).bytes.subarray(0, 300));
    expect(cut).toMatchObject({ code: 2, out: '', err: /^plan\.zip: the zip file is cut short/ });
  });
});

describe('zip files made by hand', () => {
  const parts = (): Record<string, Uint8Array> => unzipSync(encoded(full()).bytes);

  it('open: packed in another way, with a folder, a picture nobody uses, or the pictures in the text', () => {
    const packed = zipSync(
      { 'assets/': new Uint8Array(), ...parts(), [`assets/${sha(LINES)}.dxf`]: [LINES, { level: 0 }] },
      { level: 9 },
    );
    expect(decodePlan(packed)).toEqual({ ok: true, doc: full(), assets, said: null });
    const extra = zipSync({ ...parts(), [`assets/${'f'.repeat(64)}.jpg`]: PNG }, { level: 0 });
    expect(decodePlan(extra)).toMatchObject({ ok: true, assets });
    const base64 = Buffer.from(PNG).toString('base64');
    const old = { ...full(), assets: { [sha(PNG)]: { mediaType: 'image/png', base64 } } };
    const mixed = zipSync({ 'plan.json': strToU8(canonicalJson(old)) });
    expect(decodePlan(mixed)).toMatchObject({ ok: true, assets: new Map([[sha(PNG), PNG]]) });
  });

  it.each<[string, Record<string, Uint8Array>, string, RegExp]>([
    ['without a plan', { [`assets/${sha(PNG)}.png`]: PNG }, 'plan.json', /is missing/],
    ['with nothing in it', {}, 'plan.json', /is missing/],
    ['with a strange part', { 'notes.txt': PNG }, 'notes.txt', /does not belong/],
    ['with a part of no hash', { 'assets/plan.png': PNG }, 'assets/plan.png', /does not belong/],
    ['with a wrong plan', { 'plan.json': strToU8('{"format": 1}') }, 'format', /not a Zonewright plan/],
    [
      'with a picture by a wrong ending',
      { ...{ 'plan.json': strToU8(encodeDocument(full())) }, [`assets/${sha(PNG)}.jpg`]: PNG },
      `assets/${sha(PNG)}.jpg`,
      /should end in \.png/,
    ],
  ])('are refused %s, and say where', (_, files, at, says) => {
    const decoded = decodePlan(zipSync(files));
    expect(decoded.ok).toBe(false);
    if (decoded.ok) return;
    expect(decoded.problem.path).toBe(at);
    expect(decoded.problem.message).toMatch(says);
  });

  it('the limits are those told in sample-plans/README.md', () => {
    expect(PLAN_ZIP).toMatchObject({ bytes: 400 * 2 ** 20, parts: 2000, ratio: 200 });
    expect(PLAN_ZIP.largest('plan.json')).toBe(50 * 2 ** 20);
    expect(PLAN_ZIP.largest('assets/')).toBe(0);
    expect(PLAN_ZIP.largest(`assets/${sha(PNG)}.png`)).toBe(40_000_000);
    expect(PLAN_ZIP.largest(`assets/${sha(PNG)}.exe`)).toBeNull();
    expect(PLAN_ZIP.largest(`assets/${sha(PNG)}`)).toBeNull();
  });
});

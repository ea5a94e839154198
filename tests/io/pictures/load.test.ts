import { readFileSync } from 'node:fs';
import { chromium, type Browser, type Page } from '@playwright/test';
import ts from 'typescript';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { loadPicture } from '../../../src/io/pictures/load.ts';
import { sniffPicture } from '../../../src/io/pictures/sniff.ts';
import { joined, pngBytes, pngClaiming, text } from './make.ts';
import { PHONE, phonePhoto } from './phonePhoto.ts';

// The real loader in a real browser: its modules are served to the page as they are, with the types taken off.
const ORIGIN = 'http://pictures.test';
const SOURCE = new URL('../../../src/io/pictures/', import.meta.url);
const PLAN = new URL('../../../sample-plans/pottery-studio-plan.png', import.meta.url);

const HTML = `<!doctype html><script type="module">
  import { loadPicture } from './load.ts';
  window.loadPicture = loadPicture;
</script>`;

type Loader = { loadPicture: typeof loadPicture };

let browser: Browser;
let page: Page;

beforeAll(async () => {
  browser = await chromium.launch({
    executablePath: process.env.ZONEWRIGHT_CHROMIUM ?? '/usr/bin/chromium',
    args: ['--no-sandbox', '--disable-gpu'],
  });
  page = await browser.newPage();
  await page.route(`${ORIGIN}/**`, (route) => {
    const name = new URL(route.request().url()).pathname.slice(1);
    if (name === '') return route.fulfill({ contentType: 'text/html', body: HTML });
    const source = readFileSync(new URL(name, SOURCE), 'utf8');
    const { outputText } = ts.transpileModule(source, {
      compilerOptions: { target: ts.ScriptTarget.ES2022, module: ts.ModuleKind.ESNext },
    });
    return route.fulfill({ contentType: 'text/javascript', body: outputText });
  });
  await page.goto(`${ORIGIN}/`);
});
afterAll(() => browser.close());

interface Seen {
  readonly ok: boolean;
  readonly message?: string;
  readonly width?: number;
  readonly height?: number;
  readonly shown?: readonly [number, number];
  readonly corners?: readonly (readonly number[])[];
}

/** Loads in the page and says what came of it: sizes, and the colours just inside the two top corners. */
async function load(bytes: Uint8Array): Promise<Seen> {
  return page.evaluate(async (base64) => {
    const picture = await (window as unknown as Loader).loadPicture(
      Uint8Array.from(atob(base64), (c) => c.charCodeAt(0)),
    );
    if (!picture.ok) return picture;
    const { bitmap, width, height } = picture;
    const canvas = new OffscreenCanvas(bitmap.width, bitmap.height);
    const context = canvas.getContext('2d') as OffscreenCanvasRenderingContext2D;
    context.drawImage(bitmap, 0, 0);
    const at = (x: number): number[] => [...context.getImageData(x, 5, 1, 1).data];
    const corners = [at(5), at(bitmap.width - 6)];
    const shown = [bitmap.width, bitmap.height] as const;
    bitmap.close();
    return { ok: true, width, height, shown, corners };
  }, Buffer.from(bytes).toString('base64'));
}

describe('loadPicture in the browser', () => {
  test('the paper plan', async () => {
    const seen = await load(new Uint8Array(readFileSync(PLAN)));
    expect(seen).toMatchObject({ ok: true, width: 2000, height: 1300, shown: [2000, 1300] });
  });

  test('a phone photo of 12 megapixels stands upright by its EXIF orientation', async () => {
    const photo = await phonePhoto(page, new Uint8Array(readFileSync(PLAN)));
    expect(sniffPicture(photo)).toEqual({
      ok: true,
      mediaType: 'image/jpeg',
      width: PHONE.width,
      height: PHONE.height,
      orientation: 6,
    });
    const seen = await load(photo);
    expect(seen).toMatchObject({ ok: true, width: 3000, height: 4000, shown: [3000, 4000] });
    const [left, right] = seen.corners as readonly (readonly number[])[];
    expect([left?.[0] as number, right?.[1] as number].every((c) => c > 200)).toBe(true);
    expect([left?.[1] as number, right?.[0] as number].every((c) => c < 60)).toBe(true);
  });

  test("above 16.7 megapixels a smaller copy is shown, and the size told is the picture's own", async () => {
    const seen = await load(pngBytes(6000, 4000));
    expect(seen).toMatchObject({ ok: true, width: 6000, height: 4000 });
    const [w, h] = seen.shown as readonly [number, number];
    expect(w * h).toBeLessThanOrEqual(16_777_216);
    expect(w * h).toBeGreaterThan(16_000_000);
    expect(w / h).toBeCloseTo(1.5, 2);
  });

  test('a sound header with a damaged or missing body is refused in one sentence', async () => {
    const photo = await phonePhoto(page, new Uint8Array(readFileSync(PLAN)));
    const plan = new Uint8Array(readFileSync(PLAN));
    const half = (bytes: Uint8Array): Uint8Array => bytes.subarray(0, bytes.length / 2);
    const garbled = Uint8Array.from(plan);
    garbled.fill(0x55, 200, 4000);
    for (const bytes of [pngBytes(300, 300).subarray(0, 60), half(plan), half(photo), garbled]) {
      expect(sniffPicture(bytes).ok).toBe(true);
      expect(await load(bytes)).toEqual({
        ok: false,
        message: 'The picture is damaged or cut short: the browser could not read it whole.',
      });
    }
  });

  test('what follows the end of a photo does no harm', async () => {
    const photo = await phonePhoto(page, new Uint8Array(readFileSync(PLAN)));
    expect(await load(joined(photo, text('more from the phone')))).toMatchObject({ ok: true, height: 4000 });
  });

  test('a picture too large never reaches the decoder', async () => {
    expect(await load(pngClaiming(40_000, 40_000))).toMatchObject({
      ok: false,
      message: expect.stringContaining('40000 × 40000'),
    });
  });
});

import { readFile } from 'node:fs/promises';
import { expect, test, type Locator, type Page } from '@playwright/test';
import { drag, kept, sheetOf, type OnPage } from './draw.ts';
import { goTo, openEmpty, watch } from './page.ts';
import { ROOM, layeredPdf, manyPages, rawPdf, roomPdf, scanPdf } from './pdfs.ts';

/** Free pixels round what is shown whole. */
const FREE = 36;
const DXF = 'tests/io/dxf/made';
const PDF = 'tests/io/pdf/made';

async function give(page: Page, name: string, bytes: Uint8Array): Promise<void> {
  await page
    .getByLabel('Open a picture of the plan')
    .setInputFiles({ name, mimeType: 'application/octet-stream', buffer: Buffer.from(bytes) });
}

/** Places of a tracing that is shown whole, in mm of the plan from its top left corner. */
async function wholeOf(page: Page, width: number, height: number): Promise<(x: number, y: number) => OnPage> {
  const sheet = await sheetOf(page, 'plan');
  const scale = Math.min((sheet.width - 2 * FREE) / width, (sheet.height - 2 * FREE) / height);
  const left = sheet.x + (sheet.width - width * scale) / 2;
  const top = sheet.y + (sheet.height - height * scale) / 2;
  return (x, y) => [left + x * scale, top + y * scale];
}

async function knownLength(page: Page, line: readonly [OnPage, OnPage], length: string): Promise<void> {
  await drag(page, ...line);
  await page.getByLabel('Real length').fill(length);
  await page.getByLabel('Real length').press('Enter');
}

/** Share of a canvas's pixels that a test holds for, once it is drawn. */
async function share(canvas: Locator, what: 'dark' | 'red' | 'blue'): Promise<number> {
  return canvas.evaluate((element: HTMLCanvasElement, wanted) => {
    const data = element.getContext('2d')?.getImageData(0, 0, element.width, element.height).data ?? [];
    let found = 0;
    for (let i = 0; i < data.length; i += 4) {
      const [r, g, b] = [data[i] as number, data[i + 1] as number, data[i + 2] as number];
      if (data[i + 3] === 0) continue;
      if (wanted === 'dark' && r + g + b < 300) found++;
      if (wanted === 'red' && r > 150 && g < 120 && b < 120) found++;
      if (wanted === 'blue' && b > 150 && r < 120 && g < 120) found++;
    }
    return found / (data.length / 4);
  }, what);
}

test('from a PDF to a wall: page chosen, scale borne out by snapped lengths, traced, saved, opened again', async ({
  page,
}) => {
  test.setTimeout(120_000);
  const { problems } = watch(page);
  await openEmpty(page);
  await goTo(page, 'Drawing');
  await give(page, 'plan.pdf', await roomPdf());
  const dialog = page.getByRole('dialog', { name: 'plan.pdf' });
  await dialog.getByRole('radio', { name: 'Page 2' }).check();
  await expect(dialog.getByText('The page is of A3 size.')).toBeVisible();
  await expect(dialog.getByLabel('Scale to start from')).toHaveValue('50');
  await expect.poll(() => share(dialog.getByRole('img', { name: 'Page 2' }), 'dark')).toBeGreaterThan(0.001);
  await dialog.getByRole('button', { name: 'Lay it under the plan' }).click();

  const tracing = page.getByRole('region', { name: 'Tracing plan.pdf' });
  await expect(tracing).toContainText('metres are refused rather than guessed');
  await expect(tracing).toContainText('The page says 1:50 @ A3. The page is of A3 size.');
  const under = page.locator('[data-region=plan] canvas').first();
  await expect.poll(() => share(under, 'dark')).toBeGreaterThan(0.0005);

  // The sheet at 1:50 is 21 by 14.85 m; the lines of the room are at these millimetres of paper, times fifty.
  const at = await wholeOf(page, 420 * 50, 297 * 50);
  const inside = {
    x0: (ROOM.left + ROOM.wall) * 50,
    y0: (ROOM.top + ROOM.wall) * 50,
    x1: (ROOM.left + ROOM.width - ROOM.wall) * 50,
    y1: (ROOM.top + ROOM.height - ROOM.wall) * 50,
  };
  // Some 40 mm beside the lines: the marks are drawn to them.
  await knownLength(page, [at(inside.x0 + 40, 5000), at(inside.x1 - 40, 5000)], '8600');
  await expect(tracing).toContainText('The known length bears it out.');
  await knownLength(page, [at(5000, inside.y0 + 40), at(5000, inside.y1 - 40)], '4700');
  await expect(tracing).toContainText('17.64 mm per point of the page');
  await expect(tracing).toContainText('Lengths disagree by0.00 %');

  await goTo(page, 'Fabric');
  await page.keyboard.press('Escape');
  await page.getByRole('button', { name: 'Wall', exact: true }).click();
  await page.mouse.move(...at(inside.x0 + 60, inside.y0 + 50));
  await page.mouse.click(...at(inside.x0 + 60, inside.y0 + 50));
  await page.mouse.move(...at(inside.x1 - 60, inside.y0 + 40), { steps: 4 });
  await page.mouse.click(...at(inside.x1 - 60, inside.y0 + 40));
  await page.keyboard.press('Escape');
  const wall = page.locator('[data-region=plan] [data-ref^="walls:"]');
  await expect(wall).toHaveCount(1);
  await expect(wall).toHaveAttribute('aria-label', /^Wall w1, 8.600 mm/);
  await kept(page);

  await page.evaluate(() => Reflect.deleteProperty(window, 'showSaveFilePicker'));
  const waiting = page.waitForEvent('download');
  await page.keyboard.press('ControlOrMeta+s');
  const saved = await waiting;
  const bytes = await readFile(await saved.path());
  await page.getByRole('button', { name: 'File', exact: true }).click();
  await page.getByRole('menuitem', { name: 'New plan' }).click();
  await page.getByRole('button', { name: 'Put it away unsaved' }).click();
  await expect(wall).toHaveCount(0);
  await page
    .getByLabel('Open a plan file')
    .setInputFiles({ name: saved.suggestedFilename(), mimeType: 'application/octet-stream', buffer: bytes });
  await expect(wall).toHaveCount(1);
  await expect.poll(() => share(under, 'dark'), { timeout: 15_000 }).toBeGreaterThan(0.0005);
  expect(problems).toEqual([]);
});

test('an A3 sheet printed on A4 is named as such once a length is known', async ({ page }) => {
  await openEmpty(page);
  await goTo(page, 'Drawing');
  await give(page, 'printed.pdf', await roomPdf(210 / 297));
  const dialog = page.getByRole('dialog', { name: 'printed.pdf' });
  await dialog.getByRole('radio', { name: 'Page 2' }).check();
  await expect(dialog.getByText(/It says 1:50 @ A3, and the page is A4/)).toBeVisible();
  await dialog.getByRole('button', { name: 'Lay it under the plan' }).click();
  const small = 210 / 297;
  const at = await wholeOf(page, 420 * 50 * small, 297 * 50 * small);
  const [x0, x1] = [ROOM.left + ROOM.wall, ROOM.left + ROOM.width - ROOM.wall].map((x) => x * 50 * small);
  await knownLength(page, [at((x0 as number) + 30, 4000), at((x1 as number) - 30, 4000)], '8600');
  await expect(page.getByRole('region', { name: 'Tracing printed.pdf' })).toContainText(
    'one sheet too small, as an A3 drawing printed on A4',
  );
});

test('layers, quarter turns and the part of a page are chosen', async ({ page }) => {
  await openEmpty(page);
  await goTo(page, 'Drawing');
  await give(page, 'layers.pdf', await layeredPdf());
  const dialog = page.getByRole('dialog', { name: 'layers.pdf' });
  const shown = dialog.getByRole('img', { name: 'Page 1' });
  await expect.poll(() => share(shown, 'red')).toBeGreaterThan(0.002);
  expect(await share(shown, 'blue')).toBe(0);
  await dialog.getByRole('checkbox', { name: 'Furniture' }).check();
  await dialog.getByRole('checkbox', { name: 'Walls' }).uncheck();
  await expect.poll(() => share(shown, 'blue')).toBeGreaterThan(0.002);
  expect(await share(shown, 'red')).toBe(0);
  await dialog.getByRole('button', { name: 'Quarter turn' }).click();
  const size = () => shown.evaluate((c: HTMLCanvasElement) => c.width / c.height);
  await expect.poll(size).toBeCloseTo(2 / 3, 2);
  const box = await shown.boundingBox();
  if (!box) throw new Error('no page is shown');
  await drag(page, [box.x + 20, box.y + 20], [box.x + box.width - 20, box.y + box.height / 2]);
  const right = dialog.getByLabel('Right edge');
  await expect(right).not.toHaveValue('71');
  await right.fill('60');
  await right.press('Enter');
  await expect(right).toHaveValue('60');
  await dialog.getByRole('button', { name: 'Whole page' }).click();
  await expect(right).toHaveValue('71');
  await dialog.getByRole('button', { name: 'Cancel' }).click();
  await expect(page.getByRole('region', { name: /^Tracing/ })).toHaveCount(0);
});

test('a DXF in metres whose header says inches: unit by its doors, walls found, accepted and undone as one', async ({
  page,
}) => {
  test.setTimeout(120_000);
  const { problems } = watch(page);
  await openEmpty(page);
  await goTo(page, 'Drawing');
  await give(page, 'rooms.dxf', await readFile(`${DXF}/rooms-metres-says-inches.dxf`));
  const dialog = page.getByRole('dialog', { name: 'rooms.dxf' });
  await expect(dialog).toContainText('The file says inches; such notes are often wrong.');
  await expect(dialog.getByRole('radio', { name: /^metres/ })).toBeChecked();
  await expect(dialog.getByText('the doors would be 900 mm wide')).toBeVisible();
  await dialog.getByRole('button', { name: 'Lay it under the plan' }).click();
  const tracing = page.getByRole('region', { name: 'Tracing rooms.dxf' });
  await expect(tracing).toContainText('metres are refused rather than guessed');
  await expect(tracing.getByRole('button', { name: 'Find walls' })).toBeDisabled();
  // 7.2 by 4.1 m with 2 in 100 of the longer side round it; the outer wall's faces are its edges.
  const room = 0.02 * 7200;
  const at = await wholeOf(page, 7200 + 2 * room, 4100 + 2 * room);
  await knownLength(page, [at(room + 15, room + 900), at(room + 7185, room + 900)], '7200');
  await expect(tracing).toContainText('1000 mm per unit of the drawing');
  await tracing.getByRole('button', { name: 'Find walls' }).click();
  const proposed = page.getByRole('region', { name: 'Proposed walls' });
  await expect(proposed.getByRole('heading')).toContainText(/^5 walls proposed from rooms.dxf/);
  await proposed.getByRole('button', { name: 'Accept 5 ticked' }).click();
  const walls = page.locator('[data-region=plan] [data-ref^="walls:"]');
  await expect.poll(() => walls.count()).toBeGreaterThanOrEqual(5);
  await page.getByRole('button', { name: /^Undo/ }).click();
  await expect(walls).toHaveCount(0);
  expect(problems).toEqual([]);
});

interface Hostile {
  readonly row: string;
  readonly name: string;
  readonly bytes: () => Promise<Uint8Array> | Uint8Array;
  /** What it is refused with, or that it is offered. */
  readonly answer: RegExp | 'offered';
}

const text = (content: string): Uint8Array => Uint8Array.from(content, (c) => c.charCodeAt(0));
const ONE = '0\nLINE\n8\nWALLS\n10\n0\n20\n0\n11\n5000\n21\n4000\n';
/** Two lines: the last of a file that is cut short is not whole, and is left out. */
const LINE = `0\nSECTION\n2\nENTITIES\n${ONE}${ONE}0\nENDSEC\n0\nEOF\n`;
const form = '/Resources << /XObject << /F 5 0 R >> >>';
const scan = async (file: string, filter: string, more: string): Promise<Uint8Array> =>
  scanPdf(await readFile(`${PDF}/${file}`), filter, 160, 96, more);
const BILEVEL = '/ColorSpace /DeviceGray /BitsPerComponent 1';

const HOSTILE: readonly Hostile[] = [
  { row: '30a', name: 'empty.pdf', bytes: () => text(''), answer: /is empty/ },
  { row: '30b', name: 'no.pdf', bytes: () => text('Dear Sir'), answer: /damaged, or is no PDF/ },
  {
    row: '30c',
    name: 'cut.pdf',
    bytes: async () => (await roomPdf()).slice(0, 90),
    answer: /damaged, or is no PDF/,
  },
  {
    row: '32',
    name: 'script.pdf',
    bytes: () =>
      rawPdf({
        catalog:
          '/OpenAction << /S /JavaScript /JS (document.title="ran"; fetch("http://example.invalid/")) >>',
      }),
    answer: 'offered',
  },
  {
    row: '33',
    name: 'matrix.pdf',
    bytes: () =>
      rawPdf({
        content: 'BT /F 12 Tf 20 20 Td (a) Tj ET 0 0 50 50 re f',
        page: '/Resources << /Font << /F << /Type /Font /Subtype /Type1 /BaseFont /X /FontMatrix [1 2 3 4 5 (0\\); document.title=\\"ran\\"; //)] >> >> >>',
      }),
    answer: 'offered',
  },
  {
    row: '34',
    name: 'form.pdf',
    bytes: () =>
      rawPdf({
        catalog: '/AcroForm << /Fields [5 0 R] >>',
        page: '/Annots [5 0 R]',
        more: [
          '<< /Type /Annot /Subtype /Widget /FT /Tx /T (a) /Rect [0 0 90 20] /AA << /K << /S /JavaScript /JS (document.title="ran") >> >> >>',
        ],
      }),
    answer: 'offered',
  },
  { row: '35', name: 'huge.pdf', bytes: () => rawPdf({ box: '0 0 1000000 1000000' }), answer: 'offered' },
  {
    row: '36a',
    name: 'loop.pdf',
    bytes: () => rawPdf({ pages: '<< /Type /Pages /Kids [2 0 R] /Count 1 >>' }),
    answer: /loop\.pdf: .*The open plan is untouched/,
  },
  {
    row: '36b',
    name: 'count.pdf',
    bytes: () => rawPdf({ pages: '<< /Type /Pages /Kids [3 0 R] /Count 100000000 >>' }),
    answer: 'offered',
  },
  {
    row: '37',
    name: 'self.pdf',
    bytes: () =>
      rawPdf({
        content: '/F Do 0 0 50 50 re f',
        page: form,
        more: [
          `<< /Type /XObject /Subtype /Form /BBox [0 0 9 9] ${form} /Length 5 >>\nstream\n/F Do\nendstream`,
        ],
      }),
    answer: 'offered',
  },
  {
    row: '38',
    name: 'bomb.pdf',
    bytes: () =>
      rawPdf({
        content: 'q 300 0 0 200 0 0 cm /F Do Q 0 0 50 50 re f',
        page: form,
        more: [
          '<< /Type /XObject /Subtype /Image /Width 60000 /Height 60000 /ColorSpace /DeviceGray /BitsPerComponent 8 /Length 3 >>\nstream\nabc\nendstream',
        ],
      }),
    answer: 'offered',
  },
  {
    row: '39 CCITT',
    name: 'ccitt.pdf',
    bytes: () =>
      scan(
        'scan.g4',
        '/CCITTFaxDecode',
        `${BILEVEL} /DecodeParms [null << /K -1 /Columns 160 /Rows 96 /BlackIs1 true >>]`,
      ),
    answer: 'offered',
  },
  {
    row: '39 JBIG2',
    name: 'jbig2.pdf',
    bytes: () => scan('scan.jb2', '/JBIG2Decode', `${BILEVEL} /Decode [1 0]`),
    answer: 'offered',
  },
  { row: '39 JPX', name: 'jpx.pdf', bytes: () => scan('scan.jp2', '/JPXDecode', ''), answer: 'offered' },
  { row: '41a', name: 'empty.dxf', bytes: () => text(''), answer: /is empty/ },
  { row: '41b', name: 'text.dxf', bytes: () => text('Dear Sir'), answer: /text\.dxf: .*untouched/ },
  {
    row: '42a',
    name: 'binary.dxf',
    bytes: () => text('AutoCAD Binary DXF\r\n\u001a\u0000'),
    answer: /binary DXF.*ASCII DXF/,
  },
  {
    row: '42b',
    name: 'dwg.dxf',
    bytes: () => text('AC1032\u0000\u0000'),
    answer: /This is a DWG.*ASCII DXF/,
  },
  {
    row: '43a',
    name: 'no end.dxf',
    bytes: () => text(LINE.replace('0\nENDSEC\n0\nEOF\n', '')),
    answer: 'offered',
  },
  { row: '43b', name: 'odd.dxf', bytes: () => text(LINE.replace('0\nEOF\n', '0\n')), answer: 'offered' },
  { row: '44a', name: 'cr.dxf', bytes: () => text(LINE.replaceAll('\n', '\r')), answer: 'offered' },
  {
    row: '44b',
    name: 'mixed.dxf',
    bytes: () => text(LINE.replace(/\n/, '\r\n').replace('WALLS\n', 'WALLS\r')),
    answer: 'offered',
  },
  { row: '44c', name: 'mark.dxf', bytes: () => text(`\u00ef\u00bb\u00bf${LINE}`), answer: 'offered' },
  {
    row: '44d',
    name: 'latin.dxf',
    bytes: () => text(LINE.replaceAll('WALLS', 'W\u00e4nde')),
    answer: 'offered',
  },
];

test('hostile PDF and DXF files through the file input are each answered', async ({ page }) => {
  test.setTimeout(240_000);
  const { problems } = watch(page);
  await openEmpty(page);
  const title = await page.title();
  await goTo(page, 'Drawing');
  for (const { row, name, bytes, answer } of HOSTILE) {
    await give(page, name, await bytes());
    const dialog = page.getByRole('dialog', { name });
    if (answer !== 'offered') {
      await expect(page.getByRole('alert').filter({ hasText: name }), row).toHaveText(answer);
      continue;
    }
    await expect(dialog, row).toBeVisible();
    if (name.endsWith('.pdf')) {
      const shown = dialog.getByRole('img', { name: 'Page 1' });
      await expect(shown, row).toHaveAttribute('data-drawn', 'true', { timeout: 15_000 });
      // The page of a million points has its square in a pixel.
      if (row !== '35') expect(await share(shown, 'dark'), row).toBeGreaterThan(0.01);
      if (row.startsWith('39')) expect(await share(shown, 'dark'), row).toBeLessThan(0.5);
    }
    if (row === '44d') await expect(dialog.getByRole('checkbox', { name: 'Wände' })).toBeVisible();
    await dialog.getByRole('button', { name: 'Cancel' }).click();
    await expect(dialog).toHaveCount(0);
  }
  expect(await page.title()).toBe(title);
  await expect(page.getByRole('button', { name: 'Undo', exact: true })).toBeDisabled();
  expect(problems.filter((p) => !p.includes('[pdf]'))).toEqual([]);
});

test('a locked PDF asks for its password, and a set of 5,000 pages is chosen from', async ({ page }) => {
  test.setTimeout(120_000);
  await openEmpty(page);
  await goTo(page, 'Drawing');
  await give(page, 'locked.pdf', await readFile(`${PDF}/locked.pdf`));
  const locked = page.getByRole('dialog', { name: 'locked.pdf' });
  const password = locked.getByLabel('Password of the PDF');
  await password.fill('loam');
  await password.press('Enter');
  await expect(locked.getByRole('alert')).toHaveText('That password does not open it.');
  await password.fill('clay');
  await password.press('Enter');
  await expect.poll(() => share(locked.getByRole('img', { name: 'Page 1' }), 'dark')).toBeGreaterThan(0.01);
  await locked.getByRole('button', { name: 'Cancel' }).click();

  await give(page, 'many.pdf', await manyPages(5000));
  const many = page.getByRole('dialog', { name: 'many.pdf' });
  await many.getByLabel('Go to page').fill('4999');
  await many.getByLabel('Go to page').press('Enter');
  await expect(many.getByRole('radio', { name: 'Page 4999' })).toBeChecked();
  await expect(many.getByRole('img', { name: 'Page 4999' })).toHaveAttribute('data-drawn', 'true');
  expect(await many.getByRole('radio').count()).toBeLessThanOrEqual(6);
});

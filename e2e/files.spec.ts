import { readFile } from 'node:fs/promises';
import { expect, test, type Page } from '@playwright/test';
import { badFiles } from '../tests/document/badFiles.ts';
import { wired } from '../tests/document/plans.ts';
import { jpegHeader, pngBytes, pngClaiming, pngOfSize, text } from '../tests/io/pictures/make.ts';
import { saveCopy } from './draw.ts';
import { goTo, openEmpty, openStudio, watch } from './page.ts';

interface Bad {
  readonly name: string;
  readonly bytes: Uint8Array;
  readonly type: string;
  /** What the error must say, and where it must say it is. */
  readonly says: RegExp;
  readonly where: string;
}

const encoded = (file: string | Uint8Array): Uint8Array =>
  typeof file === 'string' ? new TextEncoder().encode(file) : file;

const plans: readonly Bad[] = badFiles(wired()).map((each, i) => ({
  name: `bad plan ${i} (${each.name.replaceAll(/[^a-z0-9 ]/gi, '')}).json`,
  bytes: encoded(each.file),
  type: 'application/json',
  // A file of no bytes is not even read.
  ...(each.file.length === 0
    ? { says: /is empty/, where: '' }
    : { says: each.message, where: each.line === undefined ? each.path : `line ${each.line}` }),
}));

const pictures: readonly Bad[] = (
  [
    ['empty', new Uint8Array(), /is empty/],
    ['not a picture', text('Dear Sir, please find attached'), /This is not a picture/],
    ['a drawing in PDF', text('%PDF-1.7 ...'), /damaged, or is no PDF/],
    ['cut short', pngBytes(300, 200).subarray(0, 90), /damaged or cut short|cut short/],
    ['a JPEG without its end', jpegHeader({ width: 80, height: 60 }).subarray(0, -2), /damaged or cut short/],
    ['40,000 pixels a side', pngClaiming(40_000, 40_000), /40000 × 40000 pixels; at most 16384/],
    ['one side too long', pngClaiming(40_000, 10), /40000 × 10 pixels; at most 16384/],
    ['of no width', pngClaiming(0, 100), /0 × 100 pixels/],
  ] as const
).map(([name, bytes, says]) => ({
  name: `bad picture (${name}).png`,
  bytes,
  type: 'image/png',
  says,
  where: '',
}));

/** Drops a file on the page as a file manager does. */
async function drop(page: Page, file: Bad): Promise<void> {
  await page.evaluate(
    ({ name, type, base64 }) => {
      const bytes = Uint8Array.from(atob(base64), (c) => c.charCodeAt(0));
      const dataTransfer = new DataTransfer();
      dataTransfer.items.add(new File([bytes], name, { type }));
      for (const kind of ['dragover', 'drop'])
        window.dispatchEvent(new DragEvent(kind, { dataTransfer, cancelable: true, bubbles: true }));
    },
    { name: file.name, type: file.type, base64: Buffer.from(file.bytes).toString('base64') },
  );
}

async function refused(page: Page, file: Bad): Promise<void> {
  const alert = page.getByRole('alert').filter({ hasText: file.name });
  await expect(alert).toHaveText(file.says);
  if (file.where !== '') await expect(alert).toContainText(file.where);
}

test('bad files of every kind are refused with their place, and the open plan keeps its bytes', async ({
  page,
}) => {
  test.setTimeout(120_000);
  const { problems } = watch(page);
  await openStudio(page);
  await page.getByRole('navigation').getByRole('button', { name: 'Drawing' }).click();
  const before = (await saveCopy(page)).text;
  expect(plans.length + pictures.length).toBeGreaterThan(60);
  for (const file of plans) {
    const buffer = Buffer.from(file.bytes);
    await page.getByLabel('Open a plan file').setInputFiles({ name: file.name, mimeType: file.type, buffer });
    await refused(page, file);
  }
  expect((await saveCopy(page)).text).toBe(before);
  for (const file of pictures) {
    const buffer = Buffer.from(file.bytes);
    await page
      .getByLabel('Open a picture of the plan')
      .setInputFiles({ name: file.name, mimeType: file.type, buffer });
    await refused(page, file);
  }
  expect((await saveCopy(page)).text).toBe(before);
  await expect(page.getByRole('button', { name: 'Undo', exact: true })).toBeDisabled();
  expect(problems).toEqual([]);
});

test('bad files dropped on the page are refused as well, and the open plan keeps its bytes', async ({
  page,
}) => {
  const { problems } = watch(page);
  await openStudio(page);
  const before = (await saveCopy(page)).text;
  for (const file of [...plans.filter((_, i) => i % 3 === 0), ...pictures]) {
    await drop(page, file);
    await refused(page, file);
  }
  expect((await saveCopy(page)).text).toBe(before);
  expect(await page.evaluate(() => ('polluted' in {} ? 'polluted' : 'clean'))).toBe('clean');
  expect(problems).toEqual([]);
});

test('a plan with two scans of 20 MB is saved as a zip file and opens again elsewhere, whole', async ({
  page,
  browser,
}) => {
  test.setTimeout(240_000);
  const { problems } = watch(page);
  await openEmpty(page);
  await page.getByLabel('Title of the plan').fill('Two scans');
  await page.getByLabel('Title of the plan').press('Enter');
  for (const byte of [1, 2]) {
    await goTo(page, 'Drawing');
    const buffer = Buffer.from(pngOfSize(20 * 1024 * 1024, byte));
    await page
      .getByLabel('Open a picture of the plan')
      .setInputFiles({ name: `scan ${byte}.png`, mimeType: 'image/png', buffer });
    await expect(page.getByText(`scan ${byte}.png`).first()).toBeVisible();
  }
  const first = await savedCopy(page);
  expect(first.name).toBe('two-scans.plan.zip');
  expect(first.bytes.length).toBeGreaterThan(40 * 1024 * 1024);

  const other = await (await browser.newContext()).newPage();
  const seen = watch(other);
  await openEmpty(other);
  const openFile = other.getByLabel('Open a plan file');
  await openFile.setInputFiles({ name: 'named.json', mimeType: 'application/json', buffer: first.bytes });
  await expect(other.getByLabel('Title of the plan')).toHaveValue('Two scans');
  expect((await savedCopy(other)).bytes.equals(first.bytes)).toBe(true);

  const half = first.bytes.subarray(0, 1_000_000);
  await openFile.setInputFiles({ name: 'half.plan.zip', mimeType: 'application/zip', buffer: half });
  await expect(other.getByRole('alert').filter({ hasText: 'half.plan.zip' })).toContainText('cut short');
  await expect(other.getByLabel('Title of the plan')).toHaveValue('Two scans');
  expect([...problems, ...seen.problems]).toEqual([]);
});

/** Saves through the browser's own download and gives back the bytes. */
async function savedCopy(page: Page): Promise<{ readonly name: string; readonly bytes: Buffer }> {
  await page.evaluate(() => Reflect.deleteProperty(window, 'showSaveFilePicker'));
  const waiting = page.waitForEvent('download');
  await page.keyboard.press('ControlOrMeta+s');
  const saved = await waiting;
  return { name: saved.suggestedFilename(), bytes: await readFile(await saved.path()) };
}

import { expect, test, type Page } from '@playwright/test';
import { badFiles } from '../tests/document/badFiles.ts';
import { wired } from '../tests/document/plans.ts';
import { jpegHeader, pngBytes, pngClaiming, text } from '../tests/io/pictures/make.ts';
import { saveCopy } from './draw.ts';
import { openStudio, watch } from './page.ts';

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

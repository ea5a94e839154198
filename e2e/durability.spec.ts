import { readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, test, type Page } from '@playwright/test';
import { freshSeed, seeded } from '../tests/random.ts';
import { kept, placeOf } from './draw.ts';
import { newProfile, startBrowser } from './ownBrowser.ts';
import { goTo, openApp, openStudio, watch } from './page.ts';

/** The plan as a saved copy would hold it, without a download. */
async function copyOf(page: Page): Promise<string> {
  await page.evaluate(() => {
    let content = new Uint8Array(0);
    const handle = {
      name: 'copy.json',
      createWritable: async () => ({
        write: async (bytes: Uint8Array<ArrayBuffer>) => {
          content = bytes;
          document.body.dataset['copy'] = new TextDecoder().decode(bytes);
        },
        close: async () => undefined,
      }),
      getFile: async () => new File([content], 'copy.json'),
    };
    delete document.body.dataset['copy'];
    Object.defineProperty(window, 'showSaveFilePicker', { value: async () => handle, configurable: true });
  });
  await page.keyboard.press('ControlOrMeta+s');
  await page.waitForFunction(() => document.body.dataset['copy'] !== undefined);
  return page.evaluate(() => document.body.dataset['copy'] ?? '');
}

/** One edit at random, by the panels. */
async function edit(page: Page, next: () => number): Promise<void> {
  const title = page.getByLabel('Title of the plan');
  const undo = page.getByRole('button', { name: /^Undo/ });
  const kinds = [
    async () => {
      await title.fill(`Studio ${Math.floor(next() * 1e6)}`);
      await title.press('Enter');
    },
    async () => page.getByRole('button', { name: next() < 0.5 ? '+ Radial' : '+ Lighting' }).click(),
    async () => {
      if (await undo.isEnabled()) await undo.click();
    },
  ];
  await kinds[Math.floor(next() * kinds.length)]?.();
}

test('a browser killed in the middle of editing comes back with all that was saved', async ({}, info) => {
  test.setTimeout(120_000);
  const next = seeded(freshSeed('killed browser'));
  const profile = await newProfile();
  try {
    let browser = await startBrowser(profile.folder, info);
    await openStudioOf(browser.page);
    for (let round = 0; round < 3; round++) {
      const { page } = browser;
      await goTo(page, 'Circuits');
      for (let i = 0; i < 3; i++) await edit(page, next);
      await kept(page);
      // What may come back: what was saved, or any state after it.
      const states = [await copyOf(page)];
      for (let i = 0; i < 2; i++) {
        await edit(page, next);
        states.push(await copyOf(page));
      }
      await page.waitForTimeout(next() * 250);
      await browser.kill();
      browser = await startBrowser(profile.folder, info);
      await expect(browser.page.getByLabel('Title of the plan')).not.toHaveValue('');
      const back = states.indexOf(await copyOf(browser.page));
      expect(back, `round ${round}: the plan is none of the ${states.length} states`).not.toBe(-1);
      await expect(browser.page.getByRole('heading', { level: 2, name: 'Circuits' })).toBeVisible();
    }
    await browser.kill();
  } finally {
    await profile.remove();
  }
});

async function openStudioOf(page: Page): Promise<void> {
  await expect(page.getByLabel('Title of the plan')).toHaveValue(/Pottery studio/);
  await kept(page);
}

/** The files that hold the records of the page's database in a profile. */
async function databaseOf(profile: string): Promise<string[]> {
  const folder = join(profile, 'Default', 'IndexedDB');
  const found = await readdir(folder, { recursive: true, withFileTypes: true });
  return found
    .filter((each) => /\.(ldb|log)$/.test(each.name))
    .map((each) => join(each.parentPath, each.name));
}

for (const [harm, damage] of [
  ['thrown away', async (file: string) => rm(file)],
  [
    'overwritten in part',
    async (file: string) => {
      const bytes = await readFile(file);
      for (let i = Math.min(64, bytes.length >> 1); i < bytes.length; i += 97)
        bytes[i] = (bytes[i] ?? 0) ^ 0xff;
      await writeFile(file, bytes);
    },
  ],
] as const) {
  test(`a database ${harm} on disk: the plan comes back from its second copy, and says so`, async ({}, info) => {
    test.setTimeout(90_000);
    const profile = await newProfile();
    try {
      const first = await startBrowser(profile.folder, info);
      await openStudioOf(first.page);
      const opened = await copyOf(first.page);
      await goTo(first.page, 'Circuits');
      await first.page.getByRole('button', { name: '+ Radial' }).click();
      await first.page.getByRole('button', { name: '+ Lighting' }).click();
      await kept(first.page);
      await first.close();
      const files = await databaseOf(profile.folder);
      expect(files.length).toBeGreaterThan(0);
      for (const file of files) await damage(file);
      const second = await startBrowser(profile.folder, info);
      await expect(second.page.getByRole('alert').filter({ hasText: 'look' })).toHaveText(
        /The last 2 changes could not be read: look the plan over\.|restored from its second copy/,
      );
      expect(await copyOf(second.page)).toBe(opened);
      await goTo(second.page, 'Circuits');
      await second.page.getByRole('button', { name: '+ Radial' }).click();
      await kept(second.page);
      const again = await copyOf(second.page);
      await second.close();
      const third = await startBrowser(profile.folder, info);
      await expect(third.page.getByLabel('Title of the plan')).toHaveValue(/Pottery studio/);
      expect(await copyOf(third.page)).toBe(again);
      await third.close();
    } finally {
      await profile.remove();
    }
  });
}

test('a page left at once after an edit has kept it', async ({ page }) => {
  const { problems } = watch(page);
  await openStudio(page);
  await kept(page);
  await page.getByLabel('Title of the plan').fill('Left at once');
  await page.getByLabel('Title of the plan').press('Enter');
  await page.goto('about:blank');
  await openApp(page);
  await expect(page.getByLabel('Title of the plan')).toHaveValue('Left at once');
  expect(problems).toEqual([]);
});

test('a page reloaded in the middle of a drag is as it was before the drag', async ({ page }) => {
  const { problems } = watch(page);
  await openStudio(page);
  await goTo(page, 'Points');
  await kept(page);
  const before = await copyOf(page);
  const [x, y] = await placeOf(page, 'plan', 'points:p2');
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move(x + 60, y + 10, { steps: 4 });
  await page.reload();
  await expect(page.getByRole('heading', { level: 2, name: 'Points' })).toBeVisible();
  expect(await copyOf(page)).toBe(before);
  await page.mouse.up();
  expect(await copyOf(page)).toBe(before);
  expect(problems).toEqual([]);
});

test('what the tab that took over has drawn is what the next visit finds', async ({ context }) => {
  const first = await context.newPage();
  await openStudio(first);
  await kept(first);
  const second = await context.newPage();
  await openApp(second);
  await second.getByRole('button', { name: 'Edit here' }).click();
  await expect(first.locator('.saved')).toContainText('Looking only');
  await second.getByLabel('Title of the plan').fill('Drawn in the second tab');
  await second.getByLabel('Title of the plan').press('Enter');
  await kept(second);
  // The first may not write any more, whatever is tried there.
  await first.getByLabel('Title of the plan').fill('Drawn in the first tab');
  await first.getByLabel('Title of the plan').press('Enter');
  await second.close();
  await first.close();
  const third = await context.newPage();
  await openApp(third);
  await expect(third.getByLabel('Title of the plan')).toHaveValue('Drawn in the second tab');
  await kept(third);
});

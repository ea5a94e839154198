import { gzipSync } from 'node:zlib';
import { readFile } from 'node:fs/promises';
import { expect, test } from '@playwright/test';
import { goTo, openApp, openEmpty, openStudio, watch } from './page.ts';

test('a first visit shows the invented studio, says so, and lets it be put away', async ({ page }) => {
  const { problems } = watch(page);
  await openStudio(page);
  const strip = page.getByRole('region', { name: 'About this sample' });
  await expect(strip).toContainText('invented');
  await strip.getByRole('button', { name: 'Put this away' }).click();
  await expect(strip).toBeHidden();
  expect(problems).toEqual([]);
});

test('every stage shows its own tools and says what to do first', async ({ page }) => {
  const { problems } = watch(page);
  await openEmpty(page);
  for (const [stage, first] of [
    ['Drawing', 'Open a picture of your plan'],
    ['Fabric', 'Choose what the wall is made of'],
    ['Points', 'Pick a kind of point'],
    ['Circuits', 'Add a circuit'],
    ['Runs', 'Start at one point'],
    ['Take-off', 'Metres appear here'],
    ['Site', 'With runs drawn'],
  ] as const) {
    await goTo(page, stage);
    await expect(page.getByText(first)).toBeVisible();
  }
  expect(problems).toEqual([]);
});

test('metres of the studio open into their working', async ({ page }) => {
  await openStudio(page);
  await goTo(page, 'Take-off');
  const card = page.getByRole('region', { name: '2.5 mm² twin and earth', exact: true });
  await card.getByRole('button', { expanded: false }).click();
  const rows = card.getByRole('table').getByRole('row');
  expect(await rows.count()).toBeGreaterThan(1);
  await expect(card).toContainText('Rise and drop');
});

test('a tick on site is dated, undone and redone', async ({ page }) => {
  await openStudio(page);
  await goTo(page, 'Site');
  const tick = page.getByRole('checkbox', { name: 'Pulled' }).first();
  const before = await tick.isChecked();
  await tick.click();
  await expect(tick).toBeChecked({ checked: !before });
  await page.getByRole('button', { name: /^Undo/ }).click();
  await expect(tick).toBeChecked({ checked: before });
  await page.getByRole('button', { name: /^Redo/ }).click();
  await expect(tick).toBeChecked({ checked: !before });
});

test('a bad file is refused with its place, and the open plan stays', async ({ page }) => {
  await openStudio(page);
  for (const [name, content] of [
    ['empty.json', ''],
    ['torn.json', '{"format": "zonewright-plan",\n "version": '],
    ['other.json', '{"format": "something-else"}'],
  ] as const) {
    await page.getByLabel('Open a plan file').setInputFiles({
      name,
      mimeType: 'application/json',
      buffer: Buffer.from(content),
    });
    await expect(page.getByRole('alert').filter({ hasText: name })).toContainText(
      'The open plan is untouched',
    );
    await expect(page.getByLabel('Title of the plan')).toHaveValue(/Pottery studio/);
  }
});

test('a saved copy opens again as the same plan', async ({ page }) => {
  await openStudio(page);
  await page.evaluate(() => {
    Reflect.deleteProperty(window, 'showSaveFilePicker');
  });
  const waiting = page.waitForEvent('download');
  await page.keyboard.press('ControlOrMeta+s');
  const saved = await waiting;
  const bytes = await readFile(await saved.path());
  await page.getByRole('button', { name: 'File', exact: true }).click();
  await page.getByRole('menuitem', { name: 'New plan' }).click();
  await expect(page.getByLabel('Title of the plan')).toHaveValue('Untitled plan');
  await page
    .getByLabel('Open a plan file')
    .setInputFiles({ name: saved.suggestedFilename(), mimeType: 'application/json', buffer: bytes });
  await expect(page.getByLabel('Title of the plan')).toHaveValue(/Pottery studio/);
  await page.evaluate(() => {
    Reflect.deleteProperty(window, 'showSaveFilePicker');
  });
  const again = page.waitForEvent('download');
  await page.keyboard.press('ControlOrMeta+s');
  expect(await readFile(await (await again).path(), 'utf8')).toBe(bytes.toString('utf8'));
});

test('keys: help, stages, undo and regions', async ({ page }) => {
  await openEmpty(page);
  await page.keyboard.press('?');
  const help = page.getByRole('dialog', { name: 'Help' });
  await expect(help).toBeVisible();
  await page.keyboard.press('Escape');
  await expect(help).toBeHidden();
  await page.keyboard.press('4');
  await expect(page.getByRole('heading', { level: 2, name: 'Circuits' })).toBeVisible();
  await page.getByRole('button', { name: '+ Ring' }).click();
  await expect(page.getByRole('button', { name: /^C1 Ring final/ })).toBeVisible();
  await page.keyboard.press('ControlOrMeta+z');
  await expect(page.getByRole('button', { name: /^C1 Ring final/ })).toBeHidden();
  const region = (): Promise<string | null> =>
    page.evaluate(
      () => document.activeElement?.closest('[data-region]')?.getAttribute('data-region') ?? null,
    );
  const seen = new Set<string | null>();
  for (let i = 0; i < 6; i++) {
    await page.keyboard.press('F6');
    seen.add(await region());
  }
  // Before there is a room there are no elevations.
  expect([...seen]).toEqual(expect.arrayContaining(['stages', 'tools', 'plan', 'inspector', 'findings']));
});

test('a phone looks and ticks without sideways scrolling', async ({ browser }) => {
  const context = await browser.newContext({
    viewport: { width: 390, height: 844 },
    hasTouch: true,
    isMobile: true,
  });
  const page = await context.newPage();
  await openApp(page);
  await page
    .getByRole('navigation', { name: 'Stages of the job' })
    .getByRole('button', { name: 'Site' })
    .tap();
  const tick = page.getByRole('checkbox', { name: 'Pulled' }).first();
  const before = await tick.isChecked();
  await tick.tap();
  await expect(tick).toBeChecked({ checked: !before });
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
  await page.getByRole('button', { name: /^Findings/ }).tap();
  await expect(page.getByRole('heading', { level: 2, name: /^Findings/ })).toBeVisible();
  await context.close();
});

test('once opened, it opens without a connection', async ({ page, context }) => {
  await openApp(page);
  await page.evaluate(() => navigator.serviceWorker.ready);
  await expect
    .poll(() =>
      page.evaluate(
        async () => (await caches.keys()).filter((name) => name.startsWith('zonewright-')).length,
      ),
    )
    .toBe(1);
  await page.reload();
  await context.setOffline(true);
  await page.reload();
  await expect(page.getByRole('heading', { name: 'Zonewright' })).toBeVisible();
  await expect(page.getByLabel('Title of the plan')).toHaveValue(/Pottery studio/);
});

test('at most 250 kB of script, gzipped, before the first plan can be worked on', async ({ browser }) => {
  const context = await browser.newContext({ serviceWorkers: 'block' });
  const page = await context.newPage();
  await openApp(page);
  const scripts = await page.evaluate(() => {
    const [mark] = performance.getEntriesByName('zonewright-editable');
    return performance
      .getEntriesByType('resource')
      .filter((each) => /\.js$/.test(new URL(each.name).pathname) && mark && each.startTime <= mark.startTime)
      .map((each) => each.name);
  });
  expect(scripts.some((name) => name.includes('index'))).toBe(true);
  let total = 0;
  for (const script of scripts) {
    const response = await context.request.get(script);
    total += gzipSync(await response.body()).length;
  }
  expect(total).toBeGreaterThan(100_000);
  expect(total).toBeLessThanOrEqual(250_000);
  await context.close();
});

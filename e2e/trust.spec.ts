import { readFile } from 'node:fs/promises';
import { expect, test, type Page } from '@playwright/test';
import { kept } from './draw.ts';
import { goTo, openApp, openStudio } from './page.ts';

const title = (page: Page) => page.getByLabel('Title of the plan');
async function rename(page: Page, to: string): Promise<void> {
  await title(page).fill(to);
  await title(page).press('Enter');
  await kept(page);
}
const filePick = async (page: Page, name: string): Promise<void> => {
  await page.getByRole('button', { name: 'File', exact: true }).click();
  await page.getByRole('menuitem', { name }).click();
};

test('after a start that did not come through the kept plans are offered, and nothing is lost', async ({
  page,
}) => {
  await openStudio(page);
  await rename(page, 'Does not start');
  await page.waitForTimeout(2500);
  // A start that came through leaves no mark behind; one that did not does.
  expect(await page.evaluate(() => localStorage.getItem('zonewright-start'))).toBeNull();
  // Put there as the next page begins, once: a page left within seconds takes its own mark along.
  await page.addInitScript(() => {
    if (sessionStorage.getItem('marked')) return;
    sessionStorage.setItem('marked', '1');
    localStorage.setItem('zonewright-start', '1');
  });
  await page.reload();
  await expect(page.getByRole('heading', { name: 'Does not start' })).toBeVisible();
  await expect(title(page)).toHaveCount(0);
  const download = page.waitForEvent('download');
  await page.getByRole('button', { name: 'Save it as a file' }).click();
  expect(await readFile(await (await download).path(), 'utf8')).toContain('Does not start');
  await page.getByRole('button', { name: 'Open it as it was' }).click();
  await expect(title(page)).toHaveValue('Does not start');
  await expect(page).toHaveTitle(/^Does not start/);
});

test('an earlier state is looked at and brought back as a new plan; a plan removed is taken back', async ({
  page,
}) => {
  await openStudio(page);
  await rename(page, 'State one');
  await rename(page, 'State two');
  await page.waitForTimeout(1500);
  await filePick(page, 'Plans kept here…');
  const dialog = page.getByRole('dialog');
  await dialog.getByRole('button', { name: 'Remove' }).click();
  await dialog.getByRole('button', { name: 'Really remove?' }).click();
  await dialog.getByRole('button', { name: 'Take it back' }).click();
  await dialog.getByRole('button', { name: 'Earlier states' }).click();
  const states = dialog.locator('.kept-plan');
  await expect(states).toHaveCount(2);
  await states.nth(1).getByRole('button', { name: 'Look at it' }).click();
  await expect(states.nth(1)).toContainText(/State one: \d+ walls/);
  await states.nth(1).getByRole('button', { name: 'Bring back as a new plan' }).click();
  await expect(title(page)).toHaveValue('State one (brought back)');
});

test('Ctrl+S while typing saves what is typed', async ({ page }) => {
  await page.addInitScript(() => Object.assign(window, { showSaveFilePicker: undefined }));
  await openStudio(page);
  await title(page).fill('Typed, not left');
  const download = page.waitForEvent('download');
  await page.keyboard.press('ControlOrMeta+s');
  expect(await readFile(await (await download).path(), 'utf8')).toContain('Typed, not left');
});

test('what is typed and not left is kept when the page is loaded again', async ({ page }) => {
  await openStudio(page);
  await kept(page);
  await title(page).fill('Typed and gone');
  await page.reload();
  await expect(title(page)).toHaveValue('Typed and gone');
});

test.describe('without what was fetched before', () => {
  test.use({ serviceWorkers: 'block' });
  test('a part that does not arrive says so in its own place, and everything else goes on', async ({
    page,
  }) => {
    await openApp(page);
    await kept(page);
    await page.route(/TakeOffPanel.*\.js/, (route) => route.abort());
    await goTo(page, 'Take-off');
    await expect(page.getByRole('alert').filter({ hasText: 'did not arrive' })).toBeVisible({
      timeout: 15_000,
    });
    await rename(page, 'Goes on');
    await expect(page.getByRole('button', { name: 'Load the page again' })).toBeEnabled();
    await page.unroute(/TakeOffPanel.*\.js/);
    await page.getByRole('button', { name: 'Load the page again' }).click();
    await expect(page.getByText('Allowances and tails')).toBeVisible();
    await expect(title(page)).toHaveValue('Goes on');
  });
});

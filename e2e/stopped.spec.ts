import { expect, test } from '@playwright/test';
import { goTo, openStudio } from './page.ts';

// A panel that throws while it is drawn, and a page that does: the fault is made in what the program was sent or uses,
// not in the program.
test.use({ serviceWorkers: 'block' });

test('a panel that stops says so and offers a copy; the rest goes on, and another stage is whole', async ({
  page,
}) => {
  await page.route('**/assets/RunsPanel-*.js', (route) =>
    route.fulfill({
      contentType: 'text/javascript',
      body: "const torn = () => { throw new Error('this list is torn'); }; export { torn as RunsPanel };",
    }),
  );
  await openStudio(page);
  await page
    .getByRole('navigation', { name: 'Stages of the job' })
    .getByRole('button', { name: 'Runs' })
    .click();
  const stopped = page.getByRole('alert').filter({ hasText: 'this stopped' });
  await expect(stopped).toContainText('Runs: this stopped');
  await expect(stopped).toContainText('this list is torn');
  const copy = page.waitForEvent('download');
  await stopped.getByRole('button', { name: 'Save a copy of the plan' }).click();
  expect((await copy).suggestedFilename()).toMatch(/\.plan\.json$|\.zip$/);
  await expect(page.getByRole('heading', { name: 'Findings' })).toBeVisible();
  await goTo(page, 'Points');
  await expect(stopped).toBeHidden();
});

test('a page that stops altogether is not blank: it says so and offers a copy', async ({ page }) => {
  await openStudio(page);
  await page.evaluate(() => {
    window.matchMedia = () => {
      throw new Error('no answer about the width');
    };
  });
  await page.keyboard.press('3');
  const stopped = page.getByRole('alert').filter({ hasText: 'The page: this stopped' });
  await expect(stopped).toBeVisible();
  const copy = page.waitForEvent('download');
  await stopped.getByRole('button', { name: 'Save a copy of the plan' }).click();
  expect((await copy).suggestedFilename()).toMatch(/pottery-studio/);
});

test('work that fails with nobody waiting for it is told', async ({ page }) => {
  await openStudio(page);
  await page.evaluate(() => void Promise.reject(new Error('nobody waited for this')));
  await expect(page.getByRole('alert').filter({ hasText: 'nobody waited for this' })).toContainText(
    'Your plan is kept',
  );
});

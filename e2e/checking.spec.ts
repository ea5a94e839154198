import { expect, test, type Page } from '@playwright/test';
import { openApp } from './page.ts';

test.use({ serviceWorkers: 'block' });

/** Gathers whatever the findings say from the first moment on. */
async function listen(page: Page): Promise<() => Promise<string[]>> {
  await page.addInitScript(() => {
    const heard = new Set<string>();
    Object.assign(window, { heard });
    new MutationObserver(() => {
      const text = document.querySelector('.findings')?.textContent;
      if (text) heard.add(text);
    }).observe(document, { childList: true, subtree: true, characterData: true });
  });
  return () => page.evaluate(() => [...(window as unknown as { heard: Set<string> }).heard]);
}

const openMistakes = async (page: Page): Promise<void> => {
  await page.getByRole('button', { name: 'File', exact: true }).click();
  await page.getByRole('menuitem', { name: 'Pottery studio with mistakes' }).click();
  await expect(page.getByLabel('Title of the plan')).toHaveValue(/mistakes/);
};

test('a plan with mistakes is at no moment said to have none, at opening and after a reload', async ({
  page,
}) => {
  const heard = await listen(page);
  await openApp(page);
  await openMistakes(page);
  const count = page.locator('#findings-title .count');
  await expect.poll(async () => Number(await count.textContent())).toBeGreaterThan(5);
  await expect(page.locator('.saved')).toHaveText('Saved');
  await page.waitForTimeout(600);
  await page.reload();
  await expect.poll(async () => Number(await count.textContent())).toBeGreaterThan(5);
  const said = await heard();
  expect(said.length).toBeGreaterThan(1);
  expect(said.filter((text) => /Nothing found|Findings 0/.test(text))).toEqual([]);
  expect(said.some((text) => /checking/i.test(text))).toBe(true);
});

test('where the part that checks cannot be fetched the page says so, and checks when it can', async ({
  page,
}) => {
  const heard = await listen(page);
  await page.route(/derive\.worker.*\.js/, (route) => route.abort());
  await openApp(page);
  await openMistakes(page);
  const findings = page.getByRole('region', { name: /^Findings/ });
  await expect(findings.getByText('Not checked.')).toBeVisible({ timeout: 40_000 });
  expect((await heard()).filter((text) => /Nothing found|Findings 0/.test(text))).toEqual([]);
  await page.unroute(/derive\.worker.*\.js/);
  await findings.getByRole('button', { name: 'Check again' }).click();
  await expect
    .poll(async () => Number(await findings.locator('.count').first().textContent()))
    .toBeGreaterThan(5);
});

test('a check that hangs is ended and begun anew, and the person is told what it was at', async ({
  page,
}) => {
  test.setTimeout(150_000);
  // The worker answers the first plan and then gives no sign any more, as in an endless loop.
  await page.route(/derive\.worker.*\.js/, async (route) => {
    const answer = await route.fetch();
    const body = `let seen = 0; self.addEventListener('message', (e) => { if (seen++ >= 1 || e.data.careful) { self.postMessage({ kind: 'at', rev: e.data.rev, part: { kind: 'run', id: 'r1' }, done: 3, total: 9 }); for (;;); } }, { capture: true });`;
    await route.fulfill({ response: answer, body: `${body}\n${await answer.text()}` });
  });
  await openApp(page);
  const findings = page.getByRole('region', { name: /^Findings/ });
  await expect(findings.locator('.check-word')).toHaveText('');
  const title = page.getByLabel('Title of the plan');
  await title.fill('Hangs');
  await title.press('Enter');
  await expect(findings.getByText(/Checking… 33 %, at run R1/)).toBeVisible({ timeout: 15_000 });
  await expect(findings.getByRole('button', { name: 'Go on without it' })).toBeVisible({ timeout: 25_000 });
  await expect(findings.getByText(/stopped at run R1 and was begun anew/)).toBeVisible({ timeout: 30_000 });
  // The page itself is live, and can end it.
  await findings.getByRole('button', { name: 'Go on without it' }).click({ timeout: 40_000 });
  await expect(findings.getByText(/Not checked\. The checks were ended by you at run R1/)).toBeVisible();
  await title.fill('Still edited');
  await title.press('Enter');
  await expect(page.locator('.saved')).toHaveText('Saved');
});

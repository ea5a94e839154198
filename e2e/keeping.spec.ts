import { expect, test } from '@playwright/test';
import { placeOf, type OnPage } from './draw.ts';
import { goTo, openEmpty, openStudio, watch } from './page.ts';

test('walls clicked and typed close into a room that is there after a reload, with the stage', async ({
  page,
}) => {
  const { problems } = watch(page);
  await openEmpty(page);
  await goTo(page, 'Fabric');
  await page.getByRole('button', { name: 'Wall', exact: true }).click();
  const plan = await page.getByRole('region', { name: 'Plan', exact: true }).boundingBox();
  if (!plan) throw new Error('the plan has no size');
  /** Leads the wall from a corner that way, a little askew (it snaps level or plumb), and types its length. */
  const lead = async ([x, y]: OnPage, dx: number, dy: number, length: string): Promise<void> => {
    await page.mouse.move(x + dx, y + dy, { steps: 3 });
    await page.keyboard.type(length);
    await page.keyboard.press('Enter');
  };
  const first: OnPage = [plan.x + 200, plan.y + 100];
  await page.mouse.click(...first);
  await lead(first, 190, 1, '4000');
  await lead(await placeOf(page, 'plan', 'nodes:n2'), 1, 150, '3000');
  await lead(await placeOf(page, 'plan', 'nodes:n3'), -150, 1, '4000');
  await page.mouse.move(first[0] + 1, first[1] + 1, { steps: 3 });
  await page.mouse.click(...first);
  // Timber stud 88 mm: 4.000 by 3.000 on centre lines is 3.912 by 2.912 inside.
  const area = page.getByText('11.39 m²');
  await expect(area).toBeVisible();
  await expect(page.locator('.saved')).toHaveText('Saved');
  await page.waitForTimeout(600);
  await page.reload();
  await expect(page.getByRole('heading', { level: 2, name: 'Fabric' })).toBeVisible();
  await expect(area).toBeVisible();
  expect(problems).toEqual([]);
});

test('a finding accepted with a reason is folded away and counted, and taken back again', async ({
  page,
}) => {
  await openStudio(page);
  await page.getByRole('button', { name: 'File', exact: true }).click();
  await page.getByRole('menuitem', { name: 'Pottery studio with mistakes' }).click();
  const findings = page.getByRole('region', { name: /^Findings/ });
  const count = findings.getByRole('heading', { level: 2 }).locator('.count');
  await expect.poll(async () => Number(await count.textContent())).toBeGreaterThan(5);
  const before = Number(await count.textContent());
  const row = findings.locator('.finding').first();
  await row.getByText('How to mend it, and why').click();
  await row.getByRole('button', { name: 'Accept with a reason…' }).click();
  const dialog = page.getByRole('dialog', { name: 'Accept with a reason' });
  await expect(dialog.getByRole('button', { name: 'Accept' })).toBeDisabled();
  await dialog.getByLabel('Reason (kept and printed)').fill('Agreed with the certifier.');
  await dialog.getByRole('button', { name: 'Accept' }).click();
  await expect(count).toHaveText(String(before - 1));
  const settled = findings.locator('.settled');
  await settled.locator('summary').first().click();
  await settled.getByText('How to mend it, and why').click();
  await expect(settled).toContainText('Agreed with the certifier.');
  await settled.getByRole('button', { name: 'Take back' }).click();
  await expect(count).toHaveText(String(before));
});

test('a field says what is wrong, keeps what was typed, and takes feet and inches', async ({ page }) => {
  await openStudio(page);
  const height = page.getByLabel('Ceiling height');
  await height.fill('tall');
  await height.press('Enter');
  await expect(page.getByRole('alert').filter({ hasText: 'Type a length' })).toBeVisible();
  await expect(height).toHaveValue('tall');
  await height.fill(`8'`);
  await height.press('Enter');
  await expect(height).toHaveValue('2438.4');
  await page.getByRole('button', { name: /^Undo/ }).click();
  await expect(height).toHaveValue('2400');
});

test('another tab may only look until it takes over', async ({ context }) => {
  const first = await context.newPage();
  await openStudio(first);
  await expect(first.locator('.saved')).toHaveText('Saved');
  const second = await context.newPage();
  await second.goto('./');
  await expect(second.locator('.saved')).toContainText('Looking only');
  await second
    .getByRole('navigation', { name: 'Stages of the job' })
    .getByRole('button', { name: 'Circuits' })
    .click();
  await second.getByRole('button', { name: '+ Ring' }).click();
  await expect(second.getByRole('alert').filter({ hasText: 'another tab' })).toBeVisible();
  await second.getByRole('button', { name: 'Edit here' }).click();
  await expect(second.locator('.saved')).not.toContainText('Looking only');
  await second.getByRole('button', { name: '+ Ring' }).click();
  await expect(second.getByRole('button', { name: /Ring final/ })).toBeVisible();
  await expect(first.locator('.saved')).toContainText('Looking only');
});

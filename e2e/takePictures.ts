import path from 'node:path';
import { expect, test, type Page } from '@playwright/test';
import { goTo, openStudio } from './page.ts';
import { circuitPicture } from './pictures-circuit.ts';
import { waysPicture } from './pictures-ways.ts';

const FOLDER = path.join(import.meta.dirname, 'pictures');
const file = (name: string): string => path.join(FOLDER, `${name}.png`);

async function putStripAway(page: Page): Promise<void> {
  const strip = page.getByRole('region', { name: 'About this sample' });
  if (await strip.isVisible()) await strip.getByRole('button', { name: 'Put this away' }).click();
}

async function openSample(page: Page, name: string): Promise<void> {
  await page.getByRole('button', { name: 'File', exact: true }).click();
  await page.getByRole('menuitem', { name, exact: true }).click();
  await putStripAway(page);
}

/** The pointer away from everything, and the drawing settled. */
async function settle(page: Page): Promise<void> {
  await page.mouse.move(2, 2);
  await page.waitForTimeout(700);
}

test('plan and walls of the studio', async ({ page }) => {
  await openStudio(page);
  await putStripAway(page);
  await goTo(page, 'Runs');
  await settle(page);
  await page.screenshot({ path: file('plan-and-walls') });
});

test('a mistake on its wall', async ({ page }) => {
  await openStudio(page);
  await openSample(page, 'Pottery studio with mistakes');
  await goTo(page, 'Runs');
  const finding = page.getByRole('button', { name: /R10.*outside|outside.*R10/ }).first();
  await finding.click();
  await expect(page.getByText('mm out').or(page.locator('canvas').first()).first()).toBeVisible();
  await settle(page);
  await page.screenshot({ path: file('mistakes') });
});

test('the take-off', async ({ page }) => {
  await openStudio(page);
  await putStripAway(page);
  await goTo(page, 'Take-off');
  await settle(page);
  await page.screenshot({ path: file('take-off') });
});

test('ways compared', async ({ page }) => {
  await waysPicture(page, file('ways'));
});

test('a circuit as a diagram', async ({ page }) => {
  await circuitPicture(page, file('circuit'));
});

test('on a phone', async ({ page }) => {
  await openStudio(page);
  await putStripAway(page);
  await goTo(page, 'Site');
  await page.setViewportSize({ width: 390, height: 844 });
  await settle(page);
  await page.screenshot({ path: file('phone') });
});

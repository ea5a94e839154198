import { expect, type Page } from '@playwright/test';
import { goTo, openStudio } from './page.ts';

/** The studio's ring with its ways side by side, one of them drawn over the plan and the walls; written to `file`. */
export async function waysPicture(page: Page, file: string): Promise<void> {
  await page.setViewportSize({ width: 1440, height: 900 });
  await openStudio(page);
  const strip = page.getByRole('region', { name: 'About this sample' });
  await strip.getByRole('button', { name: 'Put this away' }).click();
  await goTo(page, 'Runs');
  await page.getByLabel('Circuit', { exact: true }).selectOption({ label: 'C2 Sockets ring' });
  await page.getByRole('button', { name: 'Compare ways' }).click();
  const table = page.getByRole('table', { name: /Ways for/ });
  await expect(table).toBeVisible();
  await table.getByRole('button', { name: 'Best mix' }).click();
  await page.getByRole('button', { name: 'Compare ways' }).evaluate((button) => {
    button.scrollIntoView({ block: 'start' });
  });
  // The pointer away from everything, and the drawing settled.
  await page.mouse.move(1430, 890);
  await page.waitForTimeout(500);
  await page.screenshot({ path: file });
}

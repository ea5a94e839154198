import { expect, type Page } from '@playwright/test';
import { goTo, openStudio } from './page.ts';

/** The studio's ring as a diagram beside the plan, with one run lit in both and what was worked out; to `file`. */
export async function circuitPicture(page: Page, file: string): Promise<void> {
  await page.setViewportSize({ width: 1440, height: 900 });
  await openStudio(page);
  const strip = page.getByRole('region', { name: 'About this sample' });
  await strip.getByRole('button', { name: 'Put this away' }).click();
  await goTo(page, 'Circuits');
  await page.locator('.circuits').getByRole('button', { name: 'C2 Sockets ring' }).click();
  const heading = page.getByRole('heading', { name: 'Diagram of C2 Sockets ring' });
  await expect(heading).toBeVisible();
  await heading.evaluate((each) => each.scrollIntoView({ block: 'start' }));
  await page.locator('aside.tools').evaluate((panel) => panel.scrollBy(0, -46));
  await page.getByRole('button', { name: /^Run R5,/ }).hover();
  await page.waitForTimeout(500);
  await page.screenshot({ path: file });
}

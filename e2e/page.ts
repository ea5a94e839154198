import { expect, type Page } from '@playwright/test';

/** Gathers what must not happen on any page: errors, refusals of the content policy, requests that leave the origin. */
export function watch(page: Page): { readonly problems: readonly string[] } {
  const problems: string[] = [];
  page.on('pageerror', (error) => problems.push(`error: ${error.message}`));
  page.on('console', (message) => {
    if (message.type() === 'error') problems.push(`console: ${message.text()}`);
  });
  page.on('request', (request) => {
    const { protocol, hostname } = new URL(request.url());
    if (!['blob:', 'data:'].includes(protocol) && hostname !== 'localhost')
      problems.push(`request: ${request.url()}`);
  });
  return { problems };
}

/** Opens the page and waits until a plan is open and checked. */
export async function openApp(page: Page): Promise<void> {
  await page.goto('./');
  await expect(page.getByRole('heading', { name: 'Zonewright' })).toBeVisible();
  await expect(page.getByLabel('Title of the plan')).not.toHaveValue('');
}

/** Opens the page with the invented studio, as a first visit does. */
export async function openStudio(page: Page): Promise<void> {
  await openApp(page);
  await expect(page.getByLabel('Title of the plan')).toHaveValue(/Pottery studio/);
  await goTo(page, 'Fabric');
  await expect(page.getByRole('list').filter({ hasText: 'm²' })).toBeVisible();
}

/** Starts an empty plan of one's own. */
export async function openEmpty(page: Page): Promise<void> {
  await openApp(page);
  await page.getByRole('button', { name: 'File', exact: true }).click();
  await page.getByRole('menuitem', { name: 'New plan' }).click();
  await expect(page.getByLabel('Title of the plan')).toHaveValue('Untitled plan');
}

export async function goTo(page: Page, stage: string): Promise<void> {
  await page
    .getByRole('navigation', { name: 'Stages of the job' })
    .getByRole('button', { name: stage })
    .click();
  await expect(page.getByRole('heading', { level: 2, name: stage })).toBeVisible();
}

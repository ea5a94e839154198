import { writeFileSync } from 'node:fs';
import { chromium } from '@playwright/test';
import { PAPER, paperPlan } from './paperPlan.ts';
import { makeStudio } from './studio.ts';

// Draws the paper plan anew: `npx tsx tests/samples/makePicture.ts`. Needs Chromium at ZONEWRIGHT_CHROMIUM or /usr/bin/chromium.
const browser = await chromium.launch({
  executablePath: process.env.ZONEWRIGHT_CHROMIUM ?? '/usr/bin/chromium',
  args: ['--no-sandbox', '--disable-gpu'],
});
try {
  const page = await browser.newPage({ viewport: { width: PAPER.width, height: PAPER.height } });
  await page.setContent(`<body style="margin:0">${paperPlan(makeStudio().doc)}</body>`);
  const png = await page.screenshot({ type: 'png' });
  writeFileSync(new URL('../../sample-plans/pottery-studio-plan.png', import.meta.url), png);
} finally {
  await browser.close();
}

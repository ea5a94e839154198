import { expect, test, type CDPSession, type Page } from '@playwright/test';
import { placeOf, saveCopy, type OnPage } from './draw.ts';
import { openApp, watch } from './page.ts';

test.use({ viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true });

type Fingers = readonly OnPage[];

/** Puts fingers down, moves them in steps, and lifts them. */
async function gesture(session: CDPSession, from: Fingers, to: Fingers): Promise<void> {
  const send = (type: 'touchStart' | 'touchMove' | 'touchEnd', at: Fingers): Promise<unknown> =>
    session.send('Input.dispatchTouchEvent', {
      type,
      touchPoints: at.map(([x, y], id) => ({ x, y, id })),
    });
  await send('touchStart', from);
  for (let i = 1; i <= 5; i++) {
    await send(
      'touchMove',
      from.map(([x, y], n): OnPage => {
        const [tx, ty] = to[n] ?? [x, y];
        return [x + ((tx - x) * i) / 5, y + ((ty - y) * i) / 5];
      }),
    );
  }
  await send('touchEnd', []);
}

const between = (a: OnPage, b: OnPage): number => Math.hypot(b[0] - a[0], b[1] - a[1]);

/** Where two corners of the studio are drawn, once the list over the canvas has followed the picture. */
const corners = async (page: Page): Promise<readonly [OnPage, OnPage]> => [
  await placeOf(page, 'plan', 'nodes:n1'),
  await placeOf(page, 'plan', 'nodes:n2'),
];

test('two fingers pinch and pan the plan and draw nothing; one finger pans where nothing lies', async ({
  page,
  context,
}) => {
  const { problems } = watch(page);
  await openApp(page);
  const before = (await saveCopy(page)).text;
  const session = await context.newCDPSession(page);
  const plan = await page.locator('[data-region=plan] .zw-canvas').boundingBox();
  if (!plan) throw new Error('the plan is not shown');
  const [cx, cy] = [plan.x + plan.width / 2, plan.y + plan.height / 2];
  const [a, b] = await corners(page);
  const apart = between(a, b);

  // Fingers twice as far apart: everything twice as far apart, and what was between them stays there.
  await gesture(
    session,
    [
      [cx - 40, cy],
      [cx + 40, cy],
    ],
    [
      [cx - 80, cy],
      [cx + 80, cy],
    ],
  );
  await expect.poll(async () => between(...(await corners(page))) / apart).toBeCloseTo(2, 1);
  const [wide] = await corners(page);
  expect(wide[0]).toBeCloseTo(cx + 2 * (a[0] - cx), 0);
  expect(wide[1]).toBeCloseTo(cy + 2 * (a[1] - cy), 0);

  // Both fingers 50 px right and 30 px up: everything with them.
  await gesture(
    session,
    [
      [cx - 40, cy],
      [cx + 40, cy],
    ],
    [
      [cx + 10, cy - 30],
      [cx + 90, cy - 30],
    ],
  );
  await expect.poll(async () => (await corners(page))[0][0] - wide[0]).toBeCloseTo(50, 0);
  expect((await corners(page))[0][1] - wide[1]).toBeCloseTo(-30, 0);

  // Pinched together again.
  await gesture(
    session,
    [
      [cx - 80, cy],
      [cx + 80, cy],
    ],
    [
      [cx - 40, cy],
      [cx + 40, cy],
    ],
  );
  await expect.poll(async () => between(...(await corners(page))) / apart).toBeCloseTo(1, 1);

  // With the wall tool in hand a second finger takes the first one's press back: nothing is drawn.
  await page.getByRole('navigation').getByRole('button', { name: 'Fabric' }).tap();
  await page.getByRole('button', { name: 'Tools' }).tap();
  await page.getByRole('button', { name: 'Wall', exact: true }).tap();
  await gesture(
    session,
    [
      [cx - 40, cy],
      [cx + 40, cy],
    ],
    [
      [cx - 60, cy + 20],
      [cx + 60, cy + 20],
    ],
  );
  await expect(page.getByRole('button', { name: 'Undo', exact: true })).toBeDisabled();
  expect((await saveCopy(page)).text).toBe(before);
  expect(problems).toEqual([]);
});

/** What can be tapped now: how much there is, and what of it is smaller than 44 px either way. */
async function targets(page: Page): Promise<{ readonly seen: number; readonly small: readonly string[] }> {
  return page.evaluate(() => {
    const small: string[] = [];
    let seen = 0;
    for (const each of document.querySelectorAll<HTMLElement>('button, select, input, textarea, summary')) {
      if (!each.checkVisibility({ opacityProperty: true, visibilityProperty: true })) continue;
      // A box to tick is tapped on its words; a link in a line of text may be as high as its line.
      const ticks = each instanceof HTMLInputElement && /checkbox|radio/.test(each.type);
      const box = (ticks ? (each.labels?.[0] ?? each) : each).getBoundingClientRect();
      if (box.width === 0 || (each.matches('.link') && each.closest('p, li, td, th') !== null)) continue;
      seen++;
      if (box.height >= 43.5 && box.width >= 43.5) continue;
      const name = (each.getAttribute('aria-label') ?? each.textContent ?? '').trim().slice(0, 25);
      small.push(
        `${each.tagName} .${each.className} "${name}" ${Math.round(box.width)} x ${Math.round(box.height)}`,
      );
    }
    return { seen, small };
  });
}

test('at 390 px whatever is tapped is 44 px high and wide, on every stage', async ({ page }) => {
  await openApp(page);
  const small: string[] = [];
  let seen = 0;
  const tabs = page.getByRole('group', { name: 'Panels' });
  for (const stage of ['Drawing', 'Fabric', 'Points', 'Circuits', 'Runs', 'Take-off', 'Site']) {
    await page.getByRole('navigation').getByRole('button', { name: stage }).tap();
    for (const panel of ['Tools', 'Selected', 'Findings']) {
      const tab = tabs.getByRole('button', { name: panel });
      if ((await tab.getAttribute('aria-expanded')) !== 'true') await tab.tap();
      await expect(tab).toHaveAttribute('aria-expanded', 'true');
      const found = await targets(page);
      seen += found.seen;
      small.push(...found.small.map((each) => `${stage}, ${panel}: ${each}`));
    }
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
  }
  expect(seen).toBeGreaterThan(400);
  expect([...new Set(small)]).toEqual([]);
});

import { expect, test, type Page } from '@playwright/test';
import { kept, recordOn, saveCopy } from './draw.ts';
import { openApp, openStudio, watch } from './page.ts';

/** Presses one key so often. */
async function press(page: Page, key: string, times = 1): Promise<void> {
  for (let i = 0; i < times; i++) await page.keyboard.press(key);
}

/** Goes round the regions of the page with F6 until one has the keyboard. */
async function toRegion(page: Page, region: string): Promise<void> {
  for (let i = 0; i < 8; i++) {
    const now = await page.evaluate(
      () => document.activeElement?.closest('[data-region]')?.getAttribute('data-region') ?? '',
    );
    if (now === region) return;
    await press(page, 'F6');
  }
  throw new Error(`F6 never came to ${region}`);
}

/** Tabs on until the named button has the keyboard. */
async function tabTo(page: Page, name: string): Promise<void> {
  const wanted = page.getByRole('button', { name, exact: true });
  for (let i = 0; i < 80; i++) {
    if (await wanted.evaluate((each) => each === document.activeElement)) return;
    await press(page, 'Tab');
  }
  throw new Error(`Tab never came to ${name}`);
}

test('from nothing to a ring with its metres, by keyboard alone', async ({ page }) => {
  test.setTimeout(90_000);
  const { problems } = watch(page);
  await openApp(page);

  // A new plan from the menu.
  await tabTo(page, 'File');
  await press(page, 'Enter');
  await expect(page.getByRole('menuitem', { name: 'New plan' })).toBeFocused();
  await press(page, 'Enter');
  await expect(page.getByLabel('Title of the plan')).toHaveValue('Untitled plan');

  // Help opens, holds the keyboard, closes and gives it back.
  await press(page, '?');
  const help = page.getByRole('dialog', { name: 'Help' });
  await expect(help).toBeVisible();
  await press(page, 'Tab', 3);
  expect(await help.evaluate((dialog) => dialog.contains(document.activeElement))).toBe(true);
  await press(page, 'Escape');
  await expect(help).toBeHidden();

  // A room of 4 by 3 m: a cursor of 100 mm steps, lengths typed.
  await press(page, '2');
  await expect(page.getByRole('heading', { level: 2, name: 'Fabric' })).toBeVisible();
  await toRegion(page, 'tools');
  await tabTo(page, 'Wall');
  await press(page, 'Enter');
  await toRegion(page, 'plan');
  await press(page, 'ArrowLeft', 12);
  await press(page, 'ArrowUp', 10);
  await press(page, 'Enter');
  for (const [way, length] of [
    ['ArrowRight', '4000'],
    ['ArrowDown', '3 m'],
    ['ArrowLeft', '4000'],
    ['ArrowUp', '3000'],
  ] as const) {
    await press(page, way, 3);
    await page.keyboard.type(length);
    await press(page, 'Enter');
  }
  await expect(page.getByText('11.39 m²')).toBeVisible();

  // Undo and redo.
  await press(page, 'ControlOrMeta+z');
  await expect(page.getByText('11.39 m²')).toBeHidden();
  await press(page, 'ControlOrMeta+Shift+z');
  await expect(page.getByText('11.39 m²')).toBeVisible();

  // The consumer unit and two sockets on the top wall. The cursor goes in steps of 100 mm from the corner's, and points
  // lie on whole 10 mm of the wall, which starts 44 mm (half its thickness) inside the corner.
  const [, x0, y0] = /, ([-−\d\s]+) across, ([-−\d\s]+) down/.exec(
    (await recordOn(page, 'plan', 'nodes:n1').getAttribute('aria-label')) ?? '',
  ) as unknown as [string, string, string];
  const number = (text: string): number => Number(text.replaceAll(/\s/g, '').replace('−', '-'));
  /** Moves the plan's cursor so many mm right and down of the first corner. */
  const cursorTo = async (dx: number, dy: number): Promise<void> => {
    await press(page, 'ArrowRight');
    const said = await page.locator('[data-region=plan] .zw-said').textContent();
    const [, x, y] = /^([-−\d\s]+) across, ([-−\d\s]+) down$/.exec(said ?? '') as unknown as [
      string,
      string,
      string,
    ];
    const right = (number(x0) + dx - number(x)) / 100;
    const down = (number(y0) + dy - number(y)) / 100;
    await press(page, right > 0 ? 'ArrowRight' : 'ArrowLeft', Math.abs(right));
    await press(page, down > 0 ? 'ArrowDown' : 'ArrowUp', Math.abs(down));
  };
  await press(page, 'Escape', 2);
  await press(page, '3');
  for (const [kind, dx] of [
    ['Consumer unit', 500],
    ['Socket-outlet', 2500],
    ['Socket-outlet', 3000],
  ] as const) {
    await toRegion(page, 'tools');
    await tabTo(page, kind);
    await press(page, 'Enter');
    await toRegion(page, 'plan');
    await cursorTo(dx, 100);
    await press(page, 'Enter');
  }
  const onWall = async (n: number): Promise<string | null> =>
    recordOn(page, 'elevations', `points:p${n}`).getAttribute('aria-label');
  expect(await onWall(1)).toContain('460 from the left, 1400 up');
  expect(await onWall(2)).toContain('2460 from the left, 450 up');
  expect(await onWall(3)).toContain('2960 from the left, 450 up');

  // A ring, with both sockets on it.
  await press(page, 'Escape', 2);
  await press(page, '4');
  await toRegion(page, 'tools');
  await tabTo(page, '+ Ring');
  await press(page, 'Enter');
  await toRegion(page, 'plan');
  await cursorTo(2500, 100);
  await press(page, 'Enter');
  await cursorTo(3000, 100);
  await press(page, 'Enter');
  await expect(page.getByRole('button', { name: /^C1/ })).toContainText('2 points');

  // Runs: over the ceiling from the plan, each next one from where the last ended; one of them level on the wall.
  await press(page, 'Escape', 2);
  await press(page, '5');
  await toRegion(page, 'tools');
  await tabTo(page, 'Draw a run');
  await press(page, 'Enter');
  await toRegion(page, 'plan');
  const runs = page.locator('table.runs tbody tr');
  await cursorTo(500, 100);
  await press(page, 'Enter');
  await cursorTo(2500, 100);
  await press(page, 'Enter');
  await expect(runs).toHaveCount(1);
  await cursorTo(3000, 100);
  await press(page, 'Enter');
  await cursorTo(500, 100);
  await press(page, 'Enter');
  await expect(runs).toHaveCount(2);
  await toRegion(page, 'elevations');
  const wallTo = async (u: number, z: number): Promise<void> => {
    const where = page.locator('[data-region=elevations] .zw-said');
    let said = '';
    // The cursor starts in the middle of the band, on another wall.
    for (let i = 0; i < 60 && !said.startsWith('Top wall:'); i++) {
      await press(page, 'ArrowLeft');
      said = (await where.textContent()) ?? '';
    }
    const [, nowU, nowZ] = /: (-?\d+) from the left, (-?\d+) up$/.exec(said) as unknown as [
      string,
      string,
      string,
    ];
    const [right, up] = [(u - Number(nowU)) / 100, (z - Number(nowZ)) / 100];
    await press(page, right > 0 ? 'ArrowRight' : 'ArrowLeft', Math.abs(right));
    await press(page, up > 0 ? 'ArrowUp' : 'ArrowDown', Math.abs(up));
  };
  await wallTo(2500, 400);
  await press(page, 'Enter');
  await wallTo(3000, 400);
  await press(page, 'Enter');
  await expect(runs).toHaveCount(3);

  // By hand, with the cable 100 mm above the ceiling of 2400 mm: P1 to P2, P3 to P1, and P2 to P3 level on the wall.
  const measured = 1100 + 2000 + 2050 + (2050 + 2500 + 1100) + 500;
  const ordered = (measured + 2 * 1000 + 4 * 300) * 1.1;
  await press(page, 'Escape', 2);
  await press(page, '6');
  const card = page.getByRole('region', { name: '2.5 mm² twin and earth', exact: true });
  await expect(card.getByRole('button').first()).toContainText(`${(ordered / 1000).toFixed(2)} m`);

  const done = await saveCopy(page);
  await kept(page);
  await page.reload();
  await expect(card).toBeVisible();
  expect((await saveCopy(page)).text).toBe(done.text);
  expect(problems).toEqual([]);
});

test('Tab goes all round the page and back, and always shows where it is', async ({ page }) => {
  await openStudio(page);
  const stop = () =>
    page.evaluate(() => {
      const now = document.activeElement;
      if (!(now instanceof HTMLElement) || now === document.body) return null;
      const shown = [now, now.parentElement, ...now.querySelectorAll('*')].some((each) => {
        if (!(each instanceof HTMLElement)) return false;
        const style = getComputedStyle(each);
        return (
          (style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) > 0) || style.boxShadow !== 'none'
        );
      });
      const box = now.getBoundingClientRect();
      const name = `${now.tagName} ${now.getAttribute('aria-label') ?? now.textContent?.trim().slice(0, 30)}`;
      return {
        name,
        region: now.closest('[data-region]')?.getAttribute('data-region') ?? '',
        seen: shown && box.width > 0 && box.height > 0,
      };
    });
  const round = async (key: string): Promise<{ regions: Set<string>; stops: number }> => {
    const regions = new Set<string>();
    for (let stops = 0; stops < 400; stops++) {
      await press(page, key);
      const at = await stop();
      if (at === null) return { regions, stops };
      expect(at, at.name).toMatchObject({ seen: true });
      regions.add(at.region);
    }
    throw new Error(`${key} never came round`);
  };
  // To the end of the page first, so that the next round is a whole one.
  await round('Tab');
  const there = await round('Tab');
  expect([...there.regions]).toEqual(
    expect.arrayContaining(['stages', 'tools', 'plan', 'elevations', 'findings']),
  );
  const back = await round('Shift+Tab');
  expect(back.stops).toBe(there.stops);
});

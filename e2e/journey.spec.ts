import { readFile } from 'node:fs/promises';
import { expect, test, type Page } from '@playwright/test';
import { drag, kept, placeOf, recordOn, saveCopy, sheetOf, viewOf, type OnPage } from './draw.ts';
import { PHONE, phonePhoto } from '../tests/io/pictures/phonePhoto.ts';
import { goTo, openEmpty, watch } from './page.ts';

const PICTURE = new URL('../sample-plans/pottery-studio-plan.png', import.meta.url);
/** The picture is 2000 x 1300 px; a new one is shown whole with 36 px free all round. */
const [WIDE, HIGH, FREE] = [2000, 1300, 36];

/** A room of 5300 by 4788 mm on the centre lines of timber stud walls of 88 mm: 5212 by 4700 inside. */
const [ACROSS, DOWN] = [5300, 4788];
const INSIDE = ACROSS - 88;

/** The consumer unit, two sockets on the top wall, one on the right wall: mm from the left end of the wall, and up. */
const BOARD = { u: 500, z: 1400 };
const ONE = { u: 2000, z: 450 };
const TWO = { u: 3200, z: 450 };
const THREE = { u: 1500, z: 450 };

const m = (mm: number): string => `${(mm / 1000).toFixed(2)} m`;

/** Where the pixels of the picture lie on the page. */
async function pictureOnPage(page: Page): Promise<{ at: (x: number, y: number) => OnPage; scale: number }> {
  const sheet = await sheetOf(page, 'plan');
  const scale = Math.min((sheet.width - 2 * FREE) / WIDE, (sheet.height - 2 * FREE) / HIGH);
  const left = sheet.x + (sheet.width - WIDE * scale) / 2;
  const top = sheet.y + (sheet.height - HIGH * scale) / 2;
  return { at: (x, y) => [Math.round(left + x * scale), Math.round(top + y * scale)], scale };
}

/** Fills a length field of the selected record. */
async function fill(page: Page, label: string, value: string): Promise<void> {
  const field = page.locator('[data-region=inspector]').getByLabel(label);
  await field.fill(value);
  await field.press('Enter');
  await expect(field).toHaveValue(value);
}

test('from a picture to metres, by mouse: traced, wired, mended, saved and come back to', async ({
  page,
}) => {
  const { problems } = watch(page);
  await openEmpty(page);
  const empty = await saveCopy(page);

  await goTo(page, 'Drawing');
  await page.getByLabel('Open a picture of the plan').setInputFiles({
    name: 'paper plan.png',
    mimeType: 'image/png',
    buffer: await readFile(PICTURE),
  });
  const picture = page.getByRole('region', { name: 'Tracing paper plan.png' });
  await expect(picture).toContainText('metres are refused rather than guessed');

  // Two known lengths: 8600 mm across from pixel 270 to 1703.3, 4700 mm down from pixel 240 to 1023.3.
  const paper = await pictureOnPage(page);
  const across = [paper.at(270, 1000), paper.at(1703, 1000)] as const;
  const down = [paper.at(300, 240), paper.at(300, 1023)] as const;
  const known = async (line: readonly [OnPage, OnPage], length: string): Promise<void> => {
    await drag(page, ...line);
    await page.getByLabel('Real length').fill(length);
    await page.getByLabel('Real length').press('Enter');
  };
  await known(across, '8600');
  await expect(picture).toContainText('Only one length: nothing checks it.');
  await known(down, '4.7 m');
  // By hand: p px long on the picture and L mm known, the scale is Σ pL / Σ p²; each length disagrees by |s p - L| / L;
  // each end may be 1 px off.
  const p = (across[1][0] - across[0][0]) / paper.scale;
  const q = (down[1][1] - down[0][1]) / paper.scale;
  const scale = (p * 8600 + q * 4700) / (p * p + q * q);
  const apart = Math.max(Math.abs(scale * p - 8600) / 8600, Math.abs(scale * q - 4700) / 4700);
  const inEach = 1000 * (apart + (2 * (p + q)) / (p * p + q * q));
  await expect(picture).toContainText(`${scale.toPrecision(4)} mm per pixel`);
  await expect(picture).toContainText(`Lengths disagree by${(apart * 100).toFixed(2)} %`);
  await expect(picture).toContainText(`± ${inEach.toFixed(1)} mm`);
  expect(scale).toBeGreaterThan(5.9);
  expect(scale).toBeLessThan(6.1);

  // The room, clicked and typed over the picture.
  await goTo(page, 'Fabric');
  await page.getByRole('button', { name: 'Wall', exact: true }).click();
  const lead = async (to: OnPage, length: number): Promise<void> => {
    await page.mouse.move(...to, { steps: 3 });
    await page.keyboard.type(String(length));
    await page.keyboard.press('Enter');
  };
  await page.mouse.click(...paper.at(262, 232));
  await lead(paper.at(900, 234), ACROSS);
  await lead(paper.at(1145, 700), DOWN);
  await lead(paper.at(600, 1030), ACROSS);
  await page.mouse.move(...paper.at(264, 234), { steps: 3 });
  await page.mouse.click(...paper.at(262, 232));
  // 5.212 m by 4.700 m.
  await expect(page.getByText('24.50 m²')).toBeVisible();

  // Where the corners are is told by their labels.
  const corner = async (n: number): Promise<{ x: number; y: number }> => {
    const label = await recordOn(page, 'plan', `nodes:n${n}`).getAttribute('aria-label');
    const [, x, y] = /, ([-−\d\s]+) across, ([-−\d\s]+) down/.exec(label ?? '') ?? [];
    const number = (text: string | undefined): number =>
      Number((text ?? '').replace('−', '-').replaceAll(/\s/g, ''));
    return { x: number(x), y: number(y) };
  };
  const [nw, ne] = [await corner(1), await corner(2)];
  expect(ne.x - nw.x).toBe(ACROSS);
  const plan = await viewOf(page, 'plan', ['nodes:n1', nw], ['nodes:n2', ne]);
  const room = (x: number, y: number): OnPage => plan({ x: nw.x + 44 + x, y: nw.y + 44 + y });

  await page.getByRole('button', { name: 'Door or window' }).click();
  await page.mouse.click(...room(4000, 4744));
  await expect(recordOn(page, 'plan', 'openings:o1')).toHaveAttribute('aria-label', /^Door o1, 826 mm wide/);
  await page.getByRole('button', { name: 'Name a room' }).click();
  await page.mouse.click(...room(2600, 2300));
  await page.keyboard.type('Workshop');
  await page.keyboard.press('Enter');
  await expect(page.getByLabel('Name of room 1')).toHaveValue('Workshop');

  // Points, clicked on the walls and put in place to the millimetre.
  await goTo(page, 'Points');
  const kinds = page.getByRole('group', { name: 'Kinds of point' });
  const place = async (n: number, at: OnPage, u: number): Promise<void> => {
    await page.mouse.click(...at);
    await expect(page.locator('[data-region=inspector] h2')).toContainText(`P${n}`);
    await fill(page, 'Centre from the left-hand end of the wall', String(u));
  };
  await kinds.getByRole('button', { name: 'Consumer unit' }).click();
  await place(1, room(510, 10), BOARD.u);
  await kinds.getByRole('button', { name: 'Socket-outlet' }).click();
  await place(2, room(1990, 10), ONE.u);
  await place(3, room(3180, 10), TWO.u);
  await place(4, room(INSIDE - 10, 1480), THREE.u);

  // A ring, and the sockets on it.
  await goTo(page, 'Circuits');
  await page.getByRole('button', { name: '+ Ring' }).click();
  for (const n of [2, 3, 4]) await page.mouse.click(...(await placeOf(page, 'plan', `points:p${n}`)));
  await expect(page.getByRole('button', { name: /^C1/ })).toContainText('3 points');

  // Runs: one slanting and one level where no zone is, on the wall; round the corner on the wall; over the ceiling.
  await goTo(page, 'Runs');
  await page.getByRole('button', { name: 'Draw a run' }).click();
  const onWall = async (n: number): Promise<OnPage> => placeOf(page, 'elevations', `points:p${n}`);
  const count = page.locator('table.runs tbody tr');
  await page.mouse.click(...(await onWall(1)));
  await page.keyboard.down('Alt');
  await page.mouse.click(...(await onWall(2)));
  await page.keyboard.up('Alt');
  await expect(count).toHaveCount(1);

  const wall = await viewOf(
    page,
    'elevations',
    ['points:p2', { x: ONE.u, y: ONE.z }],
    ['points:p3', { x: TWO.u, y: TWO.z }],
  );
  const on = (u: number, z: number): OnPage => wall({ x: u, y: z });
  await page.mouse.click(...on(ONE.u, ONE.z));
  await page.mouse.move(...on(ONE.u + 5, 900), { steps: 3 });
  await page.keyboard.type('350');
  await page.keyboard.press('Enter');
  await page.mouse.move(...on(2600, 805), { steps: 3 });
  await page.keyboard.type('1200');
  await page.keyboard.press('Enter');
  await page.mouse.click(...on(TWO.u, TWO.z));
  await expect(count).toHaveCount(2);

  await page.mouse.click(...(await onWall(3)));
  await page.mouse.click(...(await onWall(4)));
  await expect(count).toHaveCount(3);
  await page.mouse.click(...(await placeOf(page, 'plan', 'points:p4')));
  await page.mouse.click(...(await placeOf(page, 'plan', 'points:p1')));
  await expect(count).toHaveCount(4);

  // By hand: nothing is drawn behind these thin walls, so from there all but the top band (from 2250 up) is disputed, and
  // the distance is to that band. The slanting leg is outside from the end of the socket's level strip (43 over it) and at
  // most the cable's half width (under 6) on; the level leg lies 350 over the socket.
  const slant = [0, 1, 2, 3, 4, 5, 6].map((half) => 2250 - (ONE.z + 43) - half);
  const high = 2250 - (ONE.z + 350);
  const found = page.getByRole('region', { name: /^Findings/ });
  const finding = (text: string | RegExp) => found.locator('.finding').filter({ hasText: text });
  await expect(
    finding(new RegExp(`R1 is (${slant.join('|')}) mm outside the permitted zones`)),
  ).toContainText('on the top wall of Workshop');
  await expect(finding('R1 is neither level nor plumb')).toContainText('on the top wall of Workshop');
  await expect(finding(`R2 is ${high} mm outside the permitted zones`)).toContainText(
    'on the top wall of Workshop',
  );
  await expect(finding('outside the permitted zones')).toHaveCount(2);
  await expect(finding('neither level nor plumb')).toHaveCount(1);

  // Mended by dragging: a corner put on the slanting leg and dragged plumb under the board, level with the socket; the
  // level leg dragged up into the band under the top of the wall.
  await page.getByRole('button', { name: 'Select', exact: true }).click();
  const half = on((BOARD.u + ONE.u) / 2, (BOARD.z + ONE.z) / 2);
  await page.mouse.click(...half);
  await expect(page.locator('[data-region=inspector] h2')).toHaveText('Run R1');
  await page.mouse.dblclick(...half);
  await expect(page.getByRole('button', { name: 'Undo: Add corner' })).toBeEnabled();
  await drag(page, half, on(BOARD.u + 10, ONE.z + 10));
  await expect(finding(/R1 is (\d+ mm outside|neither)/)).toHaveCount(0);
  await page.mouse.click(...on(2600, 800));
  await expect(page.locator('[data-region=inspector] h2')).toHaveText('Run R2');
  await drag(page, on(2600, 800), on(2600, 2330));
  await expect(finding('outside the permitted zones')).toHaveCount(0);
  await expect(finding('neither level nor plumb')).toHaveCount(0);
  // Thin walls with nothing drawn behind them: from there the strips are disputed, and stay so.
  for (const row of await count.all()) await expect(row).not.toContainText(/outside/i);

  // The metres, leg by leg. In the void the cable lies 100 mm above the ceiling of 2400 mm, and the band's middle is
  // 75 mm under it.
  const [ceiling, cable] = [2400, 2500];
  const level = [ONE.u - BOARD.u, TWO.u - ONE.u, INSIDE - TWO.u + THREE.u, THREE.u + INSIDE - BOARD.u];
  const plumb = [
    BOARD.z - ONE.z,
    ceiling - 75 - ONE.z + (ceiling - 75 - TWO.z),
    0,
    cable - THREE.z + (cable - BOARD.z),
  ];
  // Tails: 1 m at the board, 0.3 m at each box that comes later; ten in a hundred on top.
  const tails = 2 * 1000 + 6 * 300;
  const sum = (lengths: readonly number[]): number => lengths.reduce((total, each) => total + each, 0);
  const all = sum(level) + sum(plumb) + tails;
  await goTo(page, 'Take-off');
  const card = page.getByRole('region', { name: '2.5 mm² twin and earth', exact: true });
  const figure = (name: string) => card.locator('dl.figures > div').filter({ hasText: name }).locator('dd');
  await expect(figure('Run')).toHaveText(m(sum(level)));
  await expect(figure('Rise and drop')).toHaveText(m(sum(plumb)));
  await expect(figure('Through walls')).toHaveText('0.00 m');
  await expect(figure('Tails')).toHaveText(m(tails));
  await expect(figure('Allowance')).toHaveText(m(all * 0.1));
  await expect(card.getByRole('button').first()).toContainText(m(all * 1.1));
  // Heights are typed; what lies level was measured off the picture.
  await expect(figure('good to')).toHaveText(`± ${m((sum(level) * inEach) / 1000)}`);

  // Everything taken back and done again, kept, come back to, saved and opened: always the same bytes.
  const done = await saveCopy(page);
  /** Clicks a button of the title bar until it has nothing left to do. */
  const exhaust = (name: RegExp): Promise<void> =>
    page.getByRole('button', { name }).evaluate(async (button: HTMLButtonElement) => {
      while (!button.disabled) {
        button.click();
        await new Promise(requestAnimationFrame);
      }
    });
  await exhaust(/^Undo/);
  expect((await saveCopy(page)).text).toBe(empty.text);
  await exhaust(/^Redo/);
  expect((await saveCopy(page)).text).toBe(done.text);
  await kept(page);
  await page.reload();
  await expect(page.getByRole('heading', { level: 2, name: 'Take-off' })).toBeVisible();
  await expect(card.getByRole('button').first()).toContainText(m(all * 1.1));
  expect((await saveCopy(page)).text).toBe(done.text);
  await page.getByRole('button', { name: 'File', exact: true }).click();
  await page.getByRole('menuitem', { name: 'New plan' }).click();
  // A download does not count as saved: the browser does not tell whether it was kept.
  await page.getByRole('button', { name: 'Put it away unsaved' }).click();
  await expect(card).toBeHidden();
  await page.getByLabel('Open a plan file').setInputFiles({
    name: done.name,
    mimeType: 'application/zip',
    buffer: done.bytes,
  });
  await goTo(page, 'Take-off');
  await expect(card).toBeVisible();
  expect((await saveCopy(page)).text).toBe(done.text);
  expect(problems).toEqual([]);
});

test('a phone photo of 12 megapixels, lying on its side, opens upright', async ({ page }) => {
  const { problems } = watch(page);
  await openEmpty(page);
  const photo = await phonePhoto(page, await readFile(PICTURE));
  await goTo(page, 'Drawing');
  await page.getByLabel('Open a picture of the plan').setInputFiles({
    name: 'photo.jpg',
    mimeType: 'image/jpeg',
    buffer: Buffer.from(photo),
  });
  await expect(page.getByRole('region', { name: 'Tracing photo.jpg' })).toBeVisible();
  // Upright its top left corner is red and its top right one green: 3000 x 4000 px, shown whole.
  const sheet = await sheetOf(page, 'plan');
  const scale = (sheet.height - 2 * FREE) / PHONE.height;
  const half = (PHONE.width * scale) / 2;
  const colours = () =>
    page
      .locator('[data-region=plan] canvas')
      .first()
      .evaluate(
        (canvas: HTMLCanvasElement, places) =>
          places.map(([x, y]) => {
            const ratio = canvas.width / canvas.clientWidth;
            const data = canvas.getContext('2d')?.getImageData(x * ratio, y * ratio, 1, 1).data;
            return [...(data ?? [])].map((each) => (each > 128 ? 1 : 0)).join('');
          }),
        [
          [sheet.width / 2 - half + 10, FREE + 10],
          [sheet.width / 2 + half - 10, FREE + 10],
        ] as const,
      );
  await expect.poll(colours, { timeout: 15_000 }).toEqual(['1001', '0101']);
  const saved = await saveCopy(page);
  expect(saved.text).toContain('"width": 3000');
  expect(saved.text).toContain('"height": 4000');
  expect(problems).toEqual([]);
});

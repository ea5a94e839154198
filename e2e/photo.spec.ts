import { expect, test, type Page } from '@playwright/test';
import { readFile } from 'node:fs/promises';
import { decodePlan } from '../src/io/planFile.ts';
import type { PlanDocument } from '../src/engine/model/document.ts';
import { sheetOf } from './draw.ts';
import { goTo, openEmpty, watch } from './page.ts';

/** An invented plan on A3 at 1:50: a room of 8 by 5 m inside with a wall across it; outer walls 300, inner 100 mm thick. */
const SCALE = 50;
const [WIDE, HIGH] = [420, 297];
/** Ink, mm of paper: x, y, width, height. Openings are gaps. */
const INK: readonly (readonly [number, number, number, number])[] = [
  [100, 80, 172, 6],
  [100, 186, 60, 6],
  [184, 186, 88, 6],
  [100, 80, 6, 112],
  [266, 80, 6, 112],
  [185, 86, 2, 30],
  [185, 134, 2, 52],
];
/** Inside face to inside face. */
const ACROSS = 160 * SCALE;
const DOWN = 100 * SCALE;

/** The sheet photographed at an angle on a dark bench, drawn pixel by pixel: each pixel of the photograph looks at the sheet. */
async function photograph(
  page: Page,
): Promise<{ buffer: Buffer; corners: readonly (readonly [number, number])[] }> {
  const made = await page.evaluate(
    async ({ ink, wide, high }) => {
      const [width, height] = [2400, 1800];
      // A pinhole at 700 mm, tilted by 20° about an axis across and 12° about one down.
      const [f, far] = [3300, 700];
      const [sx, cx] = [Math.sin(0.35), Math.cos(0.35)];
      const [sy, cy] = [Math.sin(0.2), Math.cos(0.2)];
      // Axes of the sheet as the camera sees them.
      const ex = [cy, sx * sy, -cx * sy];
      const ey = [0, cx, sx];
      const seen = (x: number, y: number): [number, number] => {
        const p = [0, 1, 2].map((i) => x * (ex[i] ?? 0) + y * (ey[i] ?? 0));
        const z = (p[2] ?? 0) + far;
        return [width / 2 + (f * (p[0] ?? 0)) / z, height / 2 + (f * (p[1] ?? 0)) / z];
      };
      const n = [
        (ex[1] ?? 0) * (ey[2] ?? 0) - (ex[2] ?? 0) * (ey[1] ?? 0),
        (ex[2] ?? 0) * (ey[0] ?? 0) - (ex[0] ?? 0) * (ey[2] ?? 0),
        (ex[0] ?? 0) * (ey[1] ?? 0) - (ex[1] ?? 0) * (ey[0] ?? 0),
      ];
      const canvas = document.createElement('canvas');
      canvas.width = width;
      canvas.height = height;
      const context = canvas.getContext('2d');
      if (!context) throw new Error('no canvas');
      const image = context.createImageData(width, height);
      const shade = (col: number, row: number): number => {
        const ray = [(col - width / 2) / f, (row - height / 2) / f, 1];
        const t = ((n[2] ?? 0) * far) / ray.reduce((sum, v, i) => sum + v * (n[i] ?? 0), 0);
        const at = [t * (ray[0] ?? 0), t * (ray[1] ?? 0), t * (ray[2] ?? 0) - far];
        const x = at.reduce((sum, v, i) => sum + v * (ex[i] ?? 0), 0) + wide / 2;
        const y = at.reduce((sum, v, i) => sum + v * (ey[i] ?? 0), 0) + high / 2;
        if (x < 0 || y < 0 || x > wide || y > high) return 60;
        return ink.some(([l, u, w, h]) => x >= l && x <= l + w && y >= u && y <= u + h) ? 25 : 235;
      };
      for (let row = 0; row < height; row++)
        for (let col = 0; col < width; col++) {
          let sum = 0;
          for (const dx of [0.25, 0.75]) for (const dy of [0.25, 0.75]) sum += shade(col + dx, row + dy);
          const at = 4 * (row * width + col);
          image.data[at] = image.data[at + 1] = image.data[at + 2] = sum / 4;
          image.data[at + 3] = 255;
        }
      context.putImageData(image, 0, 0);
      const text = canvas.toDataURL('image/png');
      return {
        png: text.slice(text.indexOf(',') + 1),
        corners: [
          seen(-wide / 2, -high / 2),
          seen(wide / 2, -high / 2),
          seen(wide / 2, high / 2),
          seen(-wide / 2, high / 2),
        ] as const,
      };
    },
    { ink: INK, wide: WIDE, high: HIGH },
  );
  return { buffer: Buffer.from(made.png, 'base64'), corners: made.corners };
}

/** The plan as it is saved, pictures and all. */
async function savedPlan(page: Page): Promise<PlanDocument> {
  await page.evaluate(() => Reflect.deleteProperty(window, 'showSaveFilePicker'));
  const waiting = page.waitForEvent('download');
  await page.keyboard.press('ControlOrMeta+s');
  const decoded = decodePlan(await readFile(await (await waiting).path()));
  if (!decoded.ok) throw new Error('the saved plan does not open');
  return decoded.doc;
}

test('a photograph is straightened by its corners, its walls found, accepted in one step and undone in one', async ({
  page,
}) => {
  const { problems } = watch(page);
  await openEmpty(page);
  await goTo(page, 'Drawing');
  const { buffer, corners } = await photograph(page);
  await page
    .getByLabel('Open a picture of the plan')
    .setInputFiles({ name: 'bench.png', mimeType: 'image/png', buffer });
  const card = page.getByRole('region', { name: 'Tracing bench.png' });
  await card.getByRole('button', { name: 'Straighten a photograph…' }).click();
  const dialog = page.getByRole('dialog', { name: 'Straighten a photograph' });
  await expect(dialog).toContainText('The corners of the sheet were found');
  for (const [i, name] of ['Top left', 'Top right', 'Bottom right', 'Bottom left'].entries()) {
    const said = await dialog
      .getByRole('button', { name: `${name} corner` })
      .getAttribute('aria-description');
    const [, across, down] = /(\d+) across, (\d+) down/.exec(said ?? '') ?? [];
    expect(Math.abs(Number(across) - (corners[i]?.[0] ?? 0))).toBeLessThan(3);
    expect(Math.abs(Number(down) - (corners[i]?.[1] ?? 0))).toBeLessThan(3);
  }
  // A corner is taken off by the keyboard and put back.
  const corner = dialog.getByRole('button', { name: 'Top left corner' });
  await corner.focus();
  await corner.press('ArrowRight');
  await corner.press('ArrowLeft');
  await dialog.getByRole('button', { name: 'Straighten', exact: true }).click();
  await expect(dialog).toBeHidden();
  await expect(card).toContainText('metres are refused rather than guessed');

  // The known length: 8 m across, inside the room, on the straightened sheet shown whole.
  const sheet = await sheetOf(page, 'plan');
  const sheetSource = (await savedPlan(page)).tracings.byId['u1']?.source;
  expect([sheetSource?.width, sheetSource?.height]).toEqual([WIDE, HIGH]);
  const scale = Math.min((sheet.width - 72) / WIDE, (sheet.height - 72) / HIGH);
  const left = sheet.x + (sheet.width - WIDE * scale) / 2;
  const top = sheet.y + (sheet.height - HIGH * scale) / 2;
  await page.getByRole('button', { name: 'Known length', exact: true }).click();
  await page.mouse.move(left + 106 * scale, top + 140 * scale);
  await page.mouse.down();
  await page.mouse.move(left + 266 * scale, top + 140 * scale, { steps: 5 });
  await page.mouse.up();
  await page.getByLabel('Real length').fill(String(ACROSS));
  await page.getByLabel('Real length').press('Enter');
  await expect(card).toContainText('So each metre is');
  const stated = Number(/± ([\d.]+) mm/.exec((await card.textContent()) ?? '')?.[1]);
  expect(stated).toBeGreaterThan(1);

  await card.getByRole('button', { name: 'Find walls' }).click();
  const proposed = page.getByRole('region', { name: 'Proposed walls' });
  await expect(proposed).toContainText('5 walls proposed from bench.png');
  await expect(proposed).toContainText('Nothing is drawn until you accept it.');
  await proposed.getByRole('button', { name: 'Accept 5 ticked' }).click();
  await expect(proposed).toBeHidden();
  await goTo(page, 'Fabric');
  await expect(page.locator('.rooms li')).toHaveCount(2);
  const drawn = await savedPlan(page);
  const xs = Object.values(drawn.nodes.byId).map((n) => n.x);
  const ys = Object.values(drawn.nodes.byId).map((n) => n.y);
  // Middles of the outer walls are 300 mm further apart than the faces inside.
  const across = Math.max(...xs) - Math.min(...xs) - 300;
  const down = Math.max(...ys) - Math.min(...ys) - 300;
  expect(Math.abs(across - ACROSS)).toBeLessThan((stated * ACROSS) / 1000 + 15);
  expect(Math.abs(down - DOWN)).toBeLessThan((stated * DOWN) / 1000 + 15);
  await page.keyboard.press('ControlOrMeta+z');
  await expect(page.locator('.rooms li')).toHaveCount(0);
  expect((await savedPlan(page)).walls.order).toEqual([]);
  expect(problems).toEqual([]);
});

test('a room is typed from tape sizes, its error spread, and a second joined to it', async ({ page }) => {
  const { problems } = watch(page);
  await openEmpty(page);
  await goTo(page, 'Fabric');
  await page.getByText('Room from tape sizes').click();
  const type = async (sizes: readonly number[]): Promise<void> => {
    for (const [i, size] of sizes.entries()) {
      const field = page.getByLabel(`Wall ${i + 1}`, { exact: true });
      await field.fill(String(size));
      await field.press('Enter');
    }
  };
  await type([4010, 3000, 3990, 3013]);
  await expect(page.getByText('The last wall ends 23.9 mm from where the first began.')).toBeVisible();
  const draw = page.getByRole('button', { name: 'Draw this room' });
  await expect(draw).toBeDisabled();
  await page.getByLabel('Spread the error over all sizes').check();
  await expect(page.locator('.taped-sides output').first()).toHaveText(/Corrected: (.* mm|as taped)/);
  await page.getByLabel('Name of the room').fill('Store');
  await page.getByLabel('Name of the room').press('Enter');
  await draw.click();
  await expect(page.locator('.rooms li')).toHaveCount(1);

  await type([2500, 2000, 2500, 2000]);
  const on = page.getByLabel('Wall 1 lies');
  const face = await on.locator('option', { hasText: ' mm' }).first().getAttribute('value');
  await on.selectOption(face);
  await draw.click();
  await expect(page.locator('.rooms li')).toHaveCount(2);
  expect((await savedPlan(page)).walls.order).toHaveLength(7);
  await page.keyboard.press('ControlOrMeta+z');
  await expect(page.locator('.rooms li')).toHaveCount(1);
  await page.keyboard.press('ControlOrMeta+z');
  await expect(page.locator('.rooms li')).toHaveCount(0);
  expect(problems).toEqual([]);
});

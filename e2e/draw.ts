import { unzipSync } from 'fflate';
import { readFile } from 'node:fs/promises';
import { expect, type Locator, type Page } from '@playwright/test';

/** Where something lies on a drawing, mm: on the plan x and y (down), on a wall u from its left and z up. */
export interface Spot {
  readonly x: number;
  readonly y: number;
}

/** A place of the page, CSS pixels. */
export type OnPage = readonly [number, number];

export type Surface = 'plan' | 'elevations';

/** The canvas of a surface as the page lays it out. */
export async function sheetOf(
  page: Page,
  surface: Surface,
): Promise<{ readonly x: number; readonly y: number; readonly width: number; readonly height: number }> {
  const box = await page.locator(`[data-region=${surface}] .zw-canvas`).boundingBox();
  if (!box) throw new Error(`the ${surface} have no canvas`);
  // The canvas itself is whole pixels wide and high.
  return { ...box, width: Math.round(box.width), height: Math.round(box.height) };
}

/** The option that stands for a record on a surface: "points:p1", "runs:r2:leg:1". */
export function recordOn(page: Page, surface: Surface, ref: string): Locator {
  return page.locator(`[data-region=${surface}] [data-ref="${ref}"]`);
}

/** The middle of a record's option: where the record is drawn. */
export async function placeOf(page: Page, surface: Surface, ref: string): Promise<OnPage> {
  const option = recordOn(page, surface, ref);
  await expect(option).toBeAttached();
  const box = await option.boundingBox();
  if (!box) throw new Error(`${ref} is not shown on the ${surface}`);
  return [box.x + box.width / 2, box.y + box.height / 2];
}

/**
 * How a drawing lies on the page, worked out from two of its records whose places in mm are known: they must lie apart
 * across (the same scale holds up and down).
 */
export async function viewOf(
  page: Page,
  surface: Surface,
  one: readonly [ref: string, at: Spot],
  other: readonly [ref: string, at: Spot],
): Promise<(at: Spot) => OnPage> {
  const [ax, ay] = await placeOf(page, surface, one[0]);
  const [bx] = await placeOf(page, surface, other[0]);
  const scale = (bx - ax) / (other[1].x - one[1].x);
  // On walls z grows upwards.
  const down = surface === 'plan' ? 1 : -1;
  return (at) => [ax + (at.x - one[1].x) * scale, ay + (at.y - one[1].y) * scale * down];
}

/** Presses at one place and lets go at another, moving there in steps as a hand does. */
export async function drag(page: Page, from: OnPage, to: OnPage): Promise<void> {
  await page.mouse.move(...from);
  await page.mouse.down();
  await page.mouse.move(...to, { steps: 6 });
  await page.mouse.up();
}

/** Saves a copy through the browser's own download and gives back its text. */
export async function saveCopy(
  page: Page,
): Promise<{ readonly name: string; readonly text: string; readonly bytes: Buffer }> {
  await page.evaluate(() => Reflect.deleteProperty(window, 'showSaveFilePicker'));
  const waiting = page.waitForEvent('download');
  await page.keyboard.press('ControlOrMeta+s');
  const saved = await waiting;
  const bytes = await readFile(await saved.path());
  const name = saved.suggestedFilename();
  // With pictures the copy is a zip file; its plan is what is asked for.
  const plan = name.endsWith('.zip') ? (unzipSync(bytes)['plan.json'] as Uint8Array) : bytes;
  return { name, text: new TextDecoder().decode(plan), bytes };
}

/** Waits until every change is on this device. */
export async function kept(page: Page): Promise<void> {
  await expect(page.locator('.saved')).toHaveText('Saved');
}

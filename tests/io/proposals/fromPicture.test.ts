import { describe, expect, it } from 'vitest';
import { wallsFromPicture } from '../../../src/io/proposals/fromPicture.ts';
import type { Grey } from '../../../src/io/proposals/ink.ts';
import type { ProposedWall } from '../../../src/engine/model/proposedWall.ts';
import { freshSeed, seeded } from '../../random.ts';
import { drawnPlan, inkedPlan } from './scriptedPlan.ts';
import type { ScriptedPlan } from './scriptedPlan.ts';

/** mm along the true walls' middles, sampled every 10 mm: found when a proposed wall of that way lies within `within`. */
function share(of: readonly ProposedWall[], by: readonly ProposedWall[], within: number) {
  let [found, all] = [0, 0];
  for (const w of of) {
    const length = Math.hypot(w.b.x - w.a.x, w.b.y - w.a.y);
    for (let at = 5; at < length; at += 10) {
      const p = { x: w.a.x + ((w.b.x - w.a.x) * at) / length, y: w.a.y + ((w.b.y - w.a.y) * at) / length };
      all++;
      if (by.some((o) => near(p, w, o, within))) found++;
    }
  }
  return { found, all };
}

function near(p: { x: number; y: number }, w: ProposedWall, o: ProposedWall, within: number): boolean {
  const length = Math.hypot(o.b.x - o.a.x, o.b.y - o.a.y);
  const [ux, uy] = [(o.b.x - o.a.x) / length, (o.b.y - o.a.y) / length];
  const way = Math.abs(
    ((w.b.x - w.a.x) * ux + (w.b.y - w.a.y) * uy) / Math.hypot(w.b.x - w.a.x, w.b.y - w.a.y),
  );
  const along = (p.x - o.a.x) * ux + (p.y - o.a.y) * uy;
  const off = Math.abs((p.y - o.a.y) * ux - (p.x - o.a.x) * uy);
  return way > 0.99 && off <= within && along >= -within && along <= length + within;
}

function tally(plans: readonly ScriptedPlan[], pictures: (plan: ScriptedPlan) => Grey, mmPerPixel: number) {
  let [found, all, wrong, proposed] = [0, 0, 0, 0];
  for (const plan of plans) {
    const walls = wallsFromPicture(pictures(plan), mmPerPixel).walls;
    const recall = share(plan.walls, walls, 15);
    const precision = share(walls, plan.walls, 60);
    found += recall.found;
    all += recall.all;
    wrong += precision.all - precision.found;
    proposed += precision.all;
  }
  return { found: found / all, wrong: wrong / proposed };
}

describe('walls proposed from a picture of a plan', () => {
  for (const style of ['solid', 'lines'] as const)
    it(`drawn ${style}: nine tenths of 6 scripted plans within 15 mm, under a twentieth wrong`, () => {
      const seed = freshSeed(`pictures ${style}`);
      const random = seeded(seed);
      const plans = Array.from({ length: 6 }, () => drawnPlan(random));
      const result = tally(plans, (plan) => inkedPlan(plan, style, 10, 0, random), 10);
      console.log(`${style}: found ${result.found.toFixed(3)}, wrong ${result.wrong.toFixed(3)}`);
      expect(result.found, `seed ${seed}`).toBeGreaterThanOrEqual(0.9);
      expect(result.wrong, `seed ${seed}`).toBeLessThanOrEqual(0.05);
    });

  it('finds its turn: the same scanned askew', () => {
    const seed = freshSeed('pictures askew');
    const random = seeded(seed);
    for (let i = 0; i < 3; i++) {
      const turn = (random() - 0.5) * 0.1;
      const plan = drawnPlan(random);
      const picture = inkedPlan(plan, 'solid', 10, turn, random);
      const proposal = wallsFromPicture(picture, 10);
      if (Math.abs(turn) > 0.003) expect(proposal.turn, `seed ${seed}`).toBeCloseTo(turn, 2);
      const middle = { x: (picture.width * 10) / 2, y: (picture.height * 10) / 2 };
      const back = proposal.walls.map((w) => ({
        ...w,
        a: turned(w.a, middle, -turn),
        b: turned(w.b, middle, -turn),
      }));
      const recall = share(plan.walls, back, 25);
      expect(recall.found / recall.all, `seed ${seed}`).toBeGreaterThan(0.85);
    }
  });

  it('a blank sheet and a sheet of text hold no walls', () => {
    const blank = { width: 400, height: 300, shades: new Uint8Array(120_000).fill(250) };
    expect(wallsFromPicture(blank, 10).walls).toEqual([]);
    const text = { ...blank, shades: Uint8Array.from(blank.shades) };
    for (let y = 40; y < 260; y += 14)
      for (let x = 40; x < 360; x += 7) for (let k = 0; k < 6; k++) text.shades[(y + k) * 400 + x] = 0;
    expect(wallsFromPicture(text, 10).walls).toEqual([]);
  });
});

function turned(p: { x: number; y: number }, about: { x: number; y: number }, by: number) {
  const [x, y] = [p.x - about.x, p.y - about.y];
  return {
    x: about.x + Math.cos(by) * x - Math.sin(by) * y,
    y: about.y + Math.sin(by) * x + Math.cos(by) * y,
  };
}

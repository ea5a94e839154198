import type { PlanDocument, Wall } from '../../../src/engine/model/document.ts';
import { buildUpOf, planOf, seeded } from './plans.ts';

/** A wall of a random plan, as the check sees it: two ends and a half thickness. */
export interface PlainWall {
  readonly a: readonly [number, number];
  readonly b: readonly [number, number];
  readonly half: number;
}

export interface RandomPlan {
  readonly doc: PlanDocument;
  readonly walls: readonly PlainWall[];
  /** Walls by the node they share, for filling corners: index of the wall and which of its ends. */
  readonly corners: readonly (readonly { readonly wall: number; readonly end: 'a' | 'b' }[])[];
}

const THICKNESSES = [88, 100, 145, 166, 257];

/**
 * A grid of rooms with walls left out at random, partitions standing on walls (on the centre line or on either
 * surface), walls that cross without a node, and piers that stand free. `skew` moves the grid's nodes about; all grid
 * walls then have one thickness, so that the union of their bodies is what the mitres give.
 */
export function randomPlan(seed: number, skew: boolean): RandomPlan {
  const random = seeded(seed);
  const pick = <T>(list: readonly T[]): T => list[Math.floor(random() * list.length)] as T;
  const jitter = (): number => (skew ? Math.round((random() - 0.5) * 900) : 0);
  const columns = 2 + Math.floor(random() * 3);
  const rows = 2 + Math.floor(random() * 3);
  const common = pick(THICKNESSES);
  const nodes: Record<string, [number, number]> = {};
  const walls: Record<string, [string, string, string, Partial<Wall>]> = {};
  const plain: PlainWall[] = [];
  const shared = new Map<string, { wall: number; end: 'a' | 'b' }[]>();
  const add = (from: string, to: string, thickness: number, corner: boolean): void => {
    const flip = random() < 0.5;
    const [p, q] = flip ? [to, from] : [from, to];
    walls[`w${plain.length}`] = [p, q, `t${thickness}`, { flipped: random() < 0.5 }];
    if (corner) {
      for (const [node, end] of [[p, 'a'] as const, [q, 'b'] as const]) {
        const list = shared.get(node) ?? [];
        list.push({ wall: plain.length, end });
        shared.set(node, list);
      }
    }
    plain.push({ a: nodes[p] as [number, number], b: nodes[q] as [number, number], half: thickness / 2 });
  };
  for (let i = 0; i <= columns; i++)
    for (let j = 0; j <= rows; j++) nodes[`g${i}_${j}`] = [i * 4000 + jitter(), j * 4000 + jitter()];
  for (let i = 0; i <= columns; i++)
    for (let j = 0; j <= rows; j++) {
      const thickness = (): number => (skew ? common : pick(THICKNESSES));
      if (i < columns && random() < 0.8) add(`g${i}_${j}`, `g${i + 1}_${j}`, thickness(), true);
      if (j < rows && random() < 0.8) add(`g${i}_${j}`, `g${i}_${j + 1}`, thickness(), true);
    }
  const grid = plain.length;
  const middle = (): [number, number] => {
    const i = Math.floor(random() * columns);
    const j = Math.floor(random() * rows);
    return [i * 4000 + 2000, j * 4000 + 2000];
  };
  const taken = new Set<string>();
  for (let k = 0; k < 4; k++) {
    const at = middle();
    if (taken.has(at.join())) continue;
    taken.add(at.join());
    const kind = pick(['partition', 'cross', 'pier'] as const);
    const [x, y] = at;
    if (kind === 'pier') {
      nodes[`p${k}a`] = [x - 600, y];
      nodes[`p${k}b`] = [x + 600, y + jitter()];
      add(`p${k}a`, `p${k}b`, pick(THICKNESSES), false);
    } else if (kind === 'cross') {
      nodes[`x${k}a`] = [x, y - 900];
      nodes[`x${k}b`] = [x, y + 900];
      nodes[`x${k}c`] = [x - 700, y - (skew ? 200 : 0)];
      nodes[`x${k}d`] = [x + 700, y + (skew ? 200 : 0)];
      add(`x${k}a`, `x${k}b`, pick(THICKNESSES), false);
      add(`x${k}c`, `x${k}d`, pick(THICKNESSES), false);
    } else {
      // From the middle of the cell to the middle of some grid wall round it, stopping on its centre line or surface.
      const near = plain.slice(0, grid).filter(({ a, b }) => {
        const [mx, my] = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
        return Math.hypot(mx - x, my - y) < 2600;
      });
      if (near.length === 0) continue;
      const host = pick(near);
      const [mx, my] = [(host.a[0] + host.b[0]) / 2, (host.a[1] + host.b[1]) / 2];
      const l = Math.hypot(mx - x, my - y);
      const off = pick([-1, 0, 0, 1]) * host.half * 0.9;
      nodes[`t${k}a`] = [x, y];
      nodes[`t${k}b`] = [mx, my];
      add(`t${k}a`, `t${k}b`, pick([60, 88]), false);
      // The check takes it to the centre line; in the plan it may stop short of that, or go on, inside the host.
      nodes[`t${k}b`] = [mx + ((mx - x) / l) * off, my + ((my - y) / l) * off];
    }
  }
  const doc = planOf({ nodes, walls, buildUps: [60, ...THICKNESSES].map((t) => buildUpOf(`t${t}`, t)) });
  return { doc, walls: plain, corners: [...shared.values()] };
}

import type { Grey } from '../../../src/io/proposals/ink.ts';
import type { ProposedWall } from '../../../src/engine/model/proposedWall.ts';

/** A plan drawn by a script, with its walls known: mm from the picture's top left corner. */
export interface ScriptedPlan {
  readonly width: number;
  readonly height: number;
  readonly walls: readonly ProposedWall[];
  /** Furniture and worktops: outlines that are no walls. */
  readonly furniture: readonly { x: number; y: number; w: number; h: number }[];
}

const EDGE = 1500;
const between = (random: () => number, low: number, high: number): number =>
  10 * Math.round((low + random() * (high - low)) / 10);

/** A rectangle of outer walls cut into four rooms, with doors and windows as gaps, and furniture in each. */
export function drawnPlan(random: () => number): ScriptedPlan {
  const [w, h] = [between(random, 7000, 11_000), between(random, 6000, 9000)];
  const outer = between(random, 250, 360);
  const inner = between(random, 80, 140);
  const [x0, y0] = [EDGE, EDGE];
  const [x1, y1] = [EDGE + w, EDGE + h];
  const split = x0 + between(random, 0.4 * w, 0.6 * w);
  const left = y0 + between(random, 0.35 * h, 0.65 * h);
  const right = y0 + between(random, 0.35 * h, 0.65 * h);
  // Openings keep clear of the ends and of the walls that run in.
  const wall = (
    ax: number,
    ay: number,
    bx: number,
    by: number,
    thickness: number,
    gap: number,
    inRunning: readonly number[] = [],
  ): ProposedWall => {
    const length = Math.hypot(bx - ax, by - ay);
    const clear = Array.from({ length: 40 }, () =>
      between(random, 700, Math.max(710, length - gap - 700)),
    ).find((along) => inRunning.every((at) => at < along - 300 || at > along + gap + 300));
    const fits = clear !== undefined && clear + gap + 700 <= length;
    return {
      a: { x: ax, y: ay },
      b: { x: bx, y: by },
      thickness,
      openings: fits ? [{ along: clear, width: gap }] : [],
      assumed: false,
    };
  };
  const walls = [
    wall(x0, y0, x1, y0, outer, 1200, [split - x0]),
    wall(x1, y0, x1, y1, outer, 1500, [right - y0]),
    wall(x0, y1, x1, y1, outer, 900, [split - x0]),
    wall(x0, y0, x0, y1, outer, 1800, [left - y0]),
    wall(split, y0, split, y1, inner, 800, [left - y0, right - y0]),
    wall(x0, left, split, left, inner, 800),
    wall(split, right, x1, right, inner, 800),
  ];
  // Furniture stands clear of the walls and of the middle walls' lines.
  const furniture = [
    { x: x0 + outer + 300, y: y0 + outer + 300, w: 900, h: 600 },
    { x: x1 - outer - 1500, y: y1 - outer - 900, w: 1000, h: 500 },
  ];
  return { width: w + 2 * EDGE, height: h + 2 * EDGE, walls, furniture };
}

/** Inked on paper at `mm` a pixel, turned by `turn` about its middle, with grain and a shadow across it. */
export function inkedPlan(
  plan: ScriptedPlan,
  style: 'solid' | 'lines',
  mm: number,
  turn: number,
  random: () => number,
): Grey {
  const [width, height] = [Math.round(plan.width / mm), Math.round(plan.height / mm)];
  const shades = new Uint8Array(width * height);
  const solids = plan.walls.map(solidParts);
  const [cos, sin] = [Math.cos(-turn), Math.sin(-turn)];
  const inkAt = (x: number, y: number): boolean => {
    const walls = solids.some((parts) => parts.some((p) => inside(p, x, y, 0)));
    const line = 12;
    if (style === 'solid') {
      if (walls) return true;
    } else if (walls && !solids.some((parts) => parts.some((p) => inside(p, x, y, -line)))) return true;
    return plan.furniture.some(
      (f) =>
        inside({ x0: f.x, y0: f.y, x1: f.x + f.w, y1: f.y + f.h }, x, y, 0) &&
        !inside({ x0: f.x, y0: f.y, x1: f.x + f.w, y1: f.y + f.h }, x, y, -line),
    );
  };
  for (let row = 0; row < height; row++)
    for (let col = 0; col < width; col++) {
      const [dx, dy] = [(col + 0.5) * mm - plan.width / 2, (row + 0.5) * mm - plan.height / 2];
      const x = cos * dx - sin * dy + plan.width / 2;
      const y = sin * dx + cos * dy + plan.height / 2;
      const paper = 245 - (70 * col) / width;
      const shade = (inkAt(x, y) ? 0.15 * paper : paper) + (random() - 0.5) * 16;
      shades[row * width + col] = Math.max(0, Math.min(255, shade));
    }
  return { width, height, shades };
}

interface Part {
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
}

const inside = (p: Part, x: number, y: number, by: number): boolean =>
  x >= p.x0 - by && x <= p.x1 + by && y >= p.y0 - by && y <= p.y1 + by;

/** The pieces of a level or plumb wall between its openings; corners are filled by half the thickness beyond the ends. */
function solidParts(w: ProposedWall): Part[] {
  const plumb = w.a.x === w.b.x;
  const length = Math.hypot(w.b.x - w.a.x, w.b.y - w.a.y);
  const half = w.thickness / 2;
  const cuts = [-half, ...w.openings.flatMap((o) => [o.along, o.along + o.width]), length + half];
  const parts: Part[] = [];
  for (let i = 0; i + 1 < cuts.length; i += 2) {
    const [from, to] = [cuts[i] as number, cuts[i + 1] as number];
    parts.push(
      plumb
        ? { x0: w.a.x - half, x1: w.a.x + half, y0: w.a.y + from, y1: w.a.y + to }
        : { x0: w.a.x + from, x1: w.a.x + to, y0: w.a.y - half, y1: w.a.y + half },
    );
  }
  return parts;
}

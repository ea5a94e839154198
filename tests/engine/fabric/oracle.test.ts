import polygonClipping from 'polygon-clipping';
import { describe, expect, test } from 'vitest';
import { buildFabric } from '../../../src/engine/fabric/build.ts';
import type { Room } from '../../../src/engine/fabric/types.ts';
import { polygonPerimeter } from '../../../src/engine/geometry/polygon.ts';
import { roomAt } from '../../../src/engine/fabric/lookup.ts';
import { seeded } from './plans.ts';
import { randomPlan } from './randomPlans.ts';
import type { PlainWall, RandomPlan } from './randomPlans.ts';

// The check knows nothing of loops: rooms are what is left of the plane when the bodies of the walls are taken away,
// by polygon-clipping (a general polygon library). Coordinates are rounded to 1/1024 mm for it.

type XY = [number, number];
type Ring = XY[];

const snap = (v: number): number => Math.round(v * 1024) / 1024;
const at = (x: number, y: number): XY => [snap(x), snap(y)];

/** The body of a wall from end to end, square at both. */
function body({ a, b, half }: PlainWall): Ring {
  const l = Math.hypot(b[0] - a[0], b[1] - a[1]);
  const [dx, dy] = [(b[0] - a[0]) / l, (b[1] - a[1]) / l];
  return [
    at(a[0] - dy * half, a[1] + dx * half),
    at(b[0] - dy * half, b[1] + dx * half),
    at(b[0] + dy * half, b[1] - dx * half),
    at(a[0] + dy * half, a[1] - dx * half),
  ];
}

/** Fills the notch between two neighbours round a node that stand more than 180° apart. */
function notches(plan: RandomPlan): Ring[] {
  const out: Ring[] = [];
  for (const corner of plan.corners) {
    if (corner.length < 2) continue;
    const arms = corner
      .map(({ wall, end }) => {
        const w = plan.walls[wall] as PlainWall;
        const [o, far] = end === 'a' ? [w.a, w.b] : [w.b, w.a];
        return { o, half: w.half, angle: Math.atan2(far[1] - o[1], far[0] - o[0]) };
      })
      .sort((p, q) => p.angle - q.angle);
    arms.forEach((p, i) => {
      const q = arms[(i + 1) % arms.length] as typeof p;
      const sweep = (q.angle - p.angle + 4 * Math.PI) % (2 * Math.PI);
      if (sweep <= Math.PI + 1e-6) return;
      // Surfaces: p's on its clockwise side, q's on its other side; they meet beyond the node.
      const [px, py, qx, qy] = [Math.cos(p.angle), Math.sin(p.angle), Math.cos(q.angle), Math.sin(q.angle)];
      const foot1 = [p.o[0] - py * p.half, p.o[1] + px * p.half] as const;
      const foot2 = [p.o[0] + qy * q.half, p.o[1] - qx * q.half] as const;
      const det = px * -qy + py * qx;
      const s = ((foot2[0] - foot1[0]) * -qy + (foot2[1] - foot1[1]) * qx) / det;
      out.push([at(p.o[0], p.o[1]), at(...foot1), at(foot1[0] + px * s, foot1[1] + py * s), at(...foot2)]);
    });
  }
  return out;
}

function ringArea(ring: readonly (readonly [number, number])[]): number {
  let twice = 0;
  for (let i = 0; i + 1 < ring.length; i++) {
    const [p, q] = [ring[i] as XY, ring[i + 1] as XY];
    twice += p[0] * q[1] - q[0] * p[1];
  }
  return Math.abs(twice) / 2;
}

/** Even-odd count of edges to the right of a point: a check of its own, apart from the engine's. */
function holds(poly: readonly (readonly (readonly [number, number])[])[], x: number, y: number): boolean {
  let odd = false;
  for (const ring of poly)
    for (let i = 0; i + 1 < ring.length; i++) {
      const [p, q] = [ring[i] as XY, ring[i + 1] as XY];
      if (p[1] > y !== q[1] > y && x < p[0] + ((y - p[1]) / (q[1] - p[1])) * (q[0] - p[0])) odd = !odd;
    }
  return odd;
}

function compare(seed: number, skew: boolean): number {
  const plan = randomPlan(seed, skew);
  const far: XY[] = [at(-9e3, -9e3), at(4e4, -9e3), at(4e4, 4e4), at(-9e3, 4e4)];
  const bodies = plan.walls.map(body);
  const rings = [...bodies, ...notches(plan)].map((ring): Ring[] => [ring]);
  const left = polygonClipping.difference([far], ...rings);
  const rooms = left.filter((poly) => !holds([poly[0] as Ring], -8e3, -8e3));
  const area = (poly: (typeof left)[number]): number =>
    poly.reduce((sum, ring, i) => sum + (i === 0 ? 1 : -1) * ringArea(ring), 0);
  const fabric = buildFabric(plan.doc, 's1');
  const mine = [...fabric.rooms.values()].sort((a, b) => a.area - b.area);
  const theirs = rooms.map(area).sort((a, b) => a - b);
  const say = `seed ${seed}, ${skew ? 'skew' : 'orthogonal'}`;
  expect(mine.length, say).toBe(theirs.length);
  // 1/1024 mm of rounding; and surfaces in line within 0.1 mm are one, which on skew plans may bend a side that much.
  const slack = (room: Room): number => (skew ? 0.1 : 0.001) * polygonPerimeter(room.outline);
  mine.forEach((room, i) =>
    expect(Math.abs(room.area - (theirs[i] as number)), `${say}, ${room.id}`).toBeLessThan(slack(room)),
  );
  const random = seeded(seed + 1e6);
  for (let k = 0; k < 20; k++) {
    const p = { x: random() * 18e3 - 1e3, y: random() * 18e3 - 1e3 };
    const home = rooms.find((poly) => holds(poly, p.x, p.y));
    const found = roomAt(fabric, p);
    expect(found === null, `${say}, point ${p.x}, ${p.y}`).toBe(home === undefined);
    if (found && home) expect(Math.abs(found.area - area(home)), say).toBeLessThan(slack(found));
  }
  return theirs.length;
}

describe('rooms against polygon-clipping', () => {
  test.each([false, true])('300 random plans, skew: %s', (skew) => {
    let rooms = 0;
    for (let seed = 1; seed <= 300; seed++) rooms += compare(seed, skew);
    // The generator does make rooms to compare.
    expect(rooms).toBeGreaterThan(600);
  });
});

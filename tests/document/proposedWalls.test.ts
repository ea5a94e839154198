import { describe, expect, it } from 'vitest';
import type { WallToBuild } from '../../src/document/commands/joinProposed.ts';
import { addProposedWalls } from '../../src/document/commands/proposedWalls.ts';
import { buildFabric } from '../../src/engine/fabric/build.ts';
import { newDocument } from '../../src/engine/model/defaults.ts';
import { rows } from '../../src/engine/model/tables.ts';
import { drawnPlan } from '../io/proposals/scriptedPlan.ts';
import { freshSeed, seeded } from '../random.ts';
import { boxRoom } from './plans.ts';
import { expectRefusal, prove } from './prove.ts';

const BUILD = 'timber-stud';

function wall(
  ax: number,
  ay: number,
  bx: number,
  by: number,
  gaps: readonly [number, number][] = [],
): WallToBuild {
  return {
    a: { x: ax, y: ay },
    b: { x: bx, y: by },
    thickness: 100,
    openings: gaps.map(([along, width]) => ({ along, width })),
    assumed: false,
    buildUp: BUILD,
  };
}

/** Outer walls of 6 by 4 m whose corners miss one another by up to 8 mm. */
const OUTER = [
  wall(0, 3, 6000, 3),
  wall(5997, 0, 5997, 4000),
  wall(8, 4000, 6004, 4000),
  wall(0, 6, 0, 3996),
];
const empty = () => newDocument('Proposed');

describe('walls accepted from a drawing', () => {
  it('joins corners where their lines cross, as one step', () => {
    const { doc } = prove(empty(), addProposedWalls('s1', OUTER));
    expect(doc.nodes.order).toHaveLength(4);
    const corners = rows(doc.nodes).map((n) => [n.x, n.y]);
    expect(corners).toEqual(
      expect.arrayContaining([
        [0, 3],
        [5997, 3],
        [5997, 4000],
        [0, 4000],
      ]),
    );
    expect(buildFabric(doc, 's1').rooms.size).toBe(1);
  });

  it('carries a partition to the middle of the wall it runs into and cuts walls that cross', () => {
    const { doc } = prove(
      empty(),
      addProposedWalls('s1', [...OUTER, wall(3000, 40, 3000, 3960), wall(45, 2000, 5950, 2000)]),
    );
    // Four corners, two ends of each partition, and the crossing.
    expect(doc.nodes.order).toHaveLength(9);
    expect(buildFabric(doc, 's1').rooms.size).toBe(4);
  });

  it('keeps gaps where they are when an end goes on to its corner, and cuts off what hangs over', () => {
    const gaps: [number, number][] = [
      [1000, 826],
      [2000, 90],
      [5700, 600],
    ];
    const { doc } = prove(empty(), addProposedWalls('s1', [wall(20, 0, 6000, 0, gaps), wall(0, 0, 0, 4000)]));
    const openings = rows(doc.openings);
    expect(openings.map((o) => o.kind)).toEqual(['opening']);
    expect(openings[0]?.along).toBeCloseTo(1020, 6);
    expect(openings[0]?.width).toBeCloseTo(826, 6);
  });

  it('leaves out what stands already, joins what is new to it, and says so', () => {
    const doc = boxRoom();
    const result = prove(doc, addProposedWalls('s1', [wall(10, 5, 3990, 5), wall(2000, 60, 2000, 2950)]));
    expect(result.doc.walls.order).toHaveLength(5);
    expect(result.note).toMatch(/1 of 2/);
    expect(buildFabric(result.doc, 's1').rooms.size).toBe(2);
    expectRefusal(doc, addProposedWalls('s1', [wall(10, 5, 3990, 5)]), /already/);
  });

  it('refuses nothing ticked, a build-up that is gone, and places beyond a plan', () => {
    expectRefusal(empty(), addProposedWalls('s1', []), /ticked/);
    expectRefusal(empty(), addProposedWalls('s1', [{ ...wall(0, 0, 1000, 0), buildUp: 'gone' }]), /build-up/);
    expectRefusal(empty(), addProposedWalls('s1', [wall(0, 0, NaN, 0)]), /beyond/);
    expectRefusal(empty(), addProposedWalls('gone', OUTER), /storey/);
  });

  it('closes the four rooms of 60 drawn plans whose ends are off by up to 15 mm', () => {
    const random = seeded(freshSeed('proposed walls'));
    const off = (): number => (random() - 0.5) * 30;
    for (let i = 0; i < 60; i++) {
      const walls = drawnPlan(random).walls.map((w): WallToBuild => {
        const across = Math.abs(w.b.x - w.a.x) > Math.abs(w.b.y - w.a.y);
        const aside = off();
        const moved = (p: { x: number; y: number }) =>
          across ? { x: p.x + off(), y: p.y + aside } : { x: p.x + aside, y: p.y + off() };
        return { ...w, a: moved(w.a), b: moved(w.b), buildUp: BUILD };
      });
      const result = addProposedWalls('s1', walls).apply(empty());
      if (!result.ok) throw new Error(result.reason);
      expect(buildFabric(result.doc, 's1').rooms.size).toBe(4);
      for (const w of rows(result.doc.walls)) {
        const [a, b] = [result.doc.nodes.byId[w.from], result.doc.nodes.byId[w.to]];
        if (!a || !b) throw new Error('a wall without ends');
        expect(Math.min(Math.abs(a.x - b.x), Math.abs(a.y - b.y))).toBeLessThan(0.001);
      }
    }
  });
});

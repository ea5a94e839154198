import { describe, expect, it } from 'vitest';
import { openingTool } from '../../src/tools/opening/openingTool.ts';
import { pointTool } from '../../src/tools/point/pointTool.ts';
import { runTool } from '../../src/tools/run/runTool.ts';
import { wallTool } from '../../src/tools/wall/wallTool.ts';
import { World, onPlan, onWall, short } from './run/world.ts';

const EMPTY = { nodes: {}, walls: {} };

describe('what is typed and not entered', () => {
  it('makes the ghost of an opening and the opening clicked, and stays for the next', () => {
    const world = new World(openingTool);
    world.typed = '1900';
    world.move(onPlan(1700, 0));
    const label = world.step.preview?.plan.find((m) => m.kind === 'label');
    expect(label?.text).toContain('| 1 900 mm |');
    world.click(onPlan(1700, 0));
    world.typed = null;
    world.click(onPlan(1900, 3000));
    expect(world.notices).toEqual([]);
    expect(Object.values(world.doc.openings.byId).map((o) => [o.wall, o.width])).toEqual([
      ['top', 1900],
      ['bottom', 1900],
    ]);
  });

  it('is refused in words where it is no length, and nothing is placed', () => {
    for (const [text, words] of [
      ['19oo', 'Type a length'],
      ['0', 'must have a width'],
    ] as const) {
      const world = new World(openingTool);
      world.typed = text;
      world.click(onPlan(1700, 0));
      expect(world.doc.openings.order).toEqual([]);
      expect(world.notices.join()).toContain(words);
    }
  });

  it('keeps the ghost of an opening after Enter', () => {
    const world = new World(openingTool);
    world.move(onPlan(1700, 0));
    world.send({ type: 'typed', text: '1500' });
    const label = world.step.preview?.plan.find((m) => m.kind === 'label');
    expect(label?.text).toContain('| 1 500 mm |');
  });

  it('gives a wall its length, the way the pointer shows', () => {
    const world = new World(wallTool, EMPTY);
    world.click(onPlan(1000, 1000));
    world.typed = '3250';
    world.move(onPlan(2000, 1010));
    const ghost = world.step.preview?.plan.find((m) => m.kind === 'line' && m.half !== undefined);
    expect(ghost).toMatchObject({
      points: [
        { x: 1000, y: 1000 },
        { x: 4250, y: 1000 },
      ],
    });
    world.click(onPlan(2000, 1010));
    expect(Object.values(world.doc.nodes.byId).map((n) => [n.x, n.y])).toEqual([
      [1000, 1000],
      [4250, 1000],
    ]);
  });

  it('gives a point its height, and the next ones too', () => {
    const world = new World(pointTool);
    world.typed = '1050';
    world.click(onPlan(1000, 60));
    world.typed = null;
    world.click(onPlan(2500, 60));
    const heights = Object.values(world.doc.points.byId).map((p) => p.place.on === 'face' && p.place.z);
    expect(heights).toEqual([1050, 1050]);
  });

  it('gives a run its leg', () => {
    const world = new World(runTool);
    const from = world.point('socket', 'top', 'right', 1000, 450);
    const face = world.face('top', 'right');
    const at = world.doc.points.byId[from]?.place;
    if (at?.on !== 'face') throw new Error('the socket is on no wall');
    world.click(onWall(face, at.along - 44, at.z));
    world.typed = '700';
    world.click(onWall(face, at.along - 44, 1300));
    world.typed = null;
    world.key('Enter');
    expect(short(world.doc, world.doc.runs.order[0] ?? '')).toEqual(['top.right 1000 1150']);
  });
});

import { describe, expect, it } from 'vitest';
import { wallTool } from '../../src/tools/wall/wallTool.ts';
import { World, TWO_ROOMS, onPlan } from './run/world.ts';

const EMPTY = { nodes: {}, walls: {} };
const nodes = <S>(world: World<S>) => Object.values(world.doc.nodes.byId).map((n) => [n.x, n.y]);
const typed = <S>(world: World<S>, text: string) => world.send({ type: 'typed', text });

describe('drawing walls', () => {
  it('draws a room by clicks and typed lengths and closes on the first corner', () => {
    const world = new World(wallTool, EMPTY);
    world.click(onPlan(1000, 1000));
    // 12 mm off level over 2 m is meant level; the length is typed in metres.
    world.move(onPlan(3000, 1012));
    typed(world, '4m');
    world.move(onPlan(5010, 2500));
    typed(world, `10'`);
    world.move(onPlan(1020, 4060));
    world.click(onPlan(1020, 4060));
    world.click(onPlan(1010, 1015));
    expect(nodes(world)).toEqual([
      [1000, 1000],
      [5000, 1000],
      [5000, 4048],
      [1000, 4048],
    ]);
    expect(world.doc.walls.order).toHaveLength(4);
    expect(world.step.state).toEqual({ kind: 'waiting' });
    expect(world.notices).toEqual(['Walls closed.']);
    expect(world.ctx().derived.fabrics.get('s1')?.rooms.size).toBe(1);
  });

  it('says each reason and puts each segment down at once, one undo each', () => {
    const world = new World(wallTool, EMPTY);
    world.click(onPlan(0, 0));
    world.click(onPlan(2000, 30));
    expect(nodes(world)).toEqual([
      [0, 0],
      [2000, 0],
    ]);
    world.move(onPlan(2010, 1500));
    const label = world.step.preview?.plan.find((m) => m.kind === 'label');
    expect(label).toMatchObject({ text: '1 500 mm\nStraight down' });
    world.store.undo();
    expect(world.doc.walls.order).toHaveLength(0);
  });

  it('squares up to a wall that lies askew', () => {
    const world = new World(wallTool, EMPTY);
    world.click(onPlan(0, 0));
    world.click(onPlan(3000, 4000), true);
    // Square to (3, 4) is (-4, 3): 2000 mm along it from the corner is (3000 - 1600, 4000 + 1200).
    world.move(onPlan(1390, 5190));
    typed(world, '2000');
    const last = nodes(world).at(-1) as number[];
    expect(last[0]).toBeCloseTo(1400, 6);
    expect(last[1]).toBeCloseTo(5200, 6);
  });

  it('joins a partition to the centre line of the walls it meets', () => {
    const world = new World(wallTool, TWO_ROOMS);
    // On the face of the top wall, 44 mm below its centre line.
    world.click(onPlan(1500, 46));
    world.click(onPlan(1507, 2958));
    world.key('Enter');
    const fresh = nodes(world).slice(6);
    expect(fresh).toEqual([
      [1500, 0],
      [1500, 3000],
    ]);
    expect(world.ctx().derived.fabrics.get('s1')?.rooms.size).toBe(3);
    expect(world.step.state).toEqual({ kind: 'waiting' });
  });

  it('ends by a double click without a stray wall, and goes back by Backspace', () => {
    const world = new World(wallTool, EMPTY);
    world.click(onPlan(0, 0));
    world.click(onPlan(2000, 0));
    world.click(onPlan(2000, 2000));
    world.key('Backspace');
    expect(nodes(world)).toEqual([
      [0, 0],
      [2000, 0],
    ]);
    world.click(onPlan(2000, 1000));
    world.click(onPlan(2000, 1000));
    world.pointer('double', onPlan(2000, 1000));
    expect(world.doc.walls.order).toHaveLength(2);
    expect(world.step.state).toEqual({ kind: 'waiting' });
  });

  it('answers bad lengths and refused walls and goes on from the same corner', () => {
    const world = new World(wallTool, TWO_ROOMS);
    world.click(onPlan(0, 0));
    typed(world, 'abc');
    typed(world, '-5');
    typed(world, '1000');
    expect(world.notices).toHaveLength(3);
    expect(world.notices[2]).toMatch(/direction/);
    // The top wall is there already.
    world.click(onPlan(4000, 0));
    expect(world.notices[3]).toMatch(/already/);
    expect(world.step.state).toMatchObject({ kind: 'chain', corners: [{ x: 0, y: 0 }] });
    world.key('Escape');
    expect(world.step.state).toEqual({ kind: 'waiting' });
    expect(world.doc.walls.order).toHaveLength(7);
    world.key('Escape');
    expect(world.session.tool).toBe('select');
  });

  it('keeps the chain when a gesture is called off', () => {
    const world = new World(wallTool, EMPTY);
    world.click(onPlan(0, 0));
    world.send({ type: 'cancel' });
    world.click(onPlan(1000, 0));
    expect(world.doc.walls.order).toHaveLength(1);
  });
});

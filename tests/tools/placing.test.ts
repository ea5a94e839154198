import { describe, expect, it } from 'vitest';
import { measureTool } from '../../src/tools/measure/measureTool.ts';
import { openingTool } from '../../src/tools/opening/openingTool.ts';
import { pointTool } from '../../src/tools/point/pointTool.ts';
import { likelyUse, roomTool } from '../../src/tools/room/roomTool.ts';
import { thingTool } from '../../src/tools/thing/thingTool.ts';
import type { ToolChoices } from '../../src/tools/types.ts';
import { TWO_ROOMS, World, onPlan, onWall } from './run/world.ts';

// The two rooms with ids a saved plan may have.
const { topR, bottomR, ...others } = TWO_ROOMS.walls;
const ROOMS = { ...TWO_ROOMS, walls: { ...others, 'top-r': topR, 'bottom-r': bottomR } } as typeof TWO_ROOMS;
const choose = <S>(w: World<S>, choices: Partial<ToolChoices>) => {
  w.session = { ...w.session, choices: { ...w.session.choices, ...choices } };
};
const typed = <S>(w: World<S>, text: string) => w.send({ type: 'typed', text });

describe('placing points', () => {
  it('puts a socket on the side of the wall the pointer is on, at its usual height', () => {
    const w = new World(pointTool, ROOMS);
    w.click(onPlan(1003, 300));
    expect(w.doc.points.byId['p1']).toMatchObject({
      kind: 'socket',
      place: { on: 'face', wall: 'top', side: 'right', along: 1004, z: 450 },
    });
    // Inside the wall `mid`, nearer its right-hand surface: the right room's side.
    w.click(onPlan(4020, 2203));
    expect(w.doc.points.byId['p2']?.place).toMatchObject({ wall: 'mid', side: 'left' });
    expect(w.session.selection).toEqual([{ table: 'points', id: 'p2', part: null }]);
  });

  it('snaps to the middle of the wall, between neighbours and above others, and says so', () => {
    const w = new World(pointTool, ROOMS);
    w.point('socket', 'top', 'right', 1000, 450);
    w.point('socket', 'top', 'right', 3000, 450);
    w.move(onPlan(2040, 200));
    expect(w.step.hint).toMatch(/middle of the wall/);
    w.click(onPlan(2040, 200));
    expect(w.doc.points.byId['p3']?.place).toMatchObject({ along: 2000 });
    choose(w, { pointKind: 'switch-1way' });
    w.click(onPlan(1050, 200));
    expect(w.doc.points.byId['p4']?.place).toMatchObject({ along: 1000, z: 1200 });
  });

  it('takes the height of its like on the same wall, or a typed one', () => {
    const w = new World(pointTool, ROOMS);
    w.point('socket', 'top', 'right', 1000, 1100);
    w.click(onPlan(3205, 200));
    expect(w.doc.points.byId['p2']?.place).toMatchObject({ z: 1100 });
    typed(w, '300');
    w.click(onPlan(600, 200));
    expect(w.doc.points.byId['p3']?.place).toMatchObject({ z: 300 });
    typed(w, 'x');
    typed(w, '-4');
    expect(w.notices).toHaveLength(2);
    typed(w, '');
    expect(w.session.choices.pointHeight).toBeNull();
  });

  it('puts ceiling kinds in the middle of the room and in line with each other', () => {
    const w = new World(pointTool, ROOMS);
    choose(w, { pointKind: 'ceiling-light' });
    w.click(onPlan(2040, 1460));
    expect(w.doc.points.byId['p1']?.place).toEqual({ on: 'ceiling', storey: 's1', x: 2000, y: 1500 });
    w.click(onPlan(3003, 1540));
    expect(w.doc.points.byId['p2']?.place).toMatchObject({ x: 3000, y: 1500 });
    w.click(onPlan(3050, 700), true);
    expect(w.doc.points.byId['p3']?.place).toMatchObject({ x: 3050, y: 700 });
  });

  it('says why a point cannot go somewhere', () => {
    const w = new World(pointTool, ROOMS);
    w.click(onPlan(20_000, 20_000));
    expect(w.doc.points.order).toHaveLength(0);
    expect(w.notices[0]).toMatch(/goes on a wall/);
    choose(w, { pointKind: 'smoke-alarm' });
    w.click(onWall(w.face('top', 'right'), 500, 1000));
    expect(w.notices[1]).toMatch(/not on a wall/);
  });

  it('places on an elevation by both coordinates', () => {
    const w = new World(pointTool, ROOMS);
    const face = w.face('top', 'right');
    w.click(onWall(face, 700, 1000), true);
    expect(w.doc.points.byId['p1']?.place).toMatchObject({ wall: 'top', side: 'right', along: 744, z: 1000 });
    // Near the usual height it keeps to that.
    w.click(onWall(face, 2300, 470));
    expect(w.doc.points.byId['p2']?.place).toMatchObject({ z: 450 });
  });

  it('goes back to selecting by Escape', () => {
    const w = new World(pointTool, ROOMS);
    w.key('Escape');
    expect(w.session.tool).toBe('select');
  });
});

describe('openings', () => {
  it('puts a door with its middle where the wall is clicked, of a typed width', () => {
    const w = new World(openingTool, ROOMS);
    typed(w, '0.9 m');
    w.click(onPlan(1203, 20));
    expect(w.doc.openings.byId['o1']).toEqual({
      id: 'o1',
      wall: 'top',
      kind: 'door',
      along: 750,
      width: 900,
      sill: 0,
      head: 2040,
    });
    choose(w, { opening: 'window' });
    w.move(onPlan(5480, 0));
    w.click(onPlan(5480, 0));
    // 900 mm wide, in the middle of 3000 mm.
    expect(w.doc.openings.byId['o2']).toMatchObject({ wall: 'top-r', along: 1050, sill: 900, head: 2100 });
  });

  it('refuses to overlap another, with the reason', () => {
    const w = new World(openingTool, ROOMS);
    w.click(onPlan(1200, 0), true);
    w.click(onPlan(1500, 0), true);
    expect(w.doc.openings.order).toHaveLength(1);
    expect(w.notices[0]).toMatch(/overlap/);
    w.click(onPlan(2000, 1500));
    expect(w.notices[1]).toMatch(/goes in a wall/);
  });
});

describe('room names', () => {
  it('names a room, then renames it', () => {
    const w = new World(roomTool, ROOMS);
    w.click(onPlan(900, 2500));
    expect(w.step.ask).toEqual({ label: 'Room', value: '', focus: true });
    typed(w, ' Kiln room ');
    expect(w.doc.roomTags.byId['t1'] ?? Object.values(w.doc.roomTags.byId)[0]).toMatchObject({
      name: 'Kiln room',
      use: 'workshop',
      x: 2000,
      y: 1500,
    });
    w.click(onPlan(900, 2500));
    expect(w.step.ask?.value).toBe('Kiln room');
    typed(w, 'Glazing');
    expect(Object.values(w.doc.roomTags.byId)).toHaveLength(1);
    expect(Object.values(w.doc.roomTags.byId)[0]).toMatchObject({ name: 'Glazing', use: 'workshop' });
  });

  it('wants a closed room and a name', () => {
    const w = new World(roomTool, ROOMS);
    w.click(onPlan(-3000, 0));
    expect(w.notices[0]).toMatch(/no closed room/);
    w.click(onPlan(900, 2500));
    typed(w, '  ');
    expect(w.notices[1]).toMatch(/letter/);
    w.key('Escape');
    expect(w.doc.roomTags.order).toHaveLength(0);
  });

  it.each([
    'Bathroom',
    'En suite',
    'En-suite',
    'Ensuite',
    'Shower room',
    'Wet room',
    'Wetroom',
    'Washroom',
    'Bedroom 1 en suite',
  ])('takes %s for a room with a bath or shower', (name) => expect(likelyUse(name)).toBe('bathroom'));

  it('guesses what a room is for', () => {
    expect(['Kitchen', 'WC', 'Lobby', 'Bedroom 2', 'Zzz'].map(likelyUse)).toEqual([
      'kitchen',
      'utility',
      'circulation',
      'habitable',
      'other',
    ]);
  });
});

describe('things in the way', () => {
  it('draws a rectangle on the plan and one on a wall', () => {
    const w = new World(thingTool, ROOMS);
    choose(w, { thing: 'unit' });
    w.drag(onPlan(1000, 1000), onPlan(1600, 1500));
    expect(Object.values(w.doc.things.byId)[0]).toMatchObject({
      kind: 'unit',
      place: {
        on: 'plan',
        where: 'room',
        z0: 0,
        z1: 870,
        outline: [{ x: 1000, y: 1000 }, {}, { x: 1600, y: 1500 }, {}],
      },
    });
    choose(w, { thing: 'radiator' });
    w.drag(onWall(w.face('top', 'right'), 500, 150), onWall(w.face('top', 'right'), 1500, 750));
    expect(Object.values(w.doc.things.byId)[1]?.place).toMatchObject({
      on: 'face',
      wall: 'top',
      side: 'right',
      along0: 544,
      along1: 1544,
      z0: 150,
      z1: 750,
    });
  });

  it('also by two clicks; a no-cable place lies in the void in hand', () => {
    const w = new World(thingTool, ROOMS);
    choose(w, { thing: 'no-cable', void: 'floor' });
    w.click(onPlan(1000, 1000));
    w.click(onPlan(2000, 2000));
    expect(Object.values(w.doc.things.byId)[0]?.place).toMatchObject({ where: 'floor' });
    expect(w.step.state).toEqual({ kind: 'waiting' });
  });

  it('fills the void that insulation is laid in, so that it meets the cables there', () => {
    const w = new World(thingTool, ROOMS);
    choose(w, { thing: 'insulation' });
    w.drag(onPlan(1000, 1000), onPlan(1600, 1500));
    const storey = Object.values(w.doc.storeys.byId)[0];
    if (storey === undefined) throw new Error('no storey');
    expect(Object.values(w.doc.things.byId)[0]?.place).toMatchObject({
      where: 'ceiling',
      z0: storey.ceilingHeight,
      z1: storey.ceilingHeight + storey.ceiling.voidDepth,
    });
  });
});

describe('measuring', () => {
  it('reads a distance by drag and by two clicks, and changes nothing', () => {
    const w = new World(measureTool, ROOMS);
    const before = w.doc;
    w.drag(onPlan(1000, 1000), onPlan(1300, 1400), true);
    expect(w.step.hint).toBe('500 mm, 300 across, 400 down');
    w.key('Escape');
    w.click(onPlan(40, 30));
    w.click(onPlan(4030, 10));
    expect(w.step.hint).toBe('4 000 mm');
    expect(w.doc).toBe(before);
  });

  it('reads on an elevation', () => {
    const w = new World(measureTool, ROOMS);
    const face = w.face('top', 'right');
    w.drag(onWall(face, 100, 100), onWall(face, 100, 1300));
    expect(w.step.hint).toBe('1 200 mm');
  });
});

import { describe, expect, it } from 'vitest';
import { addOpening } from '../../src/document/commands/openings.ts';
import { addRoomTag, addThing } from '../../src/document/commands/rooms.ts';
import { selectTool } from '../../src/tools/select/selectTool.ts';
import type { Ref, Spot } from '../../src/tools/types.ts';
import { TWO_ROOMS, World, onPlan, onWall } from './run/world.ts';

const ref = (table: Ref['table'], id: string): Ref => ({ table, id, part: null });
// The two rooms with ids a saved plan may have.
const { topR, bottomR, ...others } = TWO_ROOMS.walls;
const ROOMS = { ...TWO_ROOMS, walls: { ...others, 'top-r': topR, 'bottom-r': bottomR } } as typeof TWO_ROOMS;
const key = <S>(world: World<S>, name: string, shift = false, surface?: 'plan' | 'face') =>
  world.send({ type: 'key', key: name, shift, ctrl: false, ...(surface ? { surface } : {}) });
const world = () => new World(selectTool, ROOMS);
const shiftClick = <S>(w: World<S>, spot: Spot) => {
  const at = spot.surface === 'plan' ? spot.at : { x: 0, y: 0 };
  const screen = { px: at.x * w.scale, py: at.y * w.scale };
  for (const type of ['down', 'up'] as const)
    w.send({ type, spot, screen, shift: true, alt: false, ctrl: false, touch: false });
};

describe('selecting', () => {
  it('selects by a click, adds and takes away with shift, lets go on empty ground and by Escape', () => {
    const w = world();
    const a = w.point('socket', 'top', 'right', 1000, 450);
    w.click(onPlan(1000, 150));
    expect(w.session.selection).toEqual([ref('points', a)]);
    shiftClick(w, onPlan(2500, 0));
    expect(w.session.selection).toEqual([ref('points', a), ref('walls', 'top')]);
    shiftClick(w, onPlan(1000, 150));
    expect(w.session.selection).toEqual([ref('walls', 'top')]);
    w.click(onPlan(2000, 2000));
    expect(w.session.selection).toEqual([]);
    w.click(onPlan(2500, 0));
    w.key('Escape');
    expect(w.session.selection).toEqual([]);
    expect(w.store.getState().canUndo).toBe('Add socket-outlet');
  });

  it('unrolls the room that was clicked in, and the face on the clicked side of a wall', () => {
    const w = world();
    w.click(onPlan(2000, 1500));
    const room = w.session.room;
    expect(room).not.toBeNull();
    w.click(onPlan(5500, 1500));
    expect(w.session.room).not.toBe(room);
    w.click(onPlan(2000, 30));
    expect(w.session.room).toBe(room);
    expect(w.session.face).toBe(w.face('top', 'right').id);
  });

  it('lights what the pointer is over, once', () => {
    const w = world();
    w.move(onPlan(2500, 0));
    expect(w.session.hover).toEqual(ref('walls', 'top'));
    expect(w.step.session).toEqual({ hover: ref('walls', 'top') });
    w.move(onPlan(2510, 0));
    expect(w.step.session).toBeUndefined();
    w.move(onPlan(2500, 1500));
    expect(w.session.hover).toBeNull();
  });

  it('takes what lies wholly inside a marquee, with Alt what it touches, but not corners of walls', () => {
    const w = world();
    const a = w.point('socket', 'top', 'right', 1000, 450);
    const b = w.ceilingPoint('ceiling-light', 2000, 1500);
    w.drag(onPlan(600, 1600), onPlan(2600, 30));
    expect(w.session.selection).toEqual([ref('points', a), ref('points', b)]);
    w.drag(onPlan(2600, 1600), onPlan(600, -100), true);
    expect(w.session.selection).toContainEqual(ref('walls', 'top'));
    expect(w.store.getState().canUndo).toBe('Add ceiling light');
  });
});

describe('dragging', () => {
  it('moves a point along its wall in one step of undo, and not at all when called off', () => {
    const w = world();
    const a = w.point('socket', 'top', 'right', 1000, 450);
    w.drag(onPlan(1000, 100), onPlan(1504, 130));
    expect(w.doc.points.byId[a]?.place).toEqual({
      on: 'face',
      wall: 'top',
      side: 'right',
      along: 1504,
      z: 450,
    });
    expect(w.session.selection).toEqual([ref('points', a)]);
    w.store.undo();
    expect(w.doc.points.byId[a]?.place).toMatchObject({ along: 1000 });
    w.pointer('down', onPlan(1000, 100));
    w.pointer('move', onPlan(1800, 100));
    w.send({ type: 'cancel' });
    w.pointer('up', onPlan(1800, 100));
    expect(w.doc.points.byId[a]?.place).toMatchObject({ along: 1000 });
  });

  it('moves a point to another wall, on the side it is dragged to, at its height', () => {
    const w = world();
    const a = w.point('socket', 'top', 'right', 1000, 600);
    // To the right face of `mid` as seen from the right room.
    w.drag(onPlan(1000, 44), onPlan(4060, 1200), true);
    expect(w.doc.points.byId[a]?.place).toMatchObject({ wall: 'mid', side: 'left', z: 600 });
  });

  it('moves all selected points together', () => {
    const w = world();
    const a = w.point('socket', 'top', 'right', 1000, 450);
    const b = w.ceilingPoint('ceiling-light', 2000, 1500);
    w.session = { ...w.session, selection: [ref('points', a), ref('points', b)] };
    w.drag(onPlan(1000, 100), onPlan(1300, 100), true);
    expect(w.doc.points.byId[a]?.place).toMatchObject({ along: 1300 });
    expect(w.doc.points.byId[b]?.place).toMatchObject({ x: 2300, y: 1500 });
    expect(w.store.getState().canUndo).toBe('Move points');
  });

  it('moves a wall sideways and keeps its joints', () => {
    const w = world();
    w.drag(onPlan(4000, 1500), onPlan(4500, 1540));
    expect(w.doc.nodes.byId['b']).toMatchObject({ x: 4500, y: 0 });
    expect(w.doc.nodes.byId['e']).toMatchObject({ x: 4500, y: 3000 });
  });

  it('moves a corner with snapping into line', () => {
    const w = world();
    w.drag(onPlan(7000, 3000), onPlan(7005, 3504));
    expect(w.doc.nodes.byId['d']).toMatchObject({ x: 7000, y: 3500 });
  });

  it('moves an opening along its wall and to another one', () => {
    const w = world();
    const o = w.do(addOpening({ wall: 'top', kind: 'door', along: 500, width: 800, sill: 0, head: 2040 }));
    w.drag(onPlan(900, 0), onPlan(1404, 0), true);
    expect(w.doc.openings.byId[o]).toMatchObject({ wall: 'top', along: 1000 });
    w.drag(onPlan(1400, 0), onPlan(5500, 3000), true);
    expect(w.doc.openings.byId[o]).toMatchObject({ wall: 'bottom-r', along: 1100 });
  });

  it('moves a room name and a thing', () => {
    const w = world();
    const t = w.do(addRoomTag({ storey: 's1', x: 1000, y: 1000, name: 'Kiln', use: 'workshop' }));
    w.drag(onPlan(1000, 1000), onPlan(1500, 1200));
    expect(w.doc.roomTags.byId[t]).toMatchObject({ x: 1500, y: 1200 });
    const outline = [
      { x: 5000, y: 1000 },
      { x: 6000, y: 1000 },
      { x: 6000, y: 1500 },
      { x: 5000, y: 1500 },
    ];
    const k = w.do(
      addThing({
        kind: 'unit',
        name: '',
        place: { on: 'plan', storey: 's1', outline, z0: 0, z1: 900, where: 'room' },
      }),
    );
    w.drag(onPlan(5500, 1200), onPlan(5500, 1500));
    expect(w.doc.things.byId[k]?.place).toMatchObject({ outline: [{ x: 5000, y: 1300 }, {}, {}, {}] });
  });

  it('shows why a drag is refused and changes nothing', () => {
    const w = world();
    const before = w.doc;
    // Folding the right-hand room flat onto the middle wall.
    w.pointer('down', onPlan(7000, 1500));
    w.pointer('move', onPlan(4400, 1500));
    w.pointer('move', onPlan(4000, 1500));
    expect(w.step.preview?.plan[0]).toMatchObject({ kind: 'label' });
    w.pointer('up', onPlan(4000, 1500));
    expect(w.doc).toBe(before);
  });

  it('drags a point up and down on an elevation', () => {
    const w = world();
    const a = w.point('socket', 'top', 'right', 1000, 450);
    const face = w.face('top', 'right');
    const on = w.ctx().derived.fabrics.get('s1');
    expect(on).toBeDefined();
    w.drag(onWall(face, 956, 450), onWall(face, 956, 1000), true);
    expect(w.doc.points.byId[a]?.place).toMatchObject({ along: 1000, z: 1000 });
  });
});

describe('by the keyboard', () => {
  it('nudges 10 mm, with shift 100 mm, along the wall on the plan and in height on an elevation', () => {
    const w = world();
    const a = w.point('socket', 'top', 'right', 1000, 450);
    w.session = { ...w.session, selection: [ref('points', a)] };
    key(w, 'ArrowRight');
    key(w, 'ArrowRight', true);
    expect(w.doc.points.byId[a]?.place).toMatchObject({ along: 1110, z: 450 });
    // Square to the wall there is nowhere to go.
    const still = w.doc;
    key(w, 'ArrowUp');
    expect(w.doc).toBe(still);
    key(w, 'ArrowUp', false, 'face');
    key(w, 'ArrowLeft', true, 'face');
    expect(w.doc.points.byId[a]?.place).toMatchObject({ along: 1010, z: 460 });
  });

  it('goes left as seen facing the wall, whichever way the wall was drawn', () => {
    const w = world();
    // The top wall's left side looks up the plan, outwards: its left hand is the wall's far end.
    const a = w.point('socket', 'mid', 'left', 1000, 450);
    w.session = { ...w.session, selection: [ref('points', a)] };
    const u = () => w.face('mid', 'left').pieces[0];
    expect(u()?.alongAtU0).toBeGreaterThan(u()?.alongAtU1 ?? 0);
    key(w, 'ArrowRight', true, 'face');
    expect(w.doc.points.byId[a]?.place).toMatchObject({ along: 900 });
  });

  it('moves walls and corners', () => {
    const w = world();
    w.session = { ...w.session, selection: [ref('walls', 'mid')] };
    key(w, 'ArrowLeft', true);
    expect(w.doc.nodes.byId['b']).toMatchObject({ x: 3900 });
    w.session = { ...w.session, selection: [ref('nodes', 'd')] };
    key(w, 'ArrowDown');
    expect(w.doc.nodes.byId['d']).toMatchObject({ x: 7000, y: 3010 });
  });

  it('removes what is selected in one step, and says how when a wall still carries something', () => {
    const w = world();
    const a = w.point('socket', 'top', 'right', 1000, 450);
    const b = w.ceilingPoint('ceiling-light', 2000, 1500);
    w.session = { ...w.session, selection: [ref('walls', 'top'), ref('points', b)] };
    key(w, 'Delete');
    expect(w.doc.walls.byId['top']).toBeDefined();
    expect(w.notices[0]).toMatch(/Still on it: P1\..*Shift\+Delete/);
    key(w, 'Delete', true);
    expect(w.doc.walls.byId['top']).toBeUndefined();
    expect(w.doc.points.byId[a]).toBeUndefined();
    expect(w.doc.points.byId[b]).toBeUndefined();
    w.store.undo();
    expect(w.doc.points.order).toHaveLength(2);
    w.session = { ...w.session, selection: [ref('nodes', 'a')] };
    key(w, 'Delete');
    expect(w.notices[1]).toMatch(/corner/);
  });
});

import { describe, expect, it } from 'vitest';
import { addOpening, editOpening, removeOpenings } from '../../src/document/commands/openings.ts';
import { addThing } from '../../src/document/commands/rooms.ts';
import { addPoint } from '../../src/document/commands/points.ts';
import { moveNode, moveWall, setWallLength } from '../../src/document/commands/moveWalls.ts';
import {
  addWallChain,
  flipWalls,
  removeWalls,
  setWallBuildUp,
  setWallTop,
  splitWall,
} from '../../src/document/commands/walls.ts';
import { wallLength } from '../../src/document/commands/plane.ts';
import type { PlanDocument } from '../../src/engine/model/document.ts';
import { after, boxRoom, inside, wired } from './plans.ts';
import { expectRefusal, prove } from './prove.ts';

const at = (doc: PlanDocument, id: string) => {
  const n = doc.nodes.byId[id];
  return n && [n.x, n.y];
};
const door = (wall: string, along: number, width = 800) =>
  addOpening({ wall, kind: 'door', along, width, sill: 0, head: 2040 });

describe('drawing walls', () => {
  it('draws a closed room, joining its own first point', () => {
    const square = [
      { x: 10000, y: 0 },
      { x: 12000, y: 0 },
      { x: 12000, y: 2000 },
      { x: 10000, y: 0.5 },
    ];
    const done = prove(boxRoom(), addWallChain('s1', square, 'block-plaster'));
    expect(done.made).toEqual(['w5', 'w6', 'w7']);
    expect(done.doc.walls.byId['w7']).toMatchObject({ from: 'n7', to: 'n5' });
  });

  it('joins existing corners and brings ends within a wall to its centre line', () => {
    const partition = [
      { x: 1500, y: 44 },
      { x: 1500, y: 2956 },
    ];
    const done = prove(boxRoom(), addWallChain('s1', partition, 'timber-stud'));
    expect(at(done.doc, 'n5')).toEqual([1500, 0]);
    expect(at(done.doc, 'n6')).toEqual([1500, 3000]);
    const slanted = prove(
      boxRoom(),
      addWallChain(
        's1',
        [
          { x: 2000, y: 1000 },
          { x: 2900, y: 40 },
        ],
        'timber-stud',
      ),
    );
    // On along its own direction (900, -960) from (2900, 40) to y = 0: x = 2900 + 40 * 900 / 960 = 2937.5.
    expect(at(slanted.doc, 'n6')).toEqual([2937.5, 0]);
    const joined = prove(
      boxRoom(),
      addWallChain(
        's1',
        [
          { x: 0.6, y: 0.3 },
          { x: 4000, y: 3000 },
        ],
        'timber-stud',
      ),
    );
    expect(joined.doc.nodes.order).toHaveLength(4);
  });

  it('refuses walls with no length, on top of another, or of nothing', () => {
    const p = { x: 0, y: 0 };
    expectRefusal(boxRoom(), addWallChain('s1', [p], 'timber-stud'), /two different ends/);
    expectRefusal(boxRoom(), addWallChain('s1', [p, { x: 0.2, y: 0 }], 'timber-stud'), /two different ends/);
    expectRefusal(boxRoom(), addWallChain('s1', [p, { x: 4000, y: 0 }], 'timber-stud'), /already/);
    expectRefusal(
      boxRoom(),
      addWallChain(
        's1',
        [
          { x: 1000, y: 0 },
          { x: 2000, y: 0 },
        ],
        'timber-stud',
      ),
      /already/,
    );
    expectRefusal(boxRoom(), addWallChain('s1', [p, { x: NaN, y: 0 }], 'timber-stud'), /not on the plan/);
    expectRefusal(boxRoom(), addWallChain('s1', [p, { x: 50, y: 50 }], 'paper'), /build-up/);
  });
});

describe('moving walls', () => {
  const withPartition = () =>
    after(
      boxRoom(),
      addWallChain(
        's1',
        [
          { x: 1500, y: 0 },
          { x: 1500, y: 3000 },
        ],
        'timber-stud',
      ),
    );

  it('moves a wall sideways with its corners and the partitions on it', () => {
    // w1 goes right along y = 0: its left is up.
    const done = prove(withPartition(), moveWall('w1', 400));
    expect(at(done.doc, 'n1')).toEqual([0, -400]);
    expect(at(done.doc, 'n2')).toEqual([4000, -400]);
    expect(at(done.doc, 'n5')).toEqual([1500, -400]);
    expect(at(done.doc, 'n3')).toEqual([4000, 3000]);
  });

  it('slides a partition along the walls it stands on', () => {
    const done = prove(withPartition(), moveWall('w5', -250));
    // w5 goes down the page: its left is right, so minus goes left.
    expect(at(done.doc, 'n5')).toEqual([1250, 0]);
    expect(at(done.doc, 'n6')).toEqual([1250, 3000]);
  });

  it('sets a length and keeps the room square', () => {
    const done = prove(withPartition(), setWallLength('w1', 4600));
    expect(at(done.doc, 'n2')).toEqual([4600, 0]);
    expect(at(done.doc, 'n3')).toEqual([4600, 3000]);
    expect(at(done.doc, 'n5')).toEqual([1500, 0]);
    const other = prove(withPartition(), setWallLength('w1', 4600, 'to'));
    expect(at(other.doc, 'n1')).toEqual([-600, 0]);
    expect(at(other.doc, 'n4')).toEqual([-600, 3000]);
    expectRefusal(withPartition(), setWallLength('w1', 3), /at least 10 mm/);
    expectRefusal(withPartition(), setWallLength('w1', 1000), /no longer meet/);
  });

  it('keeps what hangs on a wall where it is when the first end moves', () => {
    const plan = after(
      boxRoom(),
      door('w1', 2500),
      addPoint({ kind: 'socket', place: inside('w1', 3700, 450) }),
    );
    const done = prove(plan, moveNode('n1', { x: 1000, y: 0 }));
    expect(done.doc.openings.byId['o1']?.along).toBeCloseTo(1500, 9);
    expect(done.doc.points.byId['p1']?.place).toMatchObject({ along: 2700 });
    expectRefusal(plan, moveNode('n1', { x: 2600, y: 0 }), /door in that wall would no longer fit/);
    expectRefusal(
      after(boxRoom(), addPoint({ kind: 'socket', place: inside('w1', 300, 450) })),
      moveNode('n1', { x: 900, y: 0 }),
      /P1 would be past/,
    );
  });

  it('makes two corners one, but never two walls in one place', () => {
    const plan = after(
      boxRoom(),
      addWallChain(
        's1',
        [
          { x: 4000, y: 0 },
          { x: 6000, y: 0 },
        ],
        'timber-stud',
      ),
    );
    const done = prove(plan, moveNode('n5', { x: 0.4, y: 3000 }));
    expect(done.doc.walls.byId['w5']).toMatchObject({ from: 'n2', to: 'n4' });
    expect(done.doc.nodes.byId['n5']).toBeUndefined();
    expectRefusal(plan, moveNode('n5', { x: 4000, y: 3000 }), /on top of each other/);
    expectRefusal(plan, moveNode('n5', { x: 4000, y: 0 }), /no length/);
  });

  it('takes the runs along: corners at the angles, drops plumb, level stretches as they ran', () => {
    const plan = wired();
    const done = prove(plan, moveWall('w1', 300));
    expect(done.doc.runs.byId['r1']?.corners).toEqual([
      { on: 'ceiling', storey: 's1', x: 3000, y: 2956 },
      { on: 'ceiling', storey: 's1', x: 3000, y: 1500 },
      { on: 'ceiling', storey: 's1', x: 1000, y: 1500 },
      { on: 'ceiling', storey: 's1', x: 1000, y: -256 },
    ]);
    // w4 goes up the page from (0, 3000): its left is left. Nothing of the run hangs on it.
    const other = prove(plan, moveWall('w4', 300));
    expect(other.doc.runs.byId['r1']?.corners).toEqual(plan.runs.byId['r1']?.corners);
  });
});

describe('walls as they are', () => {
  it('splits a wall, and what hangs on it stays where it is', () => {
    const plan = after(wired(), door('w1', 2000));
    const done = prove(plan, splitWall('w1', 1500));
    expect(wallLength(done.doc, 'w1')).toBe(1500);
    expect(wallLength(done.doc, 'w5')).toBe(2500);
    expect(done.doc.openings.byId['o1']).toMatchObject({ wall: 'w5', along: 500 });
    expect(done.doc.points.byId['p2']?.place).toMatchObject({ wall: 'w1', along: 1000 });
    expectRefusal(plan, splitWall('w1', 2300), /door there/);
    expectRefusal(plan, splitWall('w1', 4000), /between its ends/);
    const sloped = after(plan, setWallTop(['w1'], { kind: 'sloped', zFrom: 2000, zTo: 3000 }));
    const halves = prove(sloped, splitWall('w1', 1000)).doc.walls.byId;
    expect(halves['w1']?.top).toEqual({ kind: 'sloped', zFrom: 2000, zTo: 2250 });
    expect(halves['w5']?.top).toEqual({ kind: 'sloped', zFrom: 2250, zTo: 3000 });
  });

  it('flips, changes build-up and height', () => {
    prove(boxRoom(), flipWalls(['w1', 'w2']));
    prove(boxRoom(), setWallBuildUp(['w1'], 'metal-stud'));
    prove(boxRoom(), setWallTop(['w1'], { kind: 'level', z: 2100 }));
    expectRefusal(boxRoom(), setWallTop(['w1'], { kind: 'level', z: 0 }), /higher than 0/);
    expectRefusal(boxRoom(), setWallBuildUp(['w1'], 'nothing'), /no longer in the list/);
  });

  it('removes walls only when told what goes with them', () => {
    const plan = after(
      wired(),
      door('w1', 2000),
      addThing({
        kind: 'unit',
        name: 'Cupboard',
        place: { on: 'face', wall: 'w1', side: 'right', along0: 100, along1: 700, z0: 0, z1: 900 },
      }),
    );
    expectRefusal(plan, removeWalls(['w1']), /Still on it: P2/);
    const done = prove(plan, removeWalls(['w1'], true));
    expect(done.doc.openings.order).toEqual([]);
    expect(done.doc.things.order).toEqual([]);
    expect(done.doc.runs.byId['r1']).toMatchObject({ from: 'p1', to: null });
    expect(prove(boxRoom(), removeWalls(['w1', 'w2'])).doc.nodes.order).toEqual(['n1', 'n3', 'n4']);
  });
});

describe('openings', () => {
  it('stay in the wall and apart', () => {
    const plan = after(boxRoom(), door('w1', 500));
    expectRefusal(plan, door('w1', 1000), /overlap the door/);
    expectRefusal(plan, door('w1', 3500), /past the end/);
    expectRefusal(plan, door('w2', 100, 5000), /only 3000 mm/);
    expectRefusal(plan, editOpening('o1', { head: 2500 }), /higher than the wall/);
    expectRefusal(plan, editOpening('o1', { width: 0 }), /width and a height/);
    prove(plan, editOpening('o1', { along: 3200 }));
    prove(plan, editOpening('o1', { width: 900 }));
    prove(plan, editOpening('o1', { wall: 'w2' }));
    prove(plan, removeOpenings(['o1']));
    // A high window above a door is allowed.
    prove(plan, addOpening({ wall: 'w1', kind: 'window', along: 500, width: 800, sill: 2100, head: 2350 }));
  });
});

import { describe, expect, it } from 'vitest';
import { addTapedRoom } from '../../src/document/commands/tapedRoom.ts';
import { freeFaces, placeRoom, type Placing } from '../../src/app/roomFromTape.ts';
import { buildFabric } from '../../src/engine/fabric/build.ts';
import { closeOutline, walkSides } from '../../src/engine/geometry/closing.ts';
import { newDocument } from '../../src/engine/model/defaults.ts';
import type { PlanDocument } from '../../src/engine/model/document.ts';
import type { PlanPoint } from '../../src/engine/model/units.ts';
import { boxRoom } from './plans.ts';
import { expectRefusal, prove } from './prove.ts';

const BUILD = 'timber-stud';
const box = (w: number, h: number, left = false): PlanPoint[] => [
  { x: 0, y: 0 },
  { x: w, y: 0 },
  { x: w, y: left ? -h : h },
  { x: 0, y: left ? -h : h },
];
const placing = (over: Partial<Placing>): Placing => ({
  storey: 's1',
  buildUp: BUILD,
  taped: 'inside',
  face: null,
  offset: 0,
  ...over,
});
const add = (doc: PlanDocument, outline: readonly PlanPoint[], by: Placing, name = '') => {
  const corners = placeRoom(doc, outline, by);
  const middle = { x: (corners[0]!.x + corners[2]!.x) / 2, y: (corners[0]!.y + corners[2]!.y) / 2 };
  return addTapedRoom({ storey: 's1', corners, buildUp: BUILD, name, middle });
};
const roomsOf = (doc: PlanDocument) => [...buildFabric(doc, 's1').rooms.values()];

describe('a room typed from tape sizes', () => {
  it('has the inside sizes that were taped, whichever way round it was walked', () => {
    for (const left of [false, true]) {
      const { doc } = prove(
        newDocument('Sketch'),
        add(newDocument('Sketch'), box(3600, 2400, left), placing({}), 'Store'),
      );
      const [room] = roomsOf(doc);
      expect(room?.area).toBeCloseTo(3600 * 2400, 3);
      expect(room?.tag?.name).toBe('Store');
    }
  });

  it('has its walls where middles were taped', () => {
    const { doc } = prove(
      newDocument('S'),
      add(newDocument('S'), box(3600, 2400), placing({ taped: 'middles' })),
    );
    // Timber studs of 88 mm.
    expect(roomsOf(doc)[0]?.area).toBeCloseTo((3600 - 88) * (2400 - 88), 3);
  });

  it('joins the next room through the wall they share, on every side of a room that stands', () => {
    const doc = boxRoom();
    const faces = freeFaces(buildFabric(doc, 's1'));
    expect(faces).toHaveLength(4);
    for (const face of faces)
      for (const left of [false, true]) {
        const done = prove(doc, add(doc, box(2000, 1500, left), placing({ face, offset: 400 })));
        const rooms = roomsOf(done.doc);
        expect(rooms.map((r) => Math.round(r.area)).sort()).toEqual(
          [2000 * 1500, (4000 - 88) * (3000 - 88)].sort(),
        );
        // Three new walls; the first is the one that stands.
        expect(done.doc.walls.order).toHaveLength(7);
      }
  });

  it('draws on past the end of a shared wall that is shorter', () => {
    const doc = boxRoom();
    const face = freeFaces(buildFabric(doc, 's1'))[0]!;
    const done = prove(doc, add(doc, box(9000, 1500), placing({ face })));
    expect(roomsOf(done.doc)).toHaveLength(2);
    expect(done.doc.walls.order).toHaveLength(8);
  });

  it('closes sizes that miss by 24 mm, the all corrections taken', () => {
    const square = Math.PI / 2;
    const sides = [4010, 3000, 3990, 3013].map((length) => ({ length, turn: square }));
    const closed = closeOutline(sides);
    if (!closed.ok) throw new Error(closed.reason);
    expect(closed.closing.gap).toBeCloseTo(Math.hypot(20, 13), 6);
    // Walked once more with every correction taken, the last wall ends where the first began.
    const mended = sides.map((side, i) => ({
      length: side.length + (closed.closing.sides[i] as number),
      turn: side.turn + (closed.closing.turns[i] as number),
    }));
    const end = walkSides(mended).at(-1);
    expect(Math.hypot(end?.x ?? 1, end?.y ?? 1)).toBeLessThan(1e-5);
    const { doc } = prove(newDocument('S'), add(newDocument('S'), closed.closing.corners, placing({})));
    expect(roomsOf(doc)).toHaveLength(1);
  });

  it('refuses a room that stands already, too few corners and a build-up that is gone', () => {
    const doc = boxRoom();
    const corners = [
      { x: 0, y: 0 },
      { x: 4000, y: 0 },
      { x: 4000, y: 3000 },
      { x: 0, y: 3000 },
    ];
    const room = { storey: 's1', corners, buildUp: BUILD, name: '', middle: { x: 1, y: 1 } };
    expectRefusal(doc, addTapedRoom(room), /already/);
    expectRefusal(doc, addTapedRoom({ ...room, corners: corners.slice(2) }), /three/);
    expectRefusal(doc, addTapedRoom({ ...room, buildUp: 'gone' }), /build-up/);
  });
});

import { newDocument } from '../../src/engine/model/defaults.ts';
import type { PlanDocument, Storey } from '../../src/engine/model/document.ts';
import { boxed, PlanBuilder } from './builder.ts';

// A garden workshop with a loft under a lean-to roof, invented. Inside surfaces at x = 0 and 5000, y = 0 and 4000 on both
// storeys; block walls 166 mm thick, so their centre lines lie 83 mm outside. The loft is 2400 high at the top wall and
// 1200 at the bottom one: its side walls slope 0.3 mm in each mm.

const HIGH = 2400;
const LOW = 1200;
const VOID: Storey['ceiling'] = {
  kind: 'void',
  voidDepth: 220,
  cableRise: 110,
  joists: {
    direction: Math.PI / 2,
    depth: 220,
    breadth: 47,
    centres: 400,
    span: 4000,
    member: 'solid',
    chart: '',
  },
  insulation: 'none',
};

export const TWO_STOREY_NOTES = [
  'Everything in this plan is invented: the building, its rooms and the loads. Not for building.',
  'Two storeys: a workshop, and a loft above it under a sloping ceiling. Cables go up through the floor between.',
  'One thing is disputed, on purpose: the run from the loft switch to its light lies level just under the sloping top of the right wall, and practitioners disagree whether the band under the top follows a slope. Ask whoever will certify the work, or take it level at the height of the light.',
].join('\n');

/** Four block walls round the room, drawn against the clock so that their left side is inside; sloped where asked. */
function box(b: PlanBuilder, sloped: boolean) {
  const nw = b.node(-83, -83);
  const sw = b.node(-83, 4083);
  const se = b.node(5083, 4083);
  const ne = b.node(5083, -83);
  // At the centre lines of the walls across, 83 mm beyond the room.
  const top = HIGH + 83 * 0.3;
  const low = LOW - 83 * 0.3;
  const wall = (from: string, to: string, zFrom: number, zTo: number) =>
    b.wall(from, to, 'block-plaster', sloped ? { kind: 'sloped', zFrom, zTo } : { kind: 'ceiling' });
  const south = b.wall(sw, se, 'block-plaster', sloped ? { kind: 'level', z: LOW } : { kind: 'ceiling' });
  const east = wall(se, ne, low, top);
  const north = b.wall(ne, nw, 'block-plaster');
  const west = wall(nw, sw, top, low);
  return { south, east, north, west };
}

/** Two storeys with a sloping ceiling. */
export function makeTwoStoreys(): PlanDocument {
  const b = new PlanBuilder(newDocument('Two storeys'));
  const ground = box(b, false);
  b.opening(ground.south, 'door', 3600, 4500, 0, 2100);
  b.opening(ground.west, 'window', 2600, 3600, 1000, 2100);
  b.room(2500, 2600, 'Workshop', 'workshop');
  const north = b.surface(ground.north, 'left');
  const west = b.surface(ground.west, 'left');
  const south = b.surface(ground.south, 'left');

  const board = b.point(b.on(west, 1000, 1400), { kind: 'consumer-unit', name: 'Consumer unit' });
  const sockets = b.circuit({
    name: 'Sockets',
    topology: 'radial',
    device: { type: 'B', rating: 20, rcd: 30 },
    cable: 'te2-5',
    board,
  });
  const lighting = b.circuit({
    name: 'Lighting',
    topology: 'lighting',
    device: { type: 'B', rating: 6, rcd: 30 },
    cable: 'te1-5',
    cable3: 'tce1-5',
    board,
  });
  const twin = { kind: 'socket', gangs: 2, box: boxed('metal', 2, 35), circuit: sockets } as const;
  const plate = { kind: 'switch-1way', box: boxed('metal', 1, 35), circuit: lighting } as const;
  const down1 = b.point(b.on(north, 2000, 1100), { ...twin, name: 'Workshop socket' });
  const lamp = b.point(b.ceiling(2500, 2000), {
    kind: 'ceiling-light',
    name: 'Workshop light',
    circuit: lighting,
    load: 40,
  });
  const switchDown = b.point(b.on(south, 3400, 1200), {
    ...plate,
    name: 'Workshop switch',
    controls: [[lamp]],
  });

  const loft: Omit<Storey, 'id'> = {
    name: 'Loft',
    level: HIGH + VOID.voidDepth,
    ceilingHeight: HIGH,
    ceiling: { ...VOID, joists: null },
    floor: { kind: 'void', voidDepth: VOID.voidDepth, cableDrop: VOID.cableRise, joists: VOID.joists },
  };
  b.storey(loft);
  const above = box(b, true);
  b.opening(above.north, 'window', 3400, 4600, 1000, 2000);
  b.room(2500, 1400, 'Loft', 'other');
  const loftNorth = b.surface(above.north, 'left');
  const loftEast = b.surface(above.east, 'left');
  const up1 = b.point(b.on(loftNorth, 2000, 450), { ...twin, name: 'Loft socket, middle' });
  const up2 = b.point(b.on(loftNorth, 800, 450), { ...twin, name: 'Loft socket, corner' });
  const light = b.point(b.on(loftEast, 1550, 1700), {
    kind: 'wall-light',
    name: 'Loft light',
    box: boxed('metal', 1, 25),
    circuit: lighting,
    load: 20,
  });
  const switchUp = b.point(b.on(loftEast, 1900, 1200), {
    ...plate,
    name: 'Loft switch',
    controls: [[light]],
  });

  const ring = { circuit: sockets, fixing: 'in-plaster' } as const;
  const lit = { circuit: lighting, fixing: 'in-plaster' } as const;
  const void1 = (x: number, y: number) => b.ceiling(x, y, 's1');
  b.run(board, down1, 'te2-5', [void1(0, 1000), void1(2000, 1000), void1(2000, 0)], ring);
  b.run(down1, up1, 'te2-5', [], { ...ring, notes: 'Straight up the wall through the floor between.' });
  b.run(up1, up2, 'te2-5', [], ring);
  b.run(board, lamp, 'te1-5', [void1(0, 1000), void1(0, 1300), void1(2500, 1300)], lit);
  b.run(lamp, switchDown, 'te1-5', [void1(3400, 2000), void1(3400, 4000)], lit);
  b.run(lamp, switchUp, 'te1-5', [void1(2500, 1900), void1(5000, 1900)], lit);
  b.run(switchUp, light, 'te1-5', [b.on(loftEast, 1900, 1780), b.on(loftEast, 1550, 1780)], {
    ...lit,
    notes: 'Under the sloping top: disputed, see the notes of the plan.',
  });
  return b.build(
    { title: 'Two storeys with a sloping ceiling (invented)', notes: TWO_STOREY_NOTES },
    { name: 'Ground floor', ceilingHeight: HIGH, ceiling: VOID },
  );
}

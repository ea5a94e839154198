import { describe, expect, it } from 'vitest';
import { alongFor, onTape } from '../../src/tools/opening/onTape.ts';
import { World, TWO_ROOMS } from './run/world.ts';
import { openingTool } from '../../src/tools/opening/openingTool.ts';

const world = new World(openingTool, TWO_ROOMS);
const fabric = () => {
  const found = world.ctx().derived.fabrics.get('s1');
  if (!found) throw new Error('no fabric');
  return found;
};

describe('an opening on the tape', () => {
  it('is measured along the finished face of the room, from its corners', () => {
    // The wall `top` runs from x = 0; its inner face from 44 to 3956, seen from the room below: right side, u rises.
    const on = onTape(fabric(), { wall: 'top', along: 1000, width: 900 });
    expect(on?.side).toBe('right');
    expect(on?.left).toBeCloseTo(956, 6);
    expect(on?.right).toBeCloseTo(3956 - 1900, 6);
  });

  it('has left and right as one looks at the face picked', () => {
    // `mid` runs down from (4000, 0): its right side looks into the left room, its left side into the right one.
    const opening = { wall: 'mid', along: 500, width: 800 };
    const west = onTape(fabric(), opening, world.face('mid', 'right').id);
    const east = onTape(fabric(), opening, world.face('mid', 'left').id);
    expect(west?.left).toBeCloseTo(456, 6);
    expect(east?.right).toBeCloseTo(456, 6);
    expect(east?.left).toBeCloseTo(2956 - 1300, 6);
    if (!west || !east) throw new Error('not on both sides');
    // 100 mm more on the left is further along on one side and back on the other.
    expect(alongFor(west, opening, west.left + 100)).toBeCloseTo(600, 6);
    expect(alongFor(east, opening, east.left + 100)).toBeCloseTo(400, 6);
  });
});

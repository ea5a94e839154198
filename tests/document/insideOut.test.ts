import { describe, expect, it } from 'vitest';
import { insideOf } from '../../src/document/commands/insideOut.ts';
import { addWallChain, flipWalls } from '../../src/document/commands/walls.ts';
import { buildFabric } from '../../src/engine/fabric/build.ts';
import { wallFrame } from '../../src/engine/fabric/wallFrame.ts';
import { newDocument } from '../../src/engine/model/defaults.ts';
import type { PlanDocument } from '../../src/engine/model/document.ts';
import { rows } from '../../src/engine/model/tables.ts';
import { after } from './plans.ts';
import { prove } from './prove.ts';

const TL = { x: 0, y: 0 };
const TR = { x: 4000, y: 0 };
const BR = { x: 4000, y: 3000 };
const BL = { x: 0, y: 3000 };
const VOID = 'timber-void';

/** What the walls show to the room and to the outside, by the fabric and the layers themselves. */
function shown(doc: PlanDocument): string[] {
  const out: string[] = [];
  for (const face of buildFabric(doc, 's1').faces.values()) {
    for (const piece of face.pieces) {
      const wall = doc.walls.byId[piece.wall];
      const layers = (wall && wallFrame(doc, wall)?.layers) ?? [];
      const first = piece.side === 'left' ? layers[0] : layers[layers.length - 1];
      out.push(`${face.room === null ? 'out' : 'room'} ${first?.material}`);
    }
  }
  return [...new Set(out)].sort();
}

/** Clicked corner by corner, each wall a command of its own, as the wall tool does it. */
function clicked(corners: readonly { x: number; y: number }[], build = VOID): PlanDocument {
  const chain = corners.slice(1).map((to, i) => addWallChain('s1', [corners[i] ?? to, to], build));
  return after(newDocument('x'), ...chain);
}

describe('outer walls when a room closes', () => {
  it('have their inside to the room, whichever way round they were drawn', () => {
    for (const corners of [
      [TL, TR, BR, BL, TL],
      [TL, BL, BR, TR, TL],
    ]) {
      expect(shown(clicked(corners))).toEqual(['out cladding', 'room plasterboard']);
    }
  });

  it('are turned in the closing command itself, with a note, and undone with it', () => {
    const before = clicked([TL, TR, BR, BL]);
    const done = prove(before, addWallChain('s1', [BL, TL], VOID));
    expect(done.note).toBe(
      'Room closed. 4 outer walls were turned round, so that their inside faces the room.',
    );
    expect(prove(newDocument('y'), addWallChain('s1', [TL, BL, BR, TR, TL], VOID)).note).toBeNull();
  });

  it('are left as the person turned them afterwards, and where both sides are alike', () => {
    const doc = after(clicked([TL, TR, BR, BL, TL]), flipWalls(['w1']));
    const turned = doc.walls.byId['w1']?.flipped;
    const next = prove(doc, addWallChain('s1', [TR, { x: 7000, y: 0 }, { x: 7000, y: 3000 }, BR], VOID));
    expect(next.doc.walls.byId['w1']?.flipped).toBe(turned);
    expect(next.note).toContain('3 outer walls');
    // A partition divides the room: the outer walls bordered a room already.
    const split = prove(
      doc,
      addWallChain(
        's1',
        [
          { x: 2000, y: 0 },
          { x: 2000, y: 3000 },
        ],
        VOID,
      ),
    );
    expect(split.note).toBeNull();
    for (const wall of rows(clicked([TL, TR, BR, BL, TL], 'timber-stud').walls))
      expect(wall.flipped).toBe(false);
  });

  it('are told by what ends each side', () => {
    const layers = (...materials: ('plaster' | 'block' | 'cladding' | 'timber-stud' | 'brick')[]) => ({
      layers: materials.map((material) => ({ material, thickness: 50, insulated: false })),
    });
    expect(insideOf(layers('cladding', 'timber-stud'))).toBe('right');
    expect(insideOf(layers('plaster', 'block', 'brick'))).toBe('left');
    expect(insideOf(layers('plaster', 'block', 'plaster'))).toBeNull();
    expect(insideOf(layers('block', 'brick'))).toBeNull();
  });
});

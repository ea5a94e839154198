import { describe, expect, it } from 'vitest';
import { addRun } from '../../../src/document/commands/runs.ts';
import { directionOf } from '../../../src/engine/words/walls.ts';
import { faceCaption } from '../../../src/view/elevation/captions.ts';
import { runFigures } from '../../../src/view/elevation/dimensionMarks.ts';
import { drawFace } from '../../../src/view/elevation/drawings.ts';
import { facesToShow } from '../../../src/view/elevation/faces.ts';
import { bandSpot, FACE_GAP, faceStart, layoutBand } from '../../../src/view/elevation/layout.ts';
import type { FaceMark } from '../../../src/view/elevation/marks.ts';
import { placeWords, type WordWish } from '../../../src/view/elevation/placeWords.ts';
import { zoneReason } from '../../../src/view/elevation/zoneMarks.ts';
import type { Fabric } from '../../../src/engine/fabric/types.ts';
import { runTool } from '../../../src/tools/run/runTool.ts';
import { seeded } from '../../random.ts';
import { deriveFor, ENCLOSED, World } from '../../tools/run/world.ts';

const world = () => new World(runTool, ENCLOSED);
const fabricOf = (w: ReturnType<typeof world>): Fabric => deriveFor(w.doc).fabrics.get('s1') as Fabric;
const words = (marks: readonly FaceMark[]): string[] =>
  marks.flatMap((m) => (m.kind === 'text' ? [m.text] : []));

describe('the band', () => {
  it('unrolls the four walls of a room left to right with a gap at each angle', () => {
    const w = world();
    const top = w.face('top', 'right');
    const shown = facesToShow(deriveFor(w.doc), top.room, null);
    const layout = layoutBand(shown?.faces ?? []);
    // 4000 x 3000 on centre lines of 88 mm walls: 3912 and 2912 inside, each twice.
    expect(layout.faces.map((f) => Math.round(f.face.length)).sort()).toEqual([2912, 2912, 3912, 3912]);
    layout.faces.forEach(({ start, face }, i) => {
      const before = layout.faces[i - 1];
      expect(start % 100).toBe(0);
      if (before) expect(start - before.start - before.face.length).toBeGreaterThanOrEqual(FACE_GAP);
      expect(layout.width).toBeGreaterThan(start + face.length);
    });
    expect(layout.height).toBe(2400);
    // Reading left to right, each wall's right-hand end is the next one's left-hand end in the room.
    layout.faces.forEach(({ face }, i) => {
      expect(face.right.next).toBe(layout.faces[(i + 1) % 4]?.face.id);
    });
    expect(layout.angles.map((a) => a.kind)).toEqual(Array(5).fill('internal'));
  });

  it('finds the wall and the place on it under every x, u counted from that wall’s own left', () => {
    const w = world();
    const shown = facesToShow(deriveFor(w.doc), w.face('top', 'right').room, null);
    const layout = layoutBand(shown?.faces ?? []);
    for (const { face } of layout.faces) {
      const start = faceStart(layout, face.id) as number;
      expect(bandSpot(layout, start + 123, 456)).toEqual({ face: face.id, at: { u: 123, z: 456 } });
      expect(bandSpot(layout, start - FACE_GAP / 2 + 1, 0)?.face).toBe(face.id);
    }
    expect(bandSpot(layoutBand([]), 0, 0)).toBeNull();
  });

  it('names walls by their side of the drawing, with length and build', () => {
    const w = world();
    const names = (['top', 'mid', 'bottom', 'left'] as const).map((id) => directionOf(w.face(id, 'right')));
    expect(names).toEqual(['top', 'right', 'bottom', 'left']);
    expect(directionOf(w.face('mid', 'left'))).toBe('left');
    expect(faceCaption(w.doc, fabricOf(w), w.face('top', 'right'))).toBe(
      'Top wall, 3.91 m, timber stud 88 mm',
    );
  });
});

describe('what is drawn of a face', () => {
  it('says how far a leg is outside and which way a run leaves', () => {
    const w = world();
    const p1 = w.point('socket', 'top', 'right', 1000, 450);
    // 500 mm along at 450 (inside the level strip), then plumb up at 1500: no strip there, 2956 - 1456 from the right.
    const run = w.do(
      addRun({
        from: p1,
        to: null,
        corners: [
          { on: 'face', wall: 'top', side: 'right', along: 1500, z: 450 },
          { on: 'ceiling', storey: 's1', x: 1500, y: 44 },
        ],
      }),
    );
    const derived = deriveFor(w.doc);
    const face = w.face('top', 'right');
    const drawing = drawFace(w.doc, derived, fabricOf(w), face, true);
    // Nearest zone to u = 1456: the socket's strip, whose edge is at 956 + 43 = 999; and in height the level strip
    // ends at 493 and the top band begins at 2250: worst where all are far, at 457 mm sideways.
    expect(words(drawing.front)).toContain('457 mm out');
    const lines = drawing.front.flatMap((m) => (m.kind === 'line' ? [m.look] : []));
    expect(lines).toContain('leg-inside');
    expect(lines).toContain('leg-outside');
    expect(lines).toContain('riser');
    const level = words(drawing.front).filter((t) => t.endsWith('0.50 m'));
    expect(level).toHaveLength(1);
    const check = derived.runs.get(run);
    expect(check && words(runFigures(check, face))).toEqual(['450', '1456']);
  });

  it('shows the other side of the wall mirrored: points as ghosts, legs thin', () => {
    const w = world();
    const p1 = w.point('socket', 'mid', 'right', 1000, 450);
    const p2 = w.point('socket', 'mid', 'right', 1800, 450);
    w.do(addRun({ from: p1, to: p2, corners: [] }));
    const here = w.face('mid', 'left');
    const drawing = drawFace(w.doc, deriveFor(w.doc), fabricOf(w), here, true);
    // From the left room p1 is 956 from the left; seen from the right room, 2912 - 956.
    expect(drawing.points.map((p) => [p.ghost, Math.round(p.at.u)])).toEqual([
      [true, 1956],
      [true, 1156],
    ]);
    const far = drawing.front.filter((m) => m.kind === 'line' && m.look === 'leg-far');
    expect(far).toHaveLength(1);
    expect(far[0]?.kind === 'line' && far[0].points.map((p) => Math.round(p.u))).toEqual([1956, 1156]);
    // 88 mm is 100 mm or less: its strips count from here too, and say so.
    const reasons = (deriveFor(w.doc).zones.get(here.id) ?? []).map((z) => zoneReason(w.doc, z));
    expect(reasons).toContain('strip of P1 from the other side');
  });

  it('hatches what is disputed and leaves zones out when they are switched off', () => {
    const w = world();
    w.point('socket', 'top', 'right', 1000, 450, { visible: false });
    const face = w.face('top', 'right');
    const looks = (zones: boolean): string[] =>
      drawFace(w.doc, deriveFor(w.doc), fabricOf(w), face, zones).ground.flatMap((m) =>
        m.kind === 'area' ? [m.look] : [],
      );
    expect(looks(true)).toContain('zone-disputed');
    expect(looks(true)).toContain('zone');
    expect(looks(false).filter((l) => l.startsWith('zone'))).toEqual([]);
  });
});

describe('words of the band', () => {
  it('never overlap, but for those that must be read (random boxes)', () => {
    const random = seeded(20260801);
    const looks = ['out', 'point', 'length', 'zone', 'ghost'] as const;
    const wishes: WordWish[] = Array.from({ length: 300 }, () => ({
      look: looks[Math.floor(random() * looks.length)] as (typeof looks)[number],
      boxes: Array.from({ length: 3 }, () => ({
        x: random() * 900,
        y: random() * 300,
        width: 20 + random() * 60,
        height: 12,
      })),
    }));
    const chosen = placeWords(wishes);
    const put = wishes.flatMap((wish, i) => {
      const box = wish.boxes[chosen[i] ?? -1];
      return box ? [{ box, must: wish.look === 'out' || wish.look === 'point' }] : [];
    });
    expect(wishes.every((wish, i) => chosen[i] !== null || !['out', 'point'].includes(wish.look))).toBe(true);
    expect(put.length).toBeLessThan(300);
    put.forEach((a, i) => {
      put.slice(i + 1).forEach((b) => {
        const meet =
          a.box.x < b.box.x + b.box.width &&
          b.box.x < a.box.x + a.box.width &&
          a.box.y < b.box.y + b.box.height &&
          b.box.y < a.box.y + a.box.height;
        expect(meet && !(a.must && b.must)).toBe(false);
      });
    });
  });

  it('leave a figure out rather than print it over another, and keep clear of what stands already', () => {
    const box = { x: 0, y: 0, width: 40, height: 12 };
    const beside = { ...box, x: 60 };
    const figure = (...boxes: WordWish['boxes']): WordWish => ({ look: 'dimension', boxes });
    expect(placeWords([figure(box), figure(box), figure(box, beside)])).toEqual([0, null, 1]);
    expect(placeWords([figure(box, beside)], [box])).toEqual([1]);
    expect(placeWords([figure(box)], [box])).toEqual([null]);
  });
});

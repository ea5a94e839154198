import { describe, expect, it } from 'vitest';
import { addRun } from '../../../src/document/commands/runs.ts';
import {
  runEditDelete,
  runEditDouble,
  runEditHandles,
  runEditStart,
  runEditStep,
  type RunEditState,
} from '../../../src/tools/run/editRun.ts';
import type { Place } from '../../../src/engine/model/document.ts';
import { PICKS, type Tool } from '../../../src/tools/types.ts';
import { deriveFor, ENCLOSED, onPlan, onWall, short, World } from './world.ts';

/** The select tool's part in this: it offers each press to the run editing and hands it what follows. */
const holder: Tool<RunEditState | null> = {
  id: 'select',
  manner: PICKS,
  busy: (state) => state !== null,
  start: () => ({ state: null, preview: null, hint: '' }),
  step: (state, event, ctx) =>
    state ? runEditStep(state, event, ctx) : { state: runEditStart(event, ctx), preview: null, hint: '' },
};

const top = (along: number, z: number): Place => ({ on: 'face', wall: 'top', side: 'right', along, z });

/** Two sockets at 450 on the top wall joined by way of 1200: up, along, down. */
function bridge(): { w: World<RunEditState | null>; run: string; p1: string } {
  const w = new World(holder, ENCLOSED);
  const p1 = w.point('socket', 'top', 'right', 1000, 450);
  const p2 = w.point('socket', 'top', 'right', 3000, 450);
  const run = w.do(addRun({ from: p1, to: p2, corners: [top(1000, 1200), top(3000, 1200)] }));
  w.session = { ...w.session, selection: [{ table: 'runs', id: run, part: null }] };
  return { w, run, p1 };
}

describe('editing a run on a wall', () => {
  it('drags a level leg upwards, held by the middle of the top band, and its plumb neighbours follow', () => {
    const { w, run } = bridge();
    const face = w.face('top', 'right');
    w.drag(onWall(face, 1956, 1200), onWall(face, 1956, 2300));
    expect(short(w.doc, run)).toEqual(['top.right 1000 2325', 'top.right 3000 2325']);
    expect(
      deriveFor(w.doc)
        .runs.get(run)
        ?.legs.map((c) => c.answer),
    ).toEqual(['inside', 'inside', 'inside']);
  });

  it('drags a plumb leg sideways: the point stays, a corner comes between', () => {
    const { w, run } = bridge();
    w.session = { ...w.session, snapping: false };
    const face = w.face('top', 'right');
    w.drag(onWall(face, 2956, 800), onWall(face, 2656, 800));
    expect(short(w.doc, run)).toEqual(['top.right 1000 1200', 'top.right 2700 1200', 'top.right 2700 450']);
  });

  it('drags a corner with both its legs square, or alone with Alt', () => {
    const { w, run } = bridge();
    w.session = { ...w.session, snapping: false };
    const face = w.face('top', 'right');
    // The hand strays 30 mm (3 px) sideways: the leg below stays plumb over its socket.
    w.drag(onWall(face, 956, 1200), onWall(face, 986, 1500));
    expect(short(w.doc, run)).toEqual(['top.right 1000 1500', 'top.right 3000 1500']);
    w.store.undo();
    w.drag(onWall(face, 956, 1200), onWall(face, 1156, 1500), true);
    expect(short(w.doc, run)).toEqual(['top.right 1200 1500', 'top.right 3000 1200']);
  });

  it('adds a corner by double click and takes it out with Delete', () => {
    const { w, run } = bridge();
    const face = w.face('top', 'right');
    const add = runEditDouble(onWall(face, 1956, 1190), w.ctx());
    if (add === null) throw new Error('no leg under the double click');
    w.do(add);
    expect(short(w.doc, run)).toEqual(['top.right 1000 1200', 'top.right 2000 1200', 'top.right 3000 1200']);
    w.session = { ...w.session, selection: [{ table: 'runs', id: run, part: 'corner:1' }] };
    const remove = runEditDelete(w.ctx());
    if (remove === null) throw new Error('no corner selected');
    w.do(remove);
    expect(short(w.doc, run)).toEqual(['top.right 1000 1200', 'top.right 3000 1200']);
  });

  it('selects the part under a press that does not move, and shows handles on both surfaces', () => {
    const { w, run } = bridge();
    const face = w.face('top', 'right');
    w.click(onWall(face, 956, 1200));
    expect(w.session.selection).toEqual([{ table: 'runs', id: run, part: 'corner:0' }]);
    expect(runEditHandles(w.ctx()).faces.get(face.id)).toHaveLength(2);
  });

  it('gives a press on the plate at its end to the point, not to the leg that ends there', () => {
    const { w, p1 } = bridge();
    w.click(onWall(w.face('top', 'right'), 960, 470));
    expect(w.session.selection).toEqual([{ table: 'points', id: p1, part: null }]);
  });

  it('leaves locked runs and runs that are not selected alone', () => {
    const { w } = bridge();
    const face = w.face('top', 'right');
    w.session = { ...w.session, selection: [] };
    const before = w.doc;
    w.drag(onWall(face, 1956, 1200), onWall(face, 1956, 1500));
    expect(w.doc).toBe(before);
  });

  it('does nothing when the drag is cancelled', () => {
    const { w } = bridge();
    const face = w.face('top', 'right');
    const before = w.doc;
    w.pointer('down', onWall(face, 1956, 1200));
    w.pointer('move', onWall(face, 1956, 1800));
    expect(w.step.preview?.faces.size).toBeGreaterThan(0);
    w.send({ type: 'cancel' });
    w.pointer('up', onWall(face, 1956, 1800));
    expect(w.doc).toBe(before);
  });
});

describe('editing a run in the void', () => {
  it('drags a ceiling leg across, in line with a point, and the legs beside it follow', () => {
    const w = new World(holder, ENCLOSED);
    const p1 = w.point('socket', 'top', 'right', 1000, 450);
    const p2 = w.point('socket', 'bottom', 'right', 1000, 450);
    const light = w.ceilingPoint('ceiling-light', 2500, 1800);
    const c = (x: number, y: number): Place => ({ on: 'ceiling', storey: 's1', x, y });
    const corners = [c(1000, 44), c(1000, 1500), c(3000, 1500), c(3000, 2956)];
    const run = w.do(addRun({ from: p1, to: p2, corners }));
    w.session = { ...w.session, selection: [{ table: 'runs', id: run, part: null }] };
    expect(light).not.toBe('');
    w.drag(onPlan(2000, 1500), onPlan(2000, 1770));
    expect(short(w.doc, run)).toEqual([
      'ceiling 1000 44',
      'ceiling 1000 1800',
      'ceiling 3000 1800',
      'ceiling 3000 2956',
    ]);
  });
});

describe('dragging a point on a wall', () => {
  it('takes its run along, level with its neighbour', () => {
    const { w, run, p1 } = bridge();
    w.session = { ...w.session, selection: [] };
    w.point('socket', 'top', 'right', 2000, 900);
    const face = w.face('top', 'right');
    w.drag(onWall(face, 956, 450), onWall(face, 656, 870));
    const place = w.doc.points.byId[p1]?.place;
    expect(place).toMatchObject({ along: 700, z: 900 });
    expect(short(w.doc, run)).toEqual(['top.right 700 1200', 'top.right 3000 1200']);
  });
});

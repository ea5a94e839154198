import { describe, expect, it } from 'vitest';
import { addPoint } from '../../src/document/commands/points.ts';
import {
  dropToPoint,
  insertCorner,
  moveCorner,
  moveStretch,
  removeCorner,
  setCorners,
} from '../../src/document/commands/runCorners.ts';
import {
  addRun,
  connectRun,
  editRuns,
  removeRuns,
  reverseRuns,
  setAsLaid,
  setProgress,
} from '../../src/document/commands/runs.ts';
import type { Place, PlanDocument } from '../../src/engine/model/document.ts';
import { after, boxRoom, inside, wired } from './plans.ts';
import { expectRefusal, prove } from './prove.ts';

const over = (x: number, y: number): Place => ({ on: 'ceiling', storey: 's1', x, y });
const corners = (doc: PlanDocument, id = 'r1') => doc.runs.byId[id]?.corners;

/** Two sockets on w1 at 450 mm, 1 m and 3 m along, and a run that rises between them to 2300 mm. */
const risen = () =>
  after(
    boxRoom(),
    addPoint({ kind: 'socket', place: inside('w1', 1000, 450) }),
    addPoint({ kind: 'socket', place: inside('w1', 3000, 450) }),
    addRun({ from: 'p1', to: 'p2', corners: [inside('w1', 1000, 2300), inside('w1', 3000, 2300)] }),
  );

describe('drawing runs', () => {
  it('redraws, adds, moves and removes corners', () => {
    const plan = risen();
    prove(plan, setCorners('r1', []));
    expect(corners(prove(plan, insertCorner('r1', 1, inside('w1', 2000, 2300))).doc)).toHaveLength(3);
    expect(corners(prove(plan, removeCorner('r1', 0)).doc)).toEqual([inside('w1', 3000, 2300)]);
    expect(corners(prove(plan, moveCorner('r1', 0, inside('w1', 1200, 2200))).doc)?.[1]).toEqual(
      inside('w1', 3000, 2300),
    );
    expectRefusal(plan, moveCorner('r1', 2, inside('w1', 0, 0)), /no longer in the run/);
    expectRefusal(plan, insertCorner('r1', 5, inside('w1', 0, 0)), /no longer in the run/);
    expectRefusal(plan, removeCorner('r1', 9), /no longer in the run/);
    expectRefusal(plan, setCorners('r1', [inside('w1', 0, 9999)]), /above the top/);
  });

  it('moves a corner and keeps its legs level and plumb when asked', () => {
    const moved = prove(risen(), moveCorner('r1', 0, inside('w1', 1200, 2200), true));
    expect(corners(moved.doc)).toEqual([
      inside('w1', 1200, 450),
      inside('w1', 1200, 2200),
      inside('w1', 3000, 2200),
    ]);
  });

  it('moves a stretch sideways: neighbours get longer or shorter', () => {
    const raised = prove(risen(), moveStretch('r1', 1, { x: 0, y: 0, z: 50 }));
    expect(corners(raised.doc)).toEqual([inside('w1', 1000, 2350), inside('w1', 3000, 2350)]);
    const along = prove(risen(), moveStretch('r1', 0, { x: 200, y: 900, z: 0 }));
    // The point stays: a level leg joins it to the drop that moved. What points out of the wall is left out.
    expect(corners(along.doc)).toEqual([
      inside('w1', 1200, 450),
      inside('w1', 1200, 2300),
      inside('w1', 3000, 2300),
    ]);
    const only = after(risen(), setCorners('r1', []));
    expect(corners(prove(only, moveStretch('r1', 0, { x: 0, y: 0, z: 100 })).doc)).toEqual([
      inside('w1', 1000, 550),
      inside('w1', 3000, 550),
    ]);
    const last = prove(risen(), moveStretch('r1', 2, { x: -300, y: 0, z: 0 }));
    expect(corners(last.doc)).toEqual([
      inside('w1', 1000, 2300),
      inside('w1', 2700, 2300),
      inside('w1', 2700, 450),
    ]);
    expectRefusal(risen(), moveStretch('r1', 3, { x: 1, y: 0, z: 0 }), /cannot be moved/);
    expectRefusal(risen(), moveStretch('r1', 0, { x: NaN, y: 0, z: 0 }), /usable length/);
  });

  it('moves a stretch in the void', () => {
    const done = prove(wired(), moveStretch('r1', 2, { x: 0, y: -400, z: 0 }));
    expect(corners(done.doc)).toEqual([over(3000, 2956), over(3000, 1100), over(1000, 1100), over(1000, 44)]);
  });

  it('drops to a point in one move', () => {
    const started = after(
      wired(),
      addPoint({ kind: 'socket', place: inside('w2', 2000, 450) }),
      addRun({ from: 'p1', to: null, corners: [over(3000, 2956), over(3000, 1000)] }),
    );
    // w2 stands on x = 4000, its room surface on x = 3956; 2000 along is y = 2000.
    const done = prove(started, dropToPoint('r2', 'to', 'p5'));
    expect(done.doc.runs.byId['r2']?.to).toBe('p5');
    expect(corners(done.doc, 'r2')).toEqual([
      over(3000, 2956),
      over(3000, 1000),
      over(3000, 2000),
      over(3956, 2000),
    ]);
    const wall = after(
      boxRoom(),
      addPoint({ kind: 'socket', place: inside('w1', 1000, 450) }),
      addPoint({ kind: 'socket', place: inside('w1', 3000, 300) }),
      addRun({ from: 'p1', to: null, corners: [inside('w1', 1000, 2300)] }),
    );
    expect(corners(prove(wall, dropToPoint('r1', 'to', 'p2')).doc)).toEqual([
      inside('w1', 1000, 2300),
      inside('w1', 3000, 2300),
    ]);
    const other = after(wall, addPoint({ kind: 'socket', place: inside('w3', 500, 450) }));
    expectRefusal(other, dropToPoint('r1', 'to', 'p3'), /to the ceiling/);
    expectRefusal(other, dropToPoint('r1', 'to', 'p1'), /one point to another/);
  });

  it('parks and joins ends', () => {
    const parked = prove(wired(), connectRun('r1', 'to', null));
    expect(corners(parked.doc)?.at(-1)).toEqual(inside('w1', 1000, 450));
    prove(parked.doc, connectRun('r1', 'to', 'p4'));
    expectRefusal(wired(), connectRun('r1', 'to', 'p1'), /one point to another/);
  });

  it('turns end for end with its tails, and back to the same', () => {
    const plan = after(wired(), editRuns(['r1'], { tailFrom: 500 }));
    const turned = prove(plan, reverseRuns(['r1']));
    expect(turned.doc.runs.byId['r1']).toMatchObject({ from: 'p2', to: 'p1', tailFrom: null, tailTo: 500 });
    expect(prove(turned.doc, reverseRuns(['r1'])).doc.runs.byId['r1']).toEqual(plan.runs.byId['r1']);
  });

  it('leaves a locked run alone until it is unlocked', () => {
    const locked = after(wired(), editRuns(['r1'], { locked: true }));
    for (const edit of [setCorners('r1', []), removeCorner('r1', 0), dropToPoint('r1', 'to', 'p4')])
      expectRefusal(locked, edit, /R1 is locked/);
    prove(after(locked, editRuns(['r1'], { locked: false })), setCorners('r1', []));
  });
});

describe('the record of a run', () => {
  it('edits, ticks off, records as laid, removes', () => {
    const plan = wired();
    prove(plan, editRuns(['r1'], { depth: 55, fixing: 'chase', protection: 'steel-3mm', cable: 'te4' }));
    expectRefusal(plan, editRuns(['r1'], { depth: -1 }), /0 mm or more/);
    expectRefusal(plan, editRuns(['r1'], { cable: 'rope' }), /no longer in the catalogue/);
    const ticked = prove(plan, setProgress(['r1'], 'pulled', '2026-05-17'));
    expect(ticked.doc.runs.byId['r1']?.progress.pulled).toBe('2026-05-17');
    prove(ticked.doc, setProgress(['r1'], 'pulled', null));
    expectRefusal(plan, setProgress(['r1'], 'pulled', '2026-02-30'), /year-month-day/);
    prove(plan, setAsLaid(['r1'], { state: 'differently', note: 'Along the sill' }));
    expectRefusal(plan, setAsLaid(['r1'], { state: 'differently', note: ' ' }), /how it was laid/);
    expect(prove(plan, removeRuns(['r1'])).doc.runs.order).toEqual([]);
    expectRefusal(plan, removeRuns(['r9']), /no longer/);
  });
});

import { describe, expect, it } from 'vitest';
import {
  addCircuit,
  assignPoints,
  removeCircuits,
  setControls,
} from '../../src/document/commands/circuits.ts';
import {
  addPoint,
  addPoints,
  duplicateAlong,
  editPoints,
  movePoint,
  removePoints,
} from '../../src/document/commands/points.ts';
import { addReading } from '../../src/document/commands/readings.ts';
import { addRun } from '../../src/document/commands/runs.ts';
import type { Place } from '../../src/engine/model/document.ts';
import { after, boxRoom, wired } from './plans.ts';
import { expectRefusal, prove } from './prove.ts';

const face = (wall: string, along: number, z: number): Place => ({
  on: 'face',
  wall,
  side: 'right',
  along,
  z,
});

describe('points', () => {
  const doc = boxRoom();

  it('adds a point with its number, its usual box and its place', () => {
    const done = prove(doc, addPoint({ kind: 'socket', place: face('w1', 1000, 450), gangs: 2 }));
    expect(done.made).toEqual(['p1']);
    expect(done.doc.points.byId['p1']).toMatchObject({
      label: 'P1',
      gangs: 2,
      box: { box: 'lining-2g-35', fixedFirst: false },
      visible: true,
    });
    const ceiling: Place = { on: 'ceiling', storey: 's1', x: 2000, y: 1500 };
    const both = prove(
      doc,
      addPoints([
        { kind: 'ceiling-light', place: ceiling },
        { kind: 'switch-1way', place: face('w2', 300, 1200) },
      ]),
    );
    expect(both.doc.points.byId['p1']?.box).toBeNull();
    expect(both.doc.points.byId['p2']?.box?.box).toBe('lining-1g-35');
  });

  it('refuses places it does not belong', () => {
    expectRefusal(doc, addPoint({ kind: 'ceiling-light', place: face('w1', 10, 10) }), /goes on a ceiling/);
    expectRefusal(doc, addPoint({ kind: 'socket', place: face('w1', 10, 2600) }), /above the top/);
    expectRefusal(doc, addPoint({ kind: 'socket', place: face('w1', 10, -1) }), /below the floor/);
    expectRefusal(doc, addPoint({ kind: 'socket', place: face('w1', 9000, 450) }), /past the end/);
    expectRefusal(doc, addPoint({ kind: 'socket', place: face('w1', NaN, 450) }), /not on the wall/);
    expectRefusal(doc, addPoint({ kind: 'socket', place: face('w9', 10, 450) }), /no longer/);
  });

  it('never uses a number again, whatever was removed', () => {
    const one = after(doc, addPoint({ kind: 'socket', place: face('w1', 1000, 450) }));
    const none = prove(one, removePoints(['p1'])).doc;
    expect(prove(none, addPoint({ kind: 'socket', place: face('w1', 500, 450) })).made).toEqual(['p2']);
  });

  it('copies at even spacing', () => {
    const one = after(doc, addPoint({ kind: 'socket', place: face('w1', 500, 450) }));
    const done = prove(one, duplicateAlong('p1', face('w1', 3500, 450), 3));
    expect(done.made.map((id) => done.doc.points.byId[id]?.place)).toEqual([
      face('w1', 1500, 450),
      face('w1', 2500, 450),
      face('w1', 3500, 450),
    ]);
    expectRefusal(one, duplicateAlong('p1', face('w2', 500, 450), 2), /same wall side/);
    expectRefusal(one, duplicateAlong('p1', face('w1', 500, 450), 0), /between 1 and 200/);
  });

  it('parks the runs of a removed point where it was, and forgets it everywhere', () => {
    const plan = wired();
    const place = plan.points.byId['p2']?.place;
    const done = prove(plan, removePoints(['p2']));
    expect(done.note).toMatch(/R1 now ends on no point/);
    expect(done.doc.runs.byId['r1']?.to).toBeNull();
    expect(done.doc.runs.byId['r1']?.corners.at(-1)).toEqual(place);
    expect(done.doc.points.byId['p3']?.controls).toEqual([]);
    const read = after(
      plan,
      addReading({
        circuit: null,
        run: null,
        point: 'p2',
        kind: 'r1',
        value: 0.3,
        stage: 'before-boarding',
        date: '2026-05-17',
        instrument: '',
        by: '',
        note: '',
      }),
    );
    expectRefusal(read, removePoints(['p2']), /P2 has readings/);
  });

  it('changes kind and box together, and several at once', () => {
    const plan = wired();
    const done = prove(plan, editPoints(['p1', 'p2'], { gangs: 2 }));
    expect(done.doc.points.byId['p2']?.box?.box).toBe('lining-2g-35');
    expect(prove(plan, editPoints(['p2'], { kind: 'data' })).doc.points.byId['p2']?.circuit).toBeNull();
    expectRefusal(plan, editPoints(['p2'], { load: -5 }), /0 W or more/);
    expect(prove(plan, editPoints(['p2'], { name: plan.points.byId['p2']?.name ?? '' })).doc).toBe(plan);
  });
});

describe('moving a point', () => {
  it('takes its drop along the wall and the corner in the void above it', () => {
    const plan = wired();
    const done = prove(plan, movePoint('p2', face('w1', 3200, 600)));
    const corners = done.doc.runs.byId['r1']?.corners ?? [];
    // Inner surface of w1 (88 mm thick, centre line on y = 0): y = 44. The void corner stays plumb above the point.
    expect(corners.at(-1)).toEqual({ on: 'ceiling', storey: 's1', x: 3200, y: 44 });
    expect(corners.at(0)).toEqual(plan.runs.byId['r1']?.corners.at(0));
  });
});

describe('circuits', () => {
  it('adds, assigns and removes', () => {
    const plan = wired();
    const added = prove(plan, addCircuit({ topology: 'lighting' }));
    const circuit = added.doc.circuits.byId[added.made[0] ?? ''];
    expect(circuit).toMatchObject({ label: 'C2', cable: 'te1-5', cable3: 'tce1-5', board: 'p4' });
    const moved = prove(added.doc, assignPoints(['p2', 'p4'], 'c2'));
    expect(moved.note).toMatch(/1 passed over/);
    expect(moved.doc.points.byId['p2']?.circuit).toBe('c2');
    expectRefusal(plan, assignPoints(['p4'], 'c1'), /not on a circuit/);
    const gone = prove(plan, removeCircuits(['c1']));
    expect(gone.doc.points.byId['p1']?.circuit).toBeNull();
    expect(gone.doc.runs.byId['r1']?.circuit).toBeNull();
  });

  it('lets a switch work points, but not itself, and only switches', () => {
    const plan = wired();
    prove(plan, setControls('p3', 0, ['p1']));
    expectRefusal(plan, setControls('p3', 0, ['p3']), /cannot work itself/);
    expectRefusal(plan, setControls('p1', 0, ['p2']), /not a switch/);
    expectRefusal(plan, setControls('p3', 0, ['p1', 'p1']), /twice/);
  });

  it('gives a run the circuit and cable of its ends', () => {
    const plan = wired();
    const done = prove(plan, addRun({ from: 'p2', to: 'p1', corners: [] }));
    expect(done.doc.runs.byId['r2']).toMatchObject({
      label: 'R2',
      circuit: 'c1',
      cable: 'te2-5',
      fixing: 'in-stud',
    });
    expectRefusal(plan, addRun({ from: 'p1', to: 'p1', corners: [] }), /one point to another/);
    expectRefusal(plan, addRun({ from: 'p1', to: null, corners: [] }), /two ends/);
  });
});

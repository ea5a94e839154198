import { describe, expect, it } from 'vitest';
import { acceptFinding, withdrawAcceptance } from '../../src/document/commands/acceptances.ts';
import { addBuildUp, editBuildUp, removeBuildUp } from '../../src/document/commands/buildUps.ts';
import {
  addBox,
  addCable,
  editBox,
  editCable,
  removeBox,
  removeCable,
} from '../../src/document/commands/catalogue.ts';
import { removeCircuits } from '../../src/document/commands/circuits.ts';
import { editJob } from '../../src/document/commands/job.ts';
import { addReading, editReading, removeReadings } from '../../src/document/commands/readings.ts';
import { removeRuns } from '../../src/document/commands/runs.ts';
import {
  addRoomTag,
  addThing,
  editRoomTag,
  editThing,
  removeRoomTags,
  removeThings,
} from '../../src/document/commands/rooms.ts';
import { addStorey, editStorey, removeStorey } from '../../src/document/commands/storeys.ts';
import { editWalls } from '../../src/document/commands/walls.ts';
import type { Reading } from '../../src/engine/model/document.ts';
import { after, boxRoom, wired } from './plans.ts';
import { expectRefusal, prove } from './prove.ts';

const plan = wired();
const reading: Omit<Reading, 'id'> = {
  circuit: 'c1',
  run: 'r1',
  point: null,
  kind: 'r1',
  value: 0.31,
  stage: 'before-boarding',
  date: '2026-05-17',
  instrument: 'Low-resistance meter',
  by: '',
  note: '',
};

describe('storeys', () => {
  it('go on top of each other, and go when empty', () => {
    const two = prove(plan, addStorey('Upper floor'));
    // 2400 mm ceiling and 200 mm of void above the ground floor.
    expect(two.doc.storeys.byId['s2']).toMatchObject({ level: 2600, name: 'Upper floor' });
    prove(two.doc, removeStorey('s2'));
    expectRefusal(two.doc, removeStorey('s1'), /still something on this storey: 4 walls/);
    expectRefusal(plan, removeStorey('s1'), /at least one storey/);
    prove(plan, editStorey('s1', { ceilingHeight: 2550, name: 'Studio' }));
    expectRefusal(plan, editStorey('s1', { ceilingHeight: 0 }), /more than 0 mm/);
  });
});

describe('build-ups', () => {
  it('are added, edited and removed, with layers that make sense', () => {
    const timber = plan.buildUps.byId['timber-stud'];
    if (!timber) throw new Error('no default');
    const added = prove(plan, addBuildUp({ ...timber, name: 'Thicker' }));
    prove(added.doc, removeBuildUp(added.made[0] ?? ''));
    expectRefusal(plan, removeBuildUp('timber-stud'), /4 walls are made/);
    expectRefusal(plan, editBuildUp('timber-stud', { layers: [] }), /at least one layer/);
    expectRefusal(
      plan,
      editBuildUp('timber-stud', { cableLayer: { left: 1, right: 3 } }),
      /one of the layers/,
    );
    const thin = timber.layers.map((l) => ({ ...l, thickness: -1 }));
    expectRefusal(plan, editBuildUp('timber-stud', { layers: thin }), /more than 0/);
    prove(
      plan,
      editWalls(['w1', 'w2'], { buildUp: 'block-dabs', flipped: true, top: { kind: 'level', z: 2200 } }),
    );
  });
});

describe('the catalogue', () => {
  it('keeps what is in use', () => {
    expectRefusal(plan, removeCable('te2-5'), /used by C1, R1/);
    expectRefusal(plan, removeBox('lining-1g-35'), /used by P1, P2/);
    prove(plan, removeCable('te16'));
    prove(plan, removeBox('round-1g-35'));
    prove(plan, editCable('te2-5', { drums: [{ length: 75, price: 61.5 }], remnants: [12.5] }));
    expectRefusal(plan, editCable('te2-5', { remnants: [0] }), /more than 0 m/);
    expectRefusal(plan, editCable('te2-5', { csa: -1 }), /more than 0/);
    const te = plan.cables.byId['te2-5'];
    const metal = plan.boxes.byId['metal-1g-35'];
    if (!te || !metal) throw new Error('no defaults');
    expect(prove(plan, addCable({ ...te, name: 'Other' })).made).toEqual(['cable1']);
    expect(prove(plan, addBox({ ...metal, depth: 44 })).made).toEqual(['box1']);
    prove(plan, editBox('metal-1g-35', { depth: 36 }));
    expectRefusal(plan, editBox('metal-1g-35', { depth: 0 }), /deeper than 0/);
  });
});

describe('job, rooms and things', () => {
  it('edits the job', () => {
    prove(plan, editJob({ edition: 'bs7671-2018-a3', supply: { ...plan.job.supply, ze: 0.8 } }));
    expect(prove(plan, editJob({ title: plan.job.title })).doc).toBe(plan);
    expectRefusal(plan, editJob({ allowances: { ...plan.job.allowances, percent: 120 } }), /at most 100/);
    expectRefusal(plan, editJob({ supply: { ...plan.job.supply, ze: NaN } }), /numbers/);
  });

  it('names rooms', () => {
    const named = prove(
      plan,
      addRoomTag({ storey: 's1', x: 2000, y: 1500, name: 'Studio', use: 'workshop' }),
    );
    prove(named.doc, editRoomTag('t1', { name: 'Glazing' }));
    prove(named.doc, removeRoomTags(['t1']));
    expectRefusal(plan, addRoomTag({ storey: 's9', x: 0, y: 0, name: '', use: 'other' }), /no longer/);
  });

  it('places things', () => {
    const outline = [
      { x: 0, y: 0 },
      { x: 600, y: 0 },
      { x: 600, y: 600 },
    ];
    const room = { on: 'plan', storey: 's1', outline, z0: 0, z1: 900, where: 'room' } as const;
    const placed = prove(plan, addThing({ kind: 'unit', name: '', place: room }));
    prove(placed.doc, editThing('k1', { name: 'Damp cupboard' }));
    prove(placed.doc, removeThings(['k1']));
    expectRefusal(plan, addThing({ kind: 'unit', name: '', place: { ...room, z1: -1 } }), /above its bottom/);
    expectRefusal(
      plan,
      addThing({ kind: 'unit', name: '', place: { ...room, outline: outline.slice(1) } }),
      /three corners/,
    );
  });
});

describe('the record', () => {
  it('keeps readings, and what was read', () => {
    const read = prove(plan, addReading(reading));
    prove(read.doc, editReading('m1', { value: 0.33 }));
    prove(read.doc, removeReadings(['m1']));
    expectRefusal(read.doc, removeRuns(['r1']), /R1 has readings/);
    expectRefusal(read.doc, removeCircuits(['c1']), /C1 has readings/);
    expectRefusal(plan, addReading({ ...reading, value: -1 }), /0 or more/);
    expectRefusal(plan, addReading({ ...reading, circuit: null, run: null }), /Say which/);
    expectRefusal(plan, addReading({ ...reading, date: 'today' }), /year-month-day/);
  });

  it('accepts findings with a reason, and takes it back', () => {
    const fields = {
      finding: 'zone:r1:2',
      reason: 'Steel plate over it',
      by: 'A. Potter',
      date: '2026-05-17',
    };
    const accepted = prove(plan, acceptFinding(fields));
    const again = prove(accepted.doc, acceptFinding({ ...fields, reason: 'Moved' }));
    expect(again.doc.acceptances.order).toEqual(['a1']);
    prove(again.doc, withdrawAcceptance('zone:r1:2'));
    expectRefusal(plan, acceptFinding({ ...fields, reason: ' ' }), /Give the reason/);
    expectRefusal(plan, withdrawAcceptance('zone:r1:2'), /was not accepted/);
  });
});

describe('numbers a plan cannot hold', () => {
  it('are refused whatever command brings them', () => {
    const name = 'x'.repeat(100_001);
    expectRefusal(boxRoom(), addStorey(name), /cannot be kept in a plan: storeys\.s2\.name is longer/);
    expectRefusal(
      after(boxRoom()),
      editStorey('s1', { ceiling: { ...bad() } }),
      /storeys\.s1\.ceiling\.cableRise/,
    );
  });
});

function bad() {
  const ceiling = plan.storeys.byId['s1']?.ceiling;
  if (!ceiling) throw new Error('no storey');
  return { ...ceiling, cableRise: NaN };
}

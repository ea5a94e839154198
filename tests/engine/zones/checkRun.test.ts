import { describe, expect, it } from 'vitest';
import { tableFrom } from '../../../src/engine/model/defaults.ts';
import { check, checkOne, contextOf, rowsOf } from './context.ts';
import { aCircuit, aFace, aLeg, aPlan, aPoint, aRun, behind } from './faces.ts';

// Hand-worked on a face 3000 x 2400 mm, socket p1 at (1000, 450), plate 86 x 86: bands 150 mm at the top and at both
// angles, strips 957..1043 and 407..493. Near cover 12.5 mm, far cover 122.5 mm (block with boards on dabs).
// Figures: BS 7671 522.6.202.
const FACE = 'w1.right.0';
const ctx = () => contextOf(aPlan([aPoint('p1')]), [aFace(FACE)]);

describe('the answers of a leg, by hand', () => {
  it('level at the height of the socket is inside', () => {
    const leg = checkOne(ctx(), aRun('r1'), aLeg(FACE, { u: 0, z: 450 }, { u: 3000, z: 450 }));
    expect(rowsOf(leg)).toEqual([['inside', 0, 3000]]);
    expect(leg.offLevel).toBe(0);
    expect(leg).toMatchObject({ coverNear: 12.5, coverFar: 122.5, metal: false, answer: 'inside' });
  });

  it('bounds are closed: the centre at 493 mm is within them, at 493.001 outside', () => {
    const at = (z: number) => checkOne(ctx(), aRun('r1'), aLeg(FACE, { u: 400, z }, { u: 800, z }));
    expect(at(493).answer).toBe('disputed');
    expect(at(493.001).answer).toBe('outside');
    expect(at(493.001).stretches[0]?.outsideMm).toBeCloseTo(0.001, 6);
  });

  // 2.5 mm² twin and earth is 10.3 mm wide (BS 6004 typical), so 5.15 to each side of its centre: 493 - 5.15 = 487.85.
  it('the whole width counts: centre inside and edge out is disputed, with its mm', () => {
    const at = (z: number) => checkOne(ctx(), aRun('r1'), aLeg(FACE, { u: 400, z }, { u: 800, z }));
    expect(at(487.85).answer).toBe('inside');
    expect(at(412.15).answer).toBe('inside');
    expect(at(490.25).answer).toBe('disputed');
    // 490.25 + 5.15 - 493 = 2.4
    expect(at(490.25).stretches[0]?.why).toContain('2.4 mm out');
    // The same seen plumb: the strip ends at 1043, so 1043 - 5.15 = 1037.85.
    const plumb = (u: number) => checkOne(ctx(), aRun('r1'), aLeg(FACE, { u, z: 1000 }, { u, z: 2000 }));
    expect(plumb(1037.85).answer).toBe('inside');
    expect(plumb(1040).answer).toBe('disputed');
  });

  it('an edge over the side of one zone but within another is inside', () => {
    // At z = 490 the edge leaves the level strip; from u = 957 + 5.15 to 1043 - 5.15 the plumb strip holds it.
    const leg = checkOne(ctx(), aRun('r1'), aLeg(FACE, { u: 900, z: 490 }, { u: 1100, z: 490 }));
    expect(rowsOf(leg)).toEqual([
      ['disputed', 0, 57],
      ['inside', 57, 143],
      ['disputed', 143, 200],
    ]);
  });

  it('level at 900: inside the angle bands and the plumb strip, outside between, 407 mm from the level strip', () => {
    const leg = checkOne(ctx(), aRun('r1'), aLeg(FACE, { u: 0, z: 900 }, { u: 3000, z: 900 }));
    expect(rowsOf(leg)).toEqual([
      ['inside', 0, 150],
      ['outside', 150, 957],
      ['inside', 957, 1043],
      ['outside', 1043, 2850],
      ['inside', 2850, 3000],
    ]);
    // 150..957: between the bands the furthest spot is the middle, (957 - 150) / 2 = 403.5 from either, and the level
    // strip is 900 - 493 = 407 below: so 403.5. 1043..2850: the strip 407 below is nearer than half of 1807.
    expect(leg.stretches.map((s) => s.outsideMm)).toEqual([0, 403.5, 0, 407, 0]);
    // The middle of the stretch is as bad as any spot: straight down to the top of the strip.
    expect(leg.stretches[3]?.nearest?.u).toBeCloseTo(1946.5, 6);
    expect(leg.stretches[3]?.nearest?.z).toBe(493);
    expect(leg.stretches[1]).toMatchObject({ surface: 'near' });
  });

  it('plumb at 1255: 212 mm beside the plumb strip at the most, nearest position on the strip', () => {
    const leg = checkOne(ctx(), aRun('r1'), aLeg(FACE, { u: 1255, z: 2400 }, { u: 1255, z: 450 }));
    // Band from 2400 to 2250, strip from 493: inside; outside for 2250 - 493 = 1757 mm between.
    expect(rowsOf(leg)).toEqual([
      ['inside', 0, 150],
      ['outside', 150, 1907],
      ['inside', 1907, 1950],
    ]);
    expect(leg.stretches[1]?.outsideMm).toBe(212);
    expect(leg.stretches[1]?.nearest).toEqual({ u: 1043, z: 1371.5 });
  });

  it('a diagonal is measured off level and cut exactly', () => {
    // From (150, 2250) to (957, 1443): 45°, outside all the way but for its ends; the worst spot is the middle of the
    // way between the left band and the plumb strip, (553.5, 1846.5): 403.5 from both and from the top band.
    const leg = checkOne(ctx(), aRun('r1'), aLeg(FACE, { u: 150, z: 2250 }, { u: 957, z: 1443 }));
    expect(leg.offLevel).toBeCloseTo(Math.PI / 4, 9);
    expect(leg.answer).toBe('outside');
    expect(leg.stretches.find((s) => s.answer === 'outside')?.outsideMm).toBeCloseTo(403.5, 9);
  });

  it('off level within 1 mm, or 0.2° of its length, is level', () => {
    const off = (dz: number, length: number) =>
      checkOne(ctx(), aRun('r1'), aLeg(FACE, { u: 100, z: 450 }, { u: 100 + length, z: 450 + dz })).offLevel;
    expect(off(1, 100)).toBe(0);
    expect(off(1.1, 100)).toBeGreaterThan(0);
    expect(off(6.9, 2000)).toBe(0); // 2000 sin 0.2° = 6.98
    expect(off(7.1, 2000)).toBeGreaterThan(0);
  });

  it('crossing an opening is told with its stretch; running along the jamb is not crossing', () => {
    const face = aFace(FACE, {
      openings: [{ id: 'o1', kind: 'door', u0: 1500, u1: 2300, z0: 0, z1: 2000 }],
    });
    const c = contextOf(aPlan([aPoint('p1')]), [face]);
    const through = checkOne(c, aRun('r1'), aLeg(FACE, { u: 1000, z: 450 }, { u: 3000, z: 450 }));
    expect(through.crossings).toHaveLength(1);
    expect(through.crossings[0]?.opening).toBe('o1');
    expect(through.crossings[0]?.t0).toBeCloseTo(0.25, 8);
    expect(through.crossings[0]?.t1).toBeCloseTo(0.65, 8);
    expect(through.answer).toBe('inside');
    const beside = (u: number) =>
      checkOne(c, aRun('r1'), aLeg(FACE, { u, z: 0 }, { u, z: 2000 })).crossings.map((x) => x.edgeMm);
    // Half of 10.3 mm beside the jamb the edge touches it; 2 mm nearer the edge is 2 mm in; on it 5.15.
    expect(beside(1494.85)).toEqual([]);
    expect(beside(1496.85)[0]).toBeCloseTo(2, 5);
    expect(beside(1500)[0]).toBeCloseTo(5.15, 5);
  });

  it('a hidden point leaves it disputed', () => {
    const c = contextOf(aPlan([aPoint('p1', { visible: false })]), [aFace(FACE)]);
    const leg = checkOne(c, aRun('r1'), aLeg(FACE, { u: 500, z: 450 }, { u: 2000, z: 450 }));
    expect(leg.answer).toBe('disputed');
    expect(leg.stretches[0]?.why).toContain('hidden');
  });

  it('voids and loose stretches are not checked, and a run of those alone never passes', () => {
    const legs = (['ceiling', 'floor', 'riser', 'loose'] as const).map((kind) =>
      aLeg(FACE, { u: 0, z: 0 }, { u: 100, z: 0 }, { kind, face: null, fa: null, fb: null, wall: null }),
    );
    const run = check(ctx(), aRun('r1'), legs);
    expect(run.legs.map((l) => l.answer)).toEqual(Array(4).fill('not-checked'));
    expect(run.answer).toBe('not-checked');
  });

  it('a run over a ceiling and down a strip is inside: the answer is that of its legs in walls', () => {
    const run = check(ctx(), aRun('r1'), [
      aLeg(FACE, { u: 0, z: 0 }, { u: 9, z: 0 }, { kind: 'ceiling', face: null, fa: null, fb: null }),
      aLeg(FACE, { u: 1000, z: 2400 }, { u: 1000, z: 450 }),
    ]);
    expect(run.answer).toBe('inside');
  });
});

describe('depth and protection (522.6.202, .204)', () => {
  const high = aLeg(FACE, { u: 300, z: 1500 }, { u: 700, z: 1500 });

  it('50 mm deep from both surfaces is free; 49.9 mm from either is not', () => {
    // Flat on masonry the cable is 6 mm thick (BS 6004 typical): its nearest surface is 3 mm before its centre.
    const at = (depth: number) => checkOne(ctx(), aRun('r1', { depth }), high);
    expect(at(53).answer).toBe('inside');
    expect(at(53).stretches[0]?.why).toContain('50 mm deep or more');
    expect(at(52.9).answer).toBe('outside');
    expect(at(52.9).coverNear).toBeCloseTo(49.9, 9);
    // 145 mm wall: 92 from here leaves 145 - 92 - 3 = 50 from the other side; but nothing is behind this face.
    expect(at(92).coverFar).toBe(50);
    expect(at(92.1).answer).toBe('inside');
  });

  it('between studs the cable may stand on edge: half its width counts', () => {
    const framed = contextOf(aPlan([aPoint('p1')]), [aFace(FACE, { build: { masonry: false } })]);
    const at = (depth: number) => checkOne(framed, aRun('r1', { depth }), high);
    // 10.3 / 2 = 5.15
    expect(at(55.15).answer).toBe('inside');
    expect(at(55.1).answer).toBe('outside');
  });

  it('a depth that does not fit the wall is passed over, not taken as deep', () => {
    const at = (depth: number) => checkOne(ctx(), aRun('r1', { depth }), high);
    // 145 mm wall, 3 mm to each side: 3 to 142 fit.
    expect([2.9, 3, 142, 142.1].map((d) => at(d).depthFits)).toEqual([false, true, true, false]);
    expect(at(142.1)).toMatchObject({ answer: 'outside', coverNear: 12.5 });
  });

  it('with a room behind, less than 50 mm from the far surface must be in a zone seen from there', () => {
    const front = aFace(FACE, { opposite: [behind('w1.left.0', 3000)] });
    const back = aFace('w1.left.0', { opposite: [behind(FACE, 3000)] });
    const c = contextOf(aPlan([aPoint('p1')]), [front, back]);
    expect(checkOne(c, aRun('r1', { depth: 92 }), high).answer).toBe('inside');
    const leg = checkOne(c, aRun('r1', { depth: 92.1 }), high);
    expect(leg.stretches[0]).toMatchObject({ answer: 'outside', surface: 'far' });
    // Only the far surface binds: its bands are 0..150 and 2850..3000 and from 2250 up. From (700, 1500) the left band
    // is 550 away, the top band 750: 550 at the worst end.
    expect(leg.stretches[0]?.outsideMm).toBe(550);
    expect(leg.stretches[0]?.nearest).toEqual({ u: 150, z: 1500 });
  });

  it.each(['earthed-armour', 'earthed-conduit', 'earthed-trunking', 'selv-pelv'] as const)(
    '%s makes it acceptable anywhere',
    (protection) => expect(checkOne(ctx(), aRun('r1', { protection }), high).answer).toBe('inside'),
  );

  it('3 mm steel is disputed: 522.6.204(iv) names no thickness', () => {
    const leg = checkOne(ctx(), aRun('r1', { protection: 'steel-3mm' }), high);
    expect(leg.answer).toBe('disputed');
    expect(leg.stretches[0]?.why).toContain('3 mm steel');
    const inside = aLeg(FACE, { u: 300, z: 450 }, { u: 700, z: 450 });
    expect(checkOne(ctx(), aRun('r1', { protection: 'steel-3mm' }), inside).answer).toBe('inside');
  });

  it.each(['none', 'capping'] as const)('%s does not', (protection) =>
    expect(checkOne(ctx(), aRun('r1', { protection }), high).answer).toBe('outside'),
  );

  it('in a metal-framed wall protection frees the position under A3 but not under A4 (Table 52.1)', () => {
    const face = aFace(FACE, { build: { metal: true } });
    const answer = (edition: 'bs7671-2018-a3' | 'bs7671-2018-a4') => {
      const plan = aPlan([aPoint('p1')]);
      const c = contextOf({ ...plan, job: { ...plan.job, edition } }, [face]);
      return checkOne(c, aRun('r1', { protection: 'earthed-conduit' }), high).answer;
    };
    expect(answer('bs7671-2018-a3')).toBe('inside');
    expect(answer('bs7671-2018-a4')).toBe('outside');
  });
});

describe('another circuit in the strip of a point', () => {
  it.each([
    ['bs7671-2018-a3', false, 'disputed'],
    ['bs7671-2018-a3', true, 'disputed'],
    ['bs7671-2018-a4', false, 'disputed'],
    ['bs7671-2018-a4', true, 'inside'],
  ] as const)('%s, chosen for the job %s: %s', (edition, otherCircuitsInStrip, answer) => {
    const plan = aPlan([aPoint('p1', { circuit: 'c1' })]);
    const job = { ...plan.job, edition, otherCircuitsInStrip };
    const c = contextOf({ ...plan, job }, [aFace(FACE)]);
    const leg = aLeg(FACE, { u: 500, z: 450 }, { u: 2000, z: 450 });
    expect(checkOne(c, aRun('r1', { circuit: 'c2' }), leg).answer).toBe(answer);
    expect(checkOne(c, aRun('r1', { circuit: 'c1' }), leg).answer).toBe('inside');
  });
});

describe('thin partitions, 88 mm, 12.5 mm cover to both sides', () => {
  // Front 3000 long between two angles; behind it a face of 5000 that runs 1000 past it on both sides.
  const build = { thickness: 88, coverNear: 12.5, coverFar: 12.5 };
  const front = aFace(FACE, {
    build,
    opposite: [{ face: 'w1.left.0', u0: 0, u1: 3000, otherAtU0: 4000, otherAtU1: 1000 }],
  });
  const back = aFace('w1.left.0', {
    length: 5000,
    build,
    top: [
      { u: 0, z: 2400 },
      { u: 5000, z: 2400 },
    ],
    pieces: [{ wall: 'w1', side: 'left', u0: 0, u1: 5000, alongAtU0: 4000, alongAtU1: -1000 }],
    opposite: [{ face: FACE, u0: 1000, u1: 4000, otherAtU0: 3000, otherAtU1: 0 }],
  });

  it('the angle on this side is no angle on the other: outside as seen from behind', () => {
    const c = contextOf(aPlan([]), [front, back]);
    const leg = checkOne(c, aRun('r1'), aLeg(FACE, { u: 75, z: 2400 }, { u: 75, z: 0 }));
    expect(rowsOf(leg)).toEqual([
      ['inside', 0, 150],
      ['outside', 150, 2400],
    ]);
    expect(leg.stretches[1]).toMatchObject({ surface: 'far', outsideMm: 2250, nearest: { u: 75, z: 2250 } });
  });

  it('the strip of a point on either side counts on both', () => {
    const c = contextOf(aPlan([aPoint('p1', { side: 'left', along: 1300, z: 1200 })]), [front, back]);
    const leg = checkOne(c, aRun('r1'), aLeg(FACE, { u: 1300, z: 2400 }, { u: 1300, z: 1200 }));
    expect(rowsOf(leg)).toEqual([['inside', 0, 1200]]);
  });
});

describe('through a wall', () => {
  const points = [aPoint('p1', { along: 1000, z: 450 }), aPoint('p2', { along: 1000, z: 450, side: 'left' })];
  const faces = [
    aFace(FACE, { opposite: [behind('w1.left.0', 3000)] }),
    aFace('w1.left.0', { opposite: [behind(FACE, 3000)] }),
  ];
  const leg = aLeg(
    FACE,
    { u: 0, z: 0 },
    { u: 145, z: 0 },
    { kind: 'through', face: null, fa: null, fb: null },
  );

  it('from point to point back to back is inside; a hidden one makes it disputed', () => {
    const run = aRun('r1', { from: 'p1', to: 'p2' });
    expect(checkOne(contextOf(aPlan(points), faces), run, leg).answer).toBe('inside');
    const hidden = points.map((p) => (p.id === 'p2' ? { ...p, visible: false } : p));
    expect(checkOne(contextOf(aPlan(hidden), faces), run, leg).answer).toBe('disputed');
  });

  it('where only one side has a zone it is outside by what the other side lacks', () => {
    const run = aRun('r1', {
      from: 'p1',
      corners: [{ on: 'face', wall: 'w1', side: 'left', along: 1000, z: 450 }],
    });
    const c = contextOf(aPlan([points[0] as (typeof points)[number]]), faces);
    // On the left side u = 2000 at 450 high: the right band 2850 is 850 away.
    expect(checkOne(c, run, leg).stretches[0]).toMatchObject({
      answer: 'outside',
      outsideMm: 850,
      surface: 'far',
    });
  });
});

it('a run of data cable counts as extra-low voltage', () => {
  const plan = aPlan([aPoint('p1')], {
    circuits: tableFrom([aCircuit('c1', { device: { type: 'B', rating: 32, rcd: null } })]),
  });
  const leg = aLeg(FACE, { u: 300, z: 1500 }, { u: 700, z: 1500 });
  expect(checkOne(contextOf(plan, [aFace(FACE)]), aRun('r1', { cable: 'data-utp' }), leg).answer).toBe(
    'inside',
  );
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { ResolvedRun } from '../../../src/engine/fabric/types.ts';
import type { PlanDocument } from '../../../src/engine/model/document.ts';
import { runLength } from '../../../src/engine/takeoff/runLength.ts';
import { at, leg, plan, point, resolved, run, split } from './plan.ts';

const METAL = { box: 'metal-1g-35', fixedFirst: true };
const LATER = { box: 'metal-1g-35', fixedFirst: false };

/** Board on the block wall at 1400, socket on the timber wall at 450, by the ceiling void 100 mm above 2400. */
const doc = plan(
  [
    point('cu', 'consumer-unit'),
    point('p1', 'socket', { box: METAL }),
    point('p2', 'socket', { box: LATER }),
    point('p3', 'socket'),
    point('p4', 'ceiling-light'),
  ],
  [run('r1', 'cu', 'p1')],
);
const overCeiling = resolved('r1', [
  leg('face', at(1000, 83, 1400), at(1000, 83, 2400), 'w1'), // rise 1000
  leg('riser', at(1000, 83, 2400), at(1000, 83, 2500)), // rise 100
  leg('ceiling', at(1000, 83, 2500), at(1000, 2000, 2500)), // level 1917, square to joists running along x
  leg('ceiling', at(1000, 2000, 2500), at(5956, 2000, 2500)), // level 4956, along the joists
  leg('riser', at(5956, 2000, 2500), at(5956, 2000, 2400)), // drop 100
  leg('face', at(5956, 2000, 2400), at(5956, 2000, 450), 'w2'), // drop 1950
]);

function lengthOf(of: PlanDocument, path: ResolvedRun) {
  const record = of.runs.byId[path.run];
  if (record === undefined) throw new Error(`no run ${path.run}`);
  return runLength(of, path, record);
}

describe('the length of a run, leg by leg', () => {
  it('adds run, rise and drop, and tails over the ceiling', () => {
    expect(lengthOf(doc, overCeiling)).toMatchObject({
      runMm: 1917 + 4956,
      riseDropMm: 1000 + 100 + 100 + 1950,
      throughMm: 0,
      tailFromMm: 1000,
      tailToMm: 150,
      cutMm: 6873 + 3150 + 1000 + 150,
      levelWallMm: 0,
      plumbWallMm: 2950,
      voidMm: 6873 + 200,
      whole: true,
    });
  });

  it('counts a wall crossed apart, and drops corners', () => {
    const path = resolved('r1', [
      leg('face', at(3000, 83, 450), at(5800, 83, 450), 'w1'),
      leg('corner', at(5956, 83, 450), at(5956, 83, 450)),
      leg('face', at(5956, 83, 450), at(5956, 1000, 450), 'w2'),
      leg('through', at(5956, 1000, 450), at(6044, 1000, 450), 'w2'),
    ]);
    const length = lengthOf(doc, path);
    expect(length).toMatchObject({ runMm: 2800 + 917, riseDropMm: 0, throughMm: 88, levelWallMm: 3717 });
    expect(length.straights.map((s) => s.where)).toEqual(['wall', 'wall', 'through']);
  });

  it('counts diagonals and loose stretches as run at their straight length', () => {
    const path = resolved('r1', [
      leg('face', at(1000, 83, 400), at(1300, 83, 800), 'w1'), // 3-4-5: 500
      leg('loose', at(1300, 83, 800), at(1300, 83, 2000)), // plumb, but on nothing: 1200
    ]);
    expect(lengthOf(doc, path)).toMatchObject({ runMm: 1700, riseDropMm: 0, levelWallMm: 500 });
  });

  it('takes a millimetre or 0.2° off plumb as plumb, and no more', () => {
    const off = (across: number, height: number) =>
      lengthOf(doc, resolved('r1', [leg('face', at(1000, 83, 0), at(1000 + across, 83, height), 'w1')]))
        .riseDropMm > 0;
    expect(off(1, 100)).toBe(true);
    expect(off(1.01, 100)).toBe(false);
    expect(off(6.9, 2000)).toBe(true); // 0.2° over 2 m is 6.98 mm
    expect(off(7.1, 2000)).toBe(false);
  });

  it('is not whole with a parked end or a stretch that could not be resolved, and still adds what there is', () => {
    const parked = plan([point('cu', 'consumer-unit')], [run('r1', 'cu', null)]);
    expect(lengthOf(parked, overCeiling)).toMatchObject({ whole: false, tailToMm: 300, runMm: 6873 });
    expect(lengthOf(doc, { ...overCeiling, missing: 'wall w9 is gone' }).whole).toBe(false);
  });
});

describe('tails (common practice; the allowances of the job)', () => {
  it.each([
    ['cu', 1000, 'CU: tail at a consumer unit'],
    ['p1', 150, 'P1: box already fixed'],
    ['p2', 300, 'P2: box comes later'],
    ['p3', 300, 'P3: no box chosen yet, so it comes later'],
    ['p4', 250, 'P4: fitting without a box'],
    [null, 300, 'end on no point, coiled as for a box to come'],
  ])('at %s is %d mm', (end, mm, why) => {
    const allowances = { ...doc.job.allowances, tailFitting: 250 };
    const job = { ...doc, job: { ...doc.job, allowances } };
    const there = runLength(job, overCeiling, run('r1', end, 'p1'));
    expect([there.tailFromMm, there.tailFromWhy]).toEqual([mm, why]);
    const back = runLength(job, overCeiling, run('r1', 'p1', end));
    expect([back.tailToMm, back.tailToWhy]).toEqual([mm, why]);
  });

  it('gives way to a tail typed on the run, nought included', () => {
    const typed = runLength(doc, overCeiling, run('r1', 'cu', 'p1', { tailFrom: 0, tailTo: 725 }));
    expect(typed).toMatchObject({ tailFromMm: 0, tailToMm: 725, tailFromWhy: 'typed on this run' });
  });
});

describe('holes', () => {
  const timberHoles = (legs: ResolvedRun['legs']) => lengthOf(doc, resolved('r1', legs)).throughTimber;

  it('counts joists by the reach square to them over their centres, and the plate of each stud wall entered', () => {
    // 1917 / 400 = 4.79, so 5 joists; none along them; the drop enters the timber stud wall through its plate.
    const length = lengthOf(doc, overCeiling);
    expect(length.straights.map((s) => s.timberHoles)).toEqual([0, 0, 5, 0, 1, 0]);
    expect(length).toMatchObject({ throughTimber: 6, throughMetal: 0 });
  });

  it('turns with the joists', () => {
    const storey = doc.storeys.byId['s1'];
    if (storey?.ceiling.joists == null) throw new Error('the default storey has joists');
    const joists = { ...storey.ceiling.joists, direction: Math.PI / 2, centres: 600 };
    const turned = {
      ...doc,
      storeys: { ...doc.storeys, byId: { s1: { ...storey, ceiling: { ...storey.ceiling, joists } } } },
    };
    // 4956 / 600 = 8.26, so 8 joists now on the other stretch.
    expect(lengthOf(turned, overCeiling).straights.map((s) => s.timberHoles)).toEqual([0, 0, 0, 8, 1, 0]);
  });

  it('counts studs at 600 mm along level stretches of stud walls only', () => {
    expect(timberHoles([leg('face', at(5956, 500, 450), at(5956, 3500, 450), 'w2')])).toBe(5);
    expect(timberHoles([leg('face', at(5956, 500, 450), at(5956, 500, 2000), 'w2')])).toBe(0);
    expect(timberHoles([leg('face', at(500, 83, 450), at(3500, 83, 450), 'w1')])).toBe(0);
    expect(timberHoles([leg('face', at(155, 500, 450), at(155, 3500, 450), 'w4')])).toBe(0); // in the battened void
    const metal = lengthOf(doc, resolved('r1', [leg('face', at(500, 3950, 450), at(3500, 3950, 450), 'w3')]));
    expect(metal).toMatchObject({ throughTimber: 0, throughMetal: 5 });
  });

  it('goes by the layer at the run’s own depth when it has one', () => {
    // Seen from the room side of w4: board to 12.5, void to 62.5, membrane to 63, studs to 203, sheathing to 212.
    const path = resolved('r1', [leg('face', at(155, 500, 450), at(155, 3500, 450), 'w4')]);
    const holesAt = (depth: number) => runLength(doc, path, run('r1', 'cu', 'p1', { depth })).throughTimber;
    expect([60, 70, 200, 210].map(holesAt)).toEqual([0, 5, 5, 0]);
  });

  it('drills the end stud of a partition passed through, masonry as masonry, and nothing between studs', () => {
    const through = (on: string, beside: string) =>
      lengthOf(
        doc,
        resolved('r1', [
          leg('face', at(4000, 83, 450), at(5956, 83, 450), beside),
          leg('through', at(5956, 83, 450), at(6044, 83, 450), on),
        ]),
      ).straights.at(-1);
    expect(through('w2', 'w1')).toMatchObject({ timberHoles: 1, metalHoles: 0, masonryHoles: 0 });
    expect(through('w3', 'w1')).toMatchObject({ timberHoles: 0, metalHoles: 1, masonryHoles: 0 });
    expect(through('w1', 'w1')).toMatchObject({ timberHoles: 0, metalHoles: 0, masonryHoles: 1 });
    expect(through('w2', 'w2')).toMatchObject({ timberHoles: 0, metalHoles: 0, masonryHoles: 0 });
  });
});

describe('splitting a leg', () => {
  it('changes no length, no hole and no clip-bearing straight, wherever it is cut', () => {
    const whole = lengthOf(doc, overCeiling);
    fc.assert(
      fc.property(fc.double({ min: 0.001, max: 0.999, noNaN: true }), (t) => {
        const cut = lengthOf(doc, split(overCeiling, t));
        expect(cut.straights.length).toBe(whole.straights.length);
        for (const key of ['runMm', 'riseDropMm', 'cutMm', 'levelWallMm', 'plumbWallMm', 'voidMm'] as const) {
          expect(cut[key]).toBeCloseTo(whole[key], 6);
        }
        expect([cut.throughTimber, cut.throughMetal]).toEqual([whole.throughTimber, whole.throughMetal]);
      }),
      { seed: 20260417, numRuns: 200 },
    );
  });
});

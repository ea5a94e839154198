import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { ResolvedRun } from '../../../src/engine/fabric/types.ts';
import type { Id, PlanDocument } from '../../../src/engine/model/document.ts';
import { tableFrom } from '../../../src/engine/model/defaults.ts';
import { accessoriesOf } from '../../../src/engine/takeoff/accessories.ts';
import { clipSpacing, clipsOn } from '../../../src/engine/takeoff/clips.ts';
import { runLength } from '../../../src/engine/takeoff/runLength.ts';
import { cutWithAllowance, takeOff } from '../../../src/engine/takeoff/totals.ts';
import type { Scale, TakeOff } from '../../../src/engine/takeoff/types.ts';
import { at, leg, plan, point, resolved, run, split } from './plan.ts';

const TYPED: Scale = { state: 'typed' };
const METAL = { box: 'metal-1g-35', fixedFirst: true };

const doc = plan(
  [
    point('cu', 'consumer-unit'),
    point('p1', 'socket', { box: METAL }),
    point('p2', 'socket', { box: METAL }),
    point('p3', 'socket'),
    point('p4', 'ceiling-light'),
  ],
  [
    run('r1', 'cu', 'p1', { circuit: 'c1' }),
    run('r2', 'p1', 'p2', { circuit: 'c1' }),
    run('r3', 'cu', 'p4', { circuit: 'c2', cable: 'te1' }),
    run('r4', 'p1', 'p3', { circuit: 'c3', fixing: 'conduit' }),
  ],
);
const paths: readonly ResolvedRun[] = [
  // r1: up 1000 on the block wall, 100 into the void, 1200 along the joists, 100 and 1950 down the timber wall.
  resolved('r1', [
    leg('face', at(1000, 83, 1400), at(1000, 83, 2400), 'w1'),
    leg('riser', at(1000, 83, 2400), at(1000, 83, 2500)),
    leg('ceiling', at(1000, 83, 2500), at(2200, 83, 2500)),
    leg('riser', at(2200, 83, 2500), at(2200, 83, 2400)),
    leg('face', at(2200, 83, 2400), at(2200, 83, 450), 'w2'),
  ]),
  // r2: 2500 level on the block wall, round the corner, 700 level through the studs of the metal wall.
  resolved('r2', [
    leg('face', at(3000, 83, 450), at(5500, 83, 450), 'w1'),
    leg('face', at(5500, 83, 450), at(6200, 83, 450), 'w3'),
  ]),
  // r3: up 1000 on the block wall, 100, then 1640 square to the joists.
  resolved('r3', [
    leg('face', at(1000, 83, 1400), at(1000, 83, 2400), 'w1'),
    leg('riser', at(1000, 83, 2400), at(1000, 83, 2500)),
    leg('ceiling', at(1000, 83, 2500), at(1000, 1723, 2500)),
  ]),
  // r4: 3000 level on the block wall, in conduit.
  resolved('r4', [leg('face', at(100, 83, 450), at(3100, 83, 450), 'w1')]),
];

function lengthsOf(of: PlanDocument, all: readonly ResolvedRun[] = paths) {
  return new Map(
    all.flatMap((path) => {
      const record = of.runs.byId[path.run];
      return record === undefined ? [] : [[path.run, runLength(of, path, record)] as const];
    }),
  );
}
const taken = takeOff(doc, lengthsOf(doc), TYPED);
const sundry = (of: TakeOff, key: string) => of.sundries.find((s) => s.key === key);

describe('metres per cable', () => {
  it('adds its runs, with the allowance on a line of its own', () => {
    // r1: run 1200, rise and drop 3150, tails 1000 + 150. r2: run 3200, tails 150 + 150. r4: 3000, tails 150 + 300.
    expect(taken.cables[1]).toEqual({
      cable: 'te2-5',
      name: '2.5 mm² twin and earth',
      runs: ['r1', 'r2', 'r4'],
      runMm: 1200 + 3200 + 3000,
      riseDropMm: 3150,
      throughMm: 0,
      measuredMm: 10550,
      tailsMm: 1150 + 300 + 450,
      allowanceMm: 1245,
      orderMm: 13695,
      errorMm: 0,
    });
    // r3: run 1640, rise 1100, tails 1000 + 300.
    expect(taken.cables[0]).toMatchObject({ cable: 'te1', measuredMm: 2740, tailsMm: 1300, orderMm: 4444 });
    expect(taken.cables.length).toBe(2);
  });

  it('puts the calibration’s error on metres read off the picture, not on typed heights', () => {
    const measured = takeOff(doc, lengthsOf(doc), { state: 'measured', errorPerMetre: 12, lengths: 2 });
    expect(measured.cables[1]?.errorMm).toBeCloseTo(7.4 * 12, 9);
  });

  it('refuses metres, and lists only what is counted, while the scale is refused', () => {
    const refused = takeOff(doc, lengthsOf(doc), { state: 'refused', why: 'no known length' });
    expect(refused.cables).toEqual([]);
    expect(refused.runs.size).toBe(0);
    expect(refused.sundries.map((s) => s.key)).toEqual([
      'box.metal-1g-35',
      'box.none',
      'accessory.socket.1',
      'accessory.ceiling-light.1',
      'accessory.consumer-unit.1',
      'grommets.boxes',
      'labels',
    ]);
  });

  it('sums to the same by cut list, by circuit and by cable', () => {
    const all = [...taken.runs.values()];
    const byCutList = all.reduce((sum, l) => sum + cutWithAllowance(doc, l), 0);
    const ofCircuit = (id: Id) =>
      all.filter((l) => l.circuit === id).reduce((sum, l) => sum + cutWithAllowance(doc, l), 0);
    const byCircuit = ofCircuit('c1') + ofCircuit('c2') + ofCircuit('c3');
    const byCable = taken.cables.reduce((sum, c) => sum + c.orderMm, 0);
    expect(byCutList).toBeCloseTo(13695 + 4444, 6);
    expect(byCircuit).toBeCloseTo(byCutList, 6);
    expect(byCable).toBeCloseTo(byCutList, 6);
  });

  it('changes by nothing when legs are split', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.001, max: 0.999, noNaN: true }), (t) => {
        const cut = takeOff(
          doc,
          lengthsOf(
            doc,
            paths.map((p) => split(p, t)),
          ),
          TYPED,
        );
        expect(cut.sundries).toEqual(taken.sundries);
        for (const [i, cable] of taken.cables.entries()) {
          expect(cut.cables[i]?.orderMm).toBeCloseTo(cable.orderMm, 6);
        }
      }),
      { seed: 7, numRuns: 100 },
    );
  });
});

describe('clip spacing, IET On-Site Guide Table D1', () => {
  it.each([
    [1, 250, 400],
    [9, 250, 400],
    [9.01, 300, 400],
    [15, 300, 400],
    [15.01, 350, 450],
    [20, 350, 450],
    [20.01, 400, 550],
    [40, 400, 550],
  ])('%d mm wide: %d mm level, %d mm plumb', (width, horizontal, vertical) => {
    expect(clipSpacing(width)).toMatchObject({ horizontal, vertical });
  });

  it('ends at 40 mm', () => {
    expect(clipSpacing(40.01)).toBeNull();
  });

  it('counts one each spacing, the last at the end, and the closer spacing on a slope', () => {
    const small = { upTo: 9, horizontal: 250, vertical: 400 };
    const on = (lie: 'level' | 'plumb' | 'sloping', length: number, clipped = true) =>
      clipsOn(
        {
          where: 'wall',
          lie,
          length,
          legs: [0],
          held: clipped ? 'clipped' : 'conduit',
          clipped,
          timberHoles: 0,
          metalHoles: 0,
          masonryHoles: 0,
          masonry: false,
          why: '',
        },
        small,
      );
    // 20 m level and 10 m plumb of small cable: 80 and 25 clips.
    expect([on('level', 20_000), on('plumb', 10_000)]).toEqual([80, 25]);
    expect([on('level', 250), on('level', 250.1), on('level', 0.1 + 0.2 + 249.7)]).toEqual([1, 2, 1]);
    expect([on('sloping', 1000), on('plumb', 1000), on('level', 1000, false)]).toEqual([4, 3, 0]);
  });
});

describe('sundries', () => {
  it('counts clips straight by straight, with the working', () => {
    // 2.5 mm² is 10.3 mm wide: 300 level, 400 plumb. Level: r1 1200 along joists = 4; r2 2500 on block = 9 (its 700
    // goes through metal studs). Plumb: r1 1000 = 3, 1950 = 5. r4 is in conduit; risers are not clipped.
    expect(sundry(taken, 'clips.te2-5')).toEqual({
      key: 'clips.te2-5',
      what: 'Clips for 2.5 mm² twin and earth (10.3 mm wide)',
      count: 4 + 9 + 3 + 5,
      working:
        '3.700 m level, one each 300 mm of each straight: 13; 2.950 m plumb, one each 400 mm: 8. ' +
        'None in conduit or through holes.',
      source: { text: 'IET On-Site Guide Table D1 (flat cable: the major axis counts)', rank: 'one-source' },
      runs: ['r1', 'r2'],
      points: [],
    });
    // 1.0 mm² is 7.8 mm wide: r3 1000 plumb at 400 = 3; 1640 square to the joists goes through holes.
    expect(sundry(taken, 'clips.te1')?.count).toBe(3);
  });

  it('has no clip figure for a cable wider than the table', () => {
    const cables = Object.values(doc.cables.byId).map((c) => ({ ...c, width: 41 }));
    const wide = { ...doc, cables: tableFrom(cables) };
    expect(takeOff(wide, lengthsOf(wide), TYPED).sundries.some((s) => s.key.startsWith('clips'))).toBe(false);
  });

  it('counts boxes by kind, and those not chosen', () => {
    expect(sundry(taken, 'box.metal-1g-35')).toMatchObject({
      count: 2,
      working: 'P1, P2',
      points: ['p1', 'p2'],
    });
    expect(sundry(taken, 'box.none')).toMatchObject({ count: 1, points: ['p3'] });
  });

  it('counts fronts, plates and fittings by kind and gangs', () => {
    const more = plan(
      [
        ...Object.values(doc.points.byId),
        point('p5', 'socket', { gangs: 2 }),
        point('p6', 'switch-2way', { gangs: 2 }),
        point('p7', 'switch-2way'),
        point('p8', 'fused-spur'),
      ],
      [],
    );
    const lines = accessoriesOf(more).map((s) => [s.what, s.count, s.working]);
    expect(lines).toEqual([
      ['Socket front', 3, 'P1, P2, P3'],
      ['Socket front, two-gang', 1, 'P5'],
      ['Two-way switch plate', 1, 'P7'],
      ['Two-way switch plate, two-gang', 1, 'P6'],
      ['Fused connection unit', 1, 'P8'],
      ['Ceiling light', 1, 'P4'],
      ['Consumer unit', 1, 'CU'],
    ]);
  });

  it('keeps workings short: beyond a dozen runs, or a score of points, the rest is summed up', () => {
    const all = Array.from({ length: 30 }, (_, i) => run(`r${i + 1}`, 'cu', 'p4', { cable: 'te1' }));
    const r3 = paths[2] as ResolvedRun;
    const many = plan(
      [...Object.values(doc.points.byId), ...Array.from({ length: 30 }, (_, i) => point(`q${i}`, 'socket'))],
      all,
    );
    const sums = takeOff(
      many,
      lengthsOf(
        many,
        all.map((r) => ({ ...r3, run: r.id })),
      ),
      TYPED,
    );
    const holes = sundry(sums, 'holes.timber');
    expect(holes?.count).toBe(120);
    expect(holes?.working).toMatch(/^120 in joists .*R1 4, .*R12 4, 18 more runs 72 together$/);
    expect(sundry(sums, 'accessory.socket.1')?.working).toMatch(/^P1, P2, P3, Q0, .* and 13 more$/);
    for (const each of sums.sundries) expect(each.working.length).toBeLessThan(300);
  });

  it('counts grommets by cable ends in metal boxes and by holes in metal studs', () => {
    // P1 takes r1, r2 and r4; P2 takes r2. The 700 mm along metal studs at 600 mm is 1 hole.
    expect(sundry(taken, 'grommets.boxes')).toMatchObject({
      count: 4,
      working: 'One each cable end in a metal box: P1 3, P2 1',
    });
    expect(sundry(taken, 'grommets.studs')).toMatchObject({ count: 1, runs: ['r2'] });
  });

  it('counts holes in timber: a plate and four joists', () => {
    // r1 drops through the plate of the timber wall; r3 crosses 1640 / 400 = 4.1, so 4 joists.
    expect(sundry(taken, 'holes.timber')).toMatchObject({ count: 5, runs: ['r1', 'r3'] });
    expect(sundry(taken, 'holes.timber')?.working).toBe(
      '1 in plates at the end of the studs, 4 in joists square to the run, by their centres. By run: R3 4, R1 1',
    );
  });

  it('counts two labels a run, and capping for what lies in plaster', () => {
    expect(sundry(taken, 'labels')).toMatchObject({ count: 8, runs: ['r1', 'r2', 'r3', 'r4'] });
    const records = Object.values(doc.runs.byId).map((r) =>
      r.id === 'r2' ? { ...r, fixing: 'in-plaster' as const } : r,
    );
    const plastered = { ...doc, runs: tableFrom(records) };
    expect(sundry(taken, 'capping')).toBeUndefined();
    expect(sundry(takeOff(plastered, lengthsOf(plastered), TYPED), 'capping')).toMatchObject({
      // Of R2 only the 2500 mm on the block wall: the 700 mm in metal studs cannot be buried.
      count: 3,
      working: '2.500 m of cable in plaster or in a chase',
      runs: ['r2'] satisfies Id[],
    });
  });
});

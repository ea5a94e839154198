import { describe, expect, it } from 'vitest';
import { cutList, drumShortfall } from '../../../src/engine/takeoff/cutList.ts';
import { planDrums } from '../../../src/engine/takeoff/drums.ts';
import type { Cable, DrumOffer } from '../../../src/engine/model/document.ts';
import { DEFAULT_CABLES } from '../../../src/engine/model/defaults.ts';

function cable(drums: readonly DrumOffer[], remnants: readonly number[] = []): Cable {
  const base = DEFAULT_CABLES[2];
  if (base === undefined) throw new Error('no default cables');
  return { ...base, drums, remnants };
}
const drum = (length: number, price: number | null = null): DrumOffer => ({ length, price });
const pieces = (...metres: number[]) => metres.map((m, i) => ({ run: `r${i + 1}`, length: m * 1000 }));

describe('a drum plan', () => {
  it('buys nothing for nothing', () => {
    expect(planDrums(cable([drum(50)]), [])).toEqual({
      cable: 'te2-5',
      drums: [],
      tooLong: [],
      cost: 0,
      bought: 0,
      objective: 'metres',
      value: 0,
      lowerBound: 0,
      proven: true,
    });
  });

  it('never joins a run: 30 + 30 m do not come off 50 + 25 m, though 75 m is enough', () => {
    const plan = planDrums(cable([drum(25), drum(50)]), pieces(30, 30));
    expect(plan.drums.map((d) => d.length)).toEqual([50, 50]);
    expect(plan).toMatchObject({ bought: 100, value: 100, lowerBound: 100, proven: true });
  });

  it('cuts what comes to exactly a drum from it, rounding noise of added lengths or not', () => {
    const plan = planDrums(cable([drum(25), drum(50)]), [
      { run: 'r1', length: 0.1 + 0.2 + 24_999.7 },
      { run: 'r2', length: 10_000.000000001 },
      { run: 'r3', length: 15_000 },
    ]);
    expect(plan).toMatchObject({ bought: 50, tooLong: [], proven: true });
  });

  it('goes by money only when every drum has a price', () => {
    const list = pieces(20, 20);
    // 50 m at 60 against two of 25 m at 25 each: dearer in metres of drum, cheaper in money.
    expect(planDrums(cable([drum(25, 25), drum(50, 60)]), list)).toMatchObject({
      objective: 'money',
      value: 50,
      cost: 50,
      proven: true,
    });
    const open = planDrums(cable([drum(25, 25), drum(50)]), list);
    expect(open).toMatchObject({ objective: 'metres', value: 50, proven: true, cost: null });
    expect(open.drums.length).toBe(1);
  });

  it('takes the longer drum where it costs no more, then fewest drums', () => {
    const plan = planDrums(cable([drum(25, 30), drum(50, 30), drum(100, 60)]), pieces(20, 20, 20, 20));
    expect(plan.drums.map((d) => d.length)).toEqual([100]);
    expect(plan).toMatchObject({ value: 60, proven: true });
  });

  it('uses remnants first, for nothing, and lists only those it cuts from', () => {
    const plan = planDrums(cable([drum(25, 20), drum(50, 35)], [12, 9, 2]), pieces(8, 11, 20));
    expect(plan.drums.map((d) => [d.length, d.owned, d.cuts.map((c) => c.run)])).toEqual([
      [9, true, ['r1']],
      [12, true, ['r2']],
      [25, false, ['r3']],
    ]);
    expect(plan).toMatchObject({ cost: 20, bought: 25, value: 20, proven: true });
  });

  it('leaves the longest single remnant: 30 m in one piece, not 20 and 10', () => {
    const plan = planDrums(cable([drum(50)]), pieces(30, 40, 10, 10, 10, 10, 10));
    // 120 m of 150 m bought. Two drums can be cut to nothing left, the third then keeps 30 m.
    expect(plan.bought).toBe(150);
    expect(Math.max(...plan.drums.map((d) => d.left))).toBe(30_000);
  });

  it('lists runs longer than any drum, plans the rest, and lets a long remnant take one', () => {
    const plan = planDrums(cable([drum(25), drum(50)]), pieces(50.001, 20, 60));
    expect(plan.tooLong).toEqual(['r1', 'r3']);
    expect(plan.drums.map((d) => d.cuts.map((c) => c.run))).toEqual([['r2']]);
    const owned = planDrums(cable([drum(25), drum(50)], [61]), pieces(50.001, 20, 60));
    expect(owned.tooLong).toEqual(['r1']);
    expect(owned.drums.map((d) => [d.length, d.cuts.map((c) => c.run)])).toEqual([
      [61, ['r3']],
      [25, ['r2']],
    ]);
    expect(planDrums(cable([]), pieces(3)).tooLong).toEqual(['r1']);
  });

  it('gives the same plan each time', () => {
    const list = pieces(...Array.from({ length: 60 }, (_, i) => 3 + ((i * 7919) % 97) / 10));
    const stock = cable([drum(25, 21), drum(50, 38), drum(100, 69)], [14, 31.5]);
    expect(planDrums(stock, list)).toEqual(planDrums(stock, list));
  });
});

describe('the cut list in pulling order', () => {
  it('says what is left on the drum after each cut', () => {
    const plan = planDrums(cable([drum(25)]), pieces(10, 15, 14, 6));
    const cuts = cutList(plan, ['r1', 'r2', 'r3', 'r4']);
    expect(cuts.map((c) => [c.run, c.length / 1000])).toEqual([
      ['r1', 10],
      ['r2', 15],
      ['r3', 14],
      ['r4', 6],
    ]);
    for (const [index, use] of plan.drums.entries()) {
      const mine = cuts.filter((c) => c.drum === index);
      let left = use.length * 1000;
      for (const cut of mine) expect(cut.left).toBe((left -= cut.length));
      expect(use.left).toBe(left);
    }
    expect(cuts.reduce((sum, c) => sum + c.length, 0)).toBe(45_000);
  });
});

describe('the person’s own order', () => {
  it('ends a drum at the first run that no longer fits it', () => {
    // 50: 20 + 25 leaves 5, so it ends at r3; 25: r3 18 leaves 7; r4 7 fits it exactly; r5 5 fits the first.
    const fall = drumShortfall(pieces(20, 25, 18, 7, 5), [50, 25]);
    expect(fall).toEqual({
      drums: [
        { length: 50, endsAt: 'r3', left: 0 },
        { length: 25, endsAt: null, left: 0 },
      ],
      short: [],
      notes: ['Drum 1 (50 m) ends at r3, with 5.0 m left.'],
    });
  });

  it('names the runs that go short in an order that packing would have served', () => {
    const list = pieces(10, 10, 15, 15);
    const plan = planDrums(cable([drum(25)]), list);
    expect(plan.drums.length).toBe(2);
    const fall = drumShortfall(
      list,
      plan.drums.map((d) => d.length),
      (id) => id.toUpperCase(),
    );
    expect(fall.short).toEqual(['r4']);
    expect(fall.notes).toEqual([
      'Drum 1 (25 m) ends at R3, with 5.0 m left.',
      'Drum 2 (25 m) ends at R4, with 10.0 m left.',
      'No drum has enough left for R4.',
    ]);
  });
});

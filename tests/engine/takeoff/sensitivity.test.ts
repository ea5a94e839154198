import { describe, expect, it } from 'vitest';
import { deriveAll } from '../../../src/engine/derive/deriveAll.ts';
import { tableFrom } from '../../../src/engine/model/defaults.ts';
import type { Circuit, PlanDocument } from '../../../src/engine/model/document.ts';
import { drumSensitivity, withCeilings, withOneMoreSocket } from '../../../src/engine/takeoff/sensitivity.ts';
import { plan, point, run } from './plan.ts';

const circuit: Circuit = {
  id: 'c1',
  label: 'C1',
  name: 'sockets',
  topology: 'radial',
  device: { type: 'B', rating: 20, rcd: 30 },
  board: 'cu',
  cable: 'te2-5',
  cable3: null,
  way: null,
  first: [],
  last: [],
  designCurrent: null,
};
const onBlock = (along: number, z: number) => ({ on: 'face', wall: 'w1', side: 'right', along, z }) as const;
const over = (x: number) => ({ on: 'ceiling', storey: 's1', x, y: 83 }) as const;

/** Board at 1 m and a socket at 3 m along the block wall, joined over the ceiling. The wall's surface is at y = 83. */
function twoPoints(
  corners: PlanDocument['runs']['byId'][string]['corners'] = [over(1000), over(3000)],
): PlanDocument {
  const base = plan(
    [
      point('cu', 'consumer-unit', { place: onBlock(1000, 1400) }),
      point('p1', 'socket', { place: onBlock(3000, 450), circuit: 'c1' }),
    ],
    [run('r1', 'cu', 'p1', { circuit: 'c1', corners })],
  );
  return { ...base, circuits: tableFrom([circuit]) };
}

describe('what the next change would do to the drums', () => {
  it('works out a higher ceiling and one more socket by hand', () => {
    // Now: 1000 + 100 up, 2000 along, 100 + 1950 down, tails 1000 + 300: 6450, and 10 % on it.
    const doc = twoPoints();
    expect(deriveAll(doc).takeOff.cables[0]?.orderMm).toBeCloseTo(6450 * 1.1, 6);
    const changes = drumSensitivity(doc, deriveAll);
    expect(changes).toEqual([
      {
        change: 'Ceilings 100 mm higher',
        cable: 'te2-5',
        orderMm: expect.closeTo(200 * 1.1, 6) as number, // 100 up and 100 down
        boughtM: 0,
        cost: null,
        before: '1 × 25 m',
        after: '1 × 25 m',
        sentence: 'Ceilings 100 mm higher: +0.2 m of 2.5 mm² twin and earth; still 1 × 25 m.',
      },
      {
        change: 'One more socket on C1 sockets',
        cable: 'te2-5',
        orderMm: expect.closeTo((2050 + 1000 + 2050 + 300 + 300) * 1.1, 6) as number,
        boughtM: 0,
        cost: null,
        before: '1 × 25 m',
        after: '1 × 25 m',
        sentence: 'One more socket on C1 sockets: +6.3 m of 2.5 mm² twin and earth; still 1 × 25 m.',
      },
    ]);
  });

  it('says when another drum is needed, and what it costs', () => {
    const doc = twoPoints();
    const cables = Object.values(doc.cables.byId).map((c) => ({
      ...c,
      drums: [{ length: 7.2, price: 9 }],
    }));
    const tight = { ...doc, cables: tableFrom(cables) };
    const [ceiling, socket] = drumSensitivity(tight, deriveAll);
    expect(ceiling?.sentence).toContain('1 × 7.2 m becomes none, and a run becomes longer than any drum');
    expect(socket).toMatchObject({ boughtM: 7.2, cost: 9, before: '1 × 7.2 m', after: '2 × 7.2 m' });
  });

  it('runs straight along the wall where the socket’s own run comes along it', () => {
    const along = twoPoints([onBlock(1000, 450)]);
    const more = withOneMoreSocket(along, 'c1');
    const added = more?.runs.byId[more.runs.order.at(-1) ?? ''];
    expect(added).toMatchObject({ from: 'p1', corners: [] });
    expect(drumSensitivity(along, deriveAll)).toMatchObject([
      { orderMm: expect.closeTo(1600 * 1.1, 6) as number },
    ]);
  });

  it('keeps to the wall, and has nothing to say without a socket, or while metres are refused', () => {
    const doc = twoPoints();
    const nearEnd = { ...doc, points: { ...doc.points, byId: { ...doc.points.byId } } };
    nearEnd.points.byId['p1'] = point('p1', 'socket', { place: onBlock(5800, 450), circuit: 'c1' });
    const more = withOneMoreSocket(nearEnd, 'c1');
    expect(more?.points.byId[more.points.order.at(-1) ?? '']?.place).toMatchObject({ along: 4800 });
    expect(withOneMoreSocket(doc, 'c9')).toBeNull();
    const refused = { state: 'refused', why: 'no known length' } as const;
    const derive = (d: PlanDocument) => {
      const sums = deriveAll(d);
      return { takeOff: { ...sums.takeOff, scale: refused }, drums: [] };
    };
    expect(drumSensitivity(doc, derive)).toEqual([]);
  });

  it('leaves the plan it was given alone', () => {
    const doc = twoPoints();
    const before = JSON.stringify(doc);
    withCeilings(doc, 100);
    withOneMoreSocket(doc, 'c1');
    expect(JSON.stringify(doc)).toBe(before);
  });
});

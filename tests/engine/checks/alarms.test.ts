import { describe, expect, it } from 'vitest';
import { deriveAll } from '../../../src/engine/derive/deriveAll.ts';
import { deriveChange } from '../../../src/engine/derive/deriveChange.ts';
import { tableFrom } from '../../../src/engine/model/defaults.ts';
import type { Nation, PlanDocument, Point, RoomTag } from '../../../src/engine/model/document.ts';
import { aPoint } from '../zones/faces.ts';
import { planOf } from '../fabric/plans.ts';
import { found } from './plans.ts';

const alarm = (id: string, kind: Point['kind'], x: number, y = 1500): Point =>
  aPoint(id, { kind, box: null, place: { on: 'ceiling', storey: 's1', x, y } });

/** Two rooms beside each other, walls of 88 mm: a passage of `length` by 3 m and a room of 4 by 3 m, with a door between. */
function house(
  use: readonly [RoomTag['use'], RoomTag['use']],
  points: readonly Point[],
  length = 4000,
  door = true,
): PlanDocument {
  const doc = planOf({
    nodes: {
      n1: [0, 0],
      n2: [length, 0],
      n3: [length + 4000, 0],
      n4: [length + 4000, 3000],
      n5: [length, 3000],
      n6: [0, 3000],
    },
    walls: {
      w1: ['n1', 'n2'],
      w2: ['n2', 'n3'],
      w3: ['n3', 'n4'],
      w4: ['n4', 'n5'],
      w5: ['n5', 'n6'],
      w6: ['n6', 'n1'],
      w7: ['n2', 'n5'],
    },
    openings: door
      ? [{ id: 'o1', wall: 'w7', kind: 'door', along: 1100, width: 800, sill: 0, head: 2100 }]
      : [],
    tags: [
      { id: 't1', storey: 's1', x: 500, y: 1500, name: 'Passage', use: use[0] },
      { id: 't2', storey: 's1', x: length + 2000, y: 1500, name: 'Room', use: use[1] },
    ],
  });
  return { ...doc, points: tableFrom(points) };
}
const inJob = (doc: PlanDocument, over: Partial<PlanDocument['job']>): PlanDocument => ({
  ...doc,
  job: { ...doc.job, ...over },
});
const names = (doc: PlanDocument, rule: string) => found(doc, rule).map((f) => f.message);

describe('reach', () => {
  it('of a heat alarm: the whole floor within 5.3 m', () => {
    // From (2000, 1500) of a room 9.912 m long inside, its far corners are at x 9956, y 44: sqrt(7956² + 1456²) = 8.09 m.
    const doc = house(['kitchen', 'other'], [alarm('p1', 'heat-alarm', 2000)], 10000);
    expect(names(doc, 'heat-alarm-far')[0]).toContain('8.09 m');
    // With one more at 8000 the middle, 3000 and 1456 away, is 3.33 m; the ends 1956 and 1456: 2.44 m.
    const two = house(
      ['kitchen', 'other'],
      [alarm('p1', 'heat-alarm', 2000), alarm('p2', 'heat-alarm', 8000)],
      10000,
    );
    expect(names(two, 'heat-alarm-far')).toEqual([]);
  });

  it('two heat alarms at the ends, every corner near one, the middle of the floor too far', () => {
    // 20 m long: at 1000 and 19000 the corners are 1.74 m away, the middle of the long walls sqrt(9000² + 1456²) = 9.12 m.
    const doc = house(
      ['kitchen', 'other'],
      [alarm('p1', 'heat-alarm', 1000), alarm('p2', 'heat-alarm', 19000)],
      20000,
    );
    expect(names(doc, 'heat-alarm-far')[0]).toContain('9.12 m');
  });

  it('of a smoke alarm: the whole way out within 7.5 m', () => {
    // From 2000, x 9356 and y 44 of a passage of 9400 mm: sqrt(7356² + 1456²) = 7.4987 m; of 9410 it is 7.5085.
    const way = (length: number) =>
      house(['circulation', 'other'], [alarm('p1', 'smoke-alarm', 2000)], length);
    expect(names(way(9400), 'smoke-alarm-far')).toEqual([]);
    expect(names(way(9410), 'smoke-alarm-far')[0]).toContain('7.51 m');
  });
});

describe('where there must be one', () => {
  it('a way out without a smoke alarm, a kitchen without a heat alarm', () => {
    const none = house(['circulation', 'kitchen'], [alarm('p1', 'ceiling-light', 2000)]);
    expect(names(none, 'escape-no-alarm')).toHaveLength(1);
    expect(names(none, 'kitchen-no-heat-alarm')).toHaveLength(1);
    const both = house(
      ['circulation', 'kitchen'],
      [alarm('p1', 'smoke-alarm', 2000), alarm('p2', 'heat-alarm', 6000)],
    );
    expect(names(both, 'escape-no-alarm')).toEqual([]);
    expect(names(both, 'kitchen-no-heat-alarm')).toEqual([]);
    // A heat alarm is no smoke alarm, nor the other way round.
    const swapped = house(
      ['circulation', 'kitchen'],
      [alarm('p1', 'heat-alarm', 2000), alarm('p2', 'smoke-alarm', 6000)],
    );
    expect(names(swapped, 'escape-no-alarm')).toHaveLength(1);
    expect(names(swapped, 'kitchen-no-heat-alarm')).toHaveLength(1);
  });

  it('says nothing while no point stands on the storey', () => {
    expect(names(house(['circulation', 'kitchen'], []), 'escape-no-alarm')).toEqual([]);
  });

  it('a habitable room beyond reach', () => {
    const smoke = alarm('p1', 'smoke-alarm', 2000);
    expect(names(house(['circulation', 'habitable'], [smoke]), 'room-out-of-reach')).toEqual([]);
    expect(
      names(house(['circulation', 'habitable'], [smoke], 4000, false), 'room-out-of-reach'),
    ).toHaveLength(1);
    expect(names(house(['workshop', 'habitable'], [smoke]), 'room-out-of-reach')).toHaveLength(1);
    expect(
      names(house(['workshop', 'habitable'], [alarm('p1', 'smoke-alarm', 6000)]), 'room-out-of-reach'),
    ).toEqual([]);
  });
});

describe('the nation', () => {
  const doc = house(
    ['circulation', 'kitchen'],
    [alarm('p1', 'smoke-alarm', 2000, 150), aPoint('p2', { wall: 'w2', z: 200, box: null })],
    12000,
  );

  it.each(['wales', 'scotland', 'northern-ireland', 'elsewhere'] as const)(
    '%s: England’s guidance is cited nowhere',
    (nation: Nation) => {
      const there = deriveAll(inJob(doc, { nation, newDwelling: true })).findings;
      expect(there.filter((f) => f.source.includes('Approved Document'))).toEqual([]);
      expect(there.filter((f) => f.rule === 'guidance-not-held').map((f) => f.message)[0]).toMatch(
        /Not checked: heights .* and which alarms/,
      );
      // The siting of the alarm is told all the same, by the British Standard.
      expect(there.filter((f) => f.rule === 'alarm-too-near').map((f) => f.source)).toEqual(['BS 5839-6']);
    },
  );

  it('England: cited, and nothing is said of guidance not held', () => {
    const here = deriveAll(inJob(doc, { nation: 'england', newDwelling: true })).findings;
    expect(here.filter((f) => f.source.includes('Approved Document')).length).toBeGreaterThan(0);
    expect(here.filter((f) => f.rule === 'guidance-not-held')).toEqual([]);
  });

  it('changing it is followed', () => {
    const before = deriveAll(doc);
    const after = inJob(doc, { nation: 'scotland' });
    const touched = { job: new Set(['job']) };
    expect(deriveChange(before, after, touched).next.findings).toEqual(deriveAll(after).findings);
  });
});

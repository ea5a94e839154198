import { describe, expect, test } from 'vitest';
import { deriveAll } from '../../src/engine/derive/deriveAll.ts';
import { takeOffGaps } from '../../src/engine/site/gaps.ts';
import { makeTwoStoreys } from './twoStoreys.ts';

const doc = makeTwoStoreys();

describe('the two storeys', () => {
  test.each(['bs7671-2018-a3', 'bs7671-2018-a4'] as const)(
    'under %s nothing is found but what the slope makes disputed',
    (edition) => {
      const derived = deriveAll({ ...doc, job: { ...doc.job, edition } });
      expect(derived.findings.map((f) => [f.rule, f.severity, f.run])).toEqual([
        ['zone-disputed', 'disputed', 'r7'],
      ]);
      expect(derived.findings[0]?.message).toContain('sloping top');
      expect(doc.job.notes).toContain('sloping top of the right wall');
      expect(takeOffGaps(derived.findings)).toEqual([]);
    },
  );

  test('have a room each', () => {
    const rooms = [...deriveAll(doc).fabrics].map(([storey, fabric]) => [
      storey,
      [...fabric.rooms.values()].map((room) => [room.tag?.name, room.area]),
    ]);
    expect(rooms).toEqual([
      ['s1', [['Workshop', 5000 * 4000]]],
      ['s2', [['Loft', 5000 * 4000]]],
    ]);
  });

  test('their cables add up by hand', () => {
    const { takeOff } = deriveAll(doc);
    const of = (run: string) => {
      const length = takeOff.runs.get(run);
      return [length?.runMm, length?.riseDropMm, length?.whole];
    };
    // Board at 1400, ceiling 2400, cable 110 above it; 2000 across and 1000 along; down to 1100.
    expect(of('r1')).toEqual([3000, 1000 + 110 + 110 + 1300, true]);
    // From 1100 up to the ceiling, through 220 of floor, up to 450.
    expect(of('r2')).toEqual([0, 1300 + 220 + 450, true]);
    expect(of('r3')).toEqual([1200, 0, true]);
    expect(of('r4')).toEqual([300 + 2500 + 700, 1000 + 110 + 110, true]);
    expect(of('r5')).toEqual([900 + 2000, 110 + 110 + 1200, true]);
    // Under the loft floor the cable lies 110 down: 100 and 2500 across, then up to 1200.
    expect(of('r6')).toEqual([100 + 2500, 110 + 110 + 1200, true]);
    expect(of('r7')).toEqual([350, 580 + 80, true]);
  });
});

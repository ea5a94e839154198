import { describe, expect, test } from 'vitest';
import { buildFabric } from '../../src/engine/fabric/build.ts';
import { resolveRun } from '../../src/engine/fabric/resolve.ts';
import type { Edition, PlanDocument } from '../../src/engine/model/document.ts';
import { rows } from '../../src/engine/model/tables.ts';
import { checkRun } from '../../src/engine/zones/checkRun.ts';
import { faceZones } from '../../src/engine/zones/faceZones.ts';
import { makeStudio } from './studio.ts';

const studio = makeStudio().doc;
const under = (edition: Edition): PlanDocument => ({ ...studio, job: { ...studio.job, edition } });

// Runs from light to light lie in the ceiling void alone, where there are no zones: never a pass.
const CEILING_ONLY = ['r16', 'r20', 'r22', 'r23', 'r24', 'r25', 'r29'];

describe.each(['bs7671-2018-a3', 'bs7671-2018-a4'] as const)('the studio under %s', (edition) => {
  const doc = under(edition);
  const fabric = buildFabric(doc, 's1');
  const fabrics = new Map([['s1', fabric]]);
  const zones = new Map([...fabric.faces.values()].map((f) => [f.id, faceZones(doc, fabric, f)] as const));

  test.each(rows(doc.runs).map((run) => [run.id, run] as const))('%s', (id, run) => {
    const check = checkRun({ doc, fabrics, zones }, run, resolveRun(doc, fabrics, run));
    expect(check.missing).toBeNull();
    expect(check.answer).toBe(CEILING_ONLY.includes(id) ? 'not-checked' : 'inside');
    for (const leg of check.legs) {
      expect(leg.leg.kind).not.toBe('loose');
      expect(leg.crossings).toEqual([]);
      expect(leg.offLevel).toBe(0);
    }
  });
});

test('the rooms of the studio: names and areas from their inside dimensions', () => {
  const rooms = [...buildFabric(studio, 's1').rooms.values()].map((r) => [r.tag?.name, r.area]);
  const areas = new Map(rooms as [string, number][]);
  // The screen stands 4700 - 3700 into the workshop and is 2544 - 2456 thick.
  expect(areas.get('Workshop')).toBeCloseTo(5200 * 4700 - (4700 - 3700) * (2544 - 2456), 3);
  expect(areas.get('Kiln bay')).toBeCloseTo((8600 - 5366) * (4700 - 2700), 3);
  expect(areas.get('Lobby')).toBeCloseTo((6850 - 5366) * 2605, 3);
  expect(areas.get('WC')).toBeCloseTo((8600 - 6938) * 2605, 3);
  expect(rooms).toHaveLength(4);
});

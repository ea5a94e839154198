import { describe, expect, test } from 'vitest';
import { decodeFile, encodeDocument } from '../../src/document/codec/file.ts';
import { canonicalJson } from '../../src/document/codec/write.ts';
import { buildFabric } from '../../src/engine/fabric/build.ts';
import { resolveRun } from '../../src/engine/fabric/resolve.ts';
import { generateLarge } from './generate.ts';
import { find, rows } from '../../src/engine/model/tables.ts';
import { checkRun } from '../../src/engine/zones/checkRun.ts';
import { faceZones } from '../../src/engine/zones/faceZones.ts';
import type { Zone } from '../../src/engine/zones/types.ts';

describe('generateLarge', () => {
  test('1,000 walls and 3,000 runs: at least 5,000 legs, all resolved, most of them legal', () => {
    const doc = generateLarge(7, 1000, 3000);
    expect([doc.walls.order.length, doc.runs.order.length]).toEqual([1000, 3000]);
    const fabric = buildFabric(doc, 's1');
    const fabrics = new Map([['s1', fabric]]);
    const resolved = rows(doc.runs).map((run) => resolveRun(doc, fabrics, run));
    expect(decodeFile(encodeDocument(doc)).ok).toBe(true);
    expect(resolved.filter((r) => r.missing !== null)).toEqual([]);
    expect(resolved.reduce((sum, r) => sum + r.legs.length, 0)).toBeGreaterThanOrEqual(5000);
    expect(resolved.flatMap((r) => r.legs).filter((l) => l.kind === 'loose')).toEqual([]);
  });

  test('a small one: exactly the strays leave the zones', () => {
    const doc = generateLarge(3, 60, 200);
    const fabric = buildFabric(doc, 's1');
    const fabrics = new Map([['s1', fabric]]);
    const zones = new Map<string, readonly Zone[]>();
    for (const face of fabric.faces.values()) zones.set(face.id, faceZones(doc, fabric, face));
    const outside = rows(doc.runs).filter(
      (run) => checkRun({ doc, fabrics, zones }, run, resolveRun(doc, fabrics, run)).answer === 'outside',
    );
    expect(outside.map((r) => r.id)).toEqual(['r40', 'r80', 'r120', 'r160', 'r200']);
  });

  test('the same seed gives the same plan, another seed another', () => {
    expect(canonicalJson(generateLarge(5, 40, 60))).toBe(canonicalJson(generateLarge(5, 40, 60)));
    expect(canonicalJson(generateLarge(5, 40, 60))).not.toBe(canonicalJson(generateLarge(6, 40, 60)));
  });

  test.each([
    [4, 1],
    [5, 3],
    [7, 10],
    [17, 40],
    [100, 7],
    [333, 900],
  ])(
    '%i walls and %i runs: the numbers asked for, and every id that is referred to exists',
    (walls, runs) => {
      const doc = generateLarge(walls + runs, walls, runs);
      expect([doc.walls.order.length, doc.runs.order.length]).toEqual([walls, runs]);
      for (const wall of rows(doc.walls)) {
        expect(find(doc, 'nodes', wall.from)).toBeDefined();
        expect(find(doc, 'nodes', wall.to)).toBeDefined();
        expect(find(doc, 'buildUps', wall.buildUp)).toBeDefined();
      }
      for (const point of rows(doc.points)) {
        if (point.circuit !== null) expect(find(doc, 'circuits', point.circuit)).toBeDefined();
        if (point.box !== null) expect(find(doc, 'boxes', point.box.box)).toBeDefined();
        if (point.place.on === 'face') expect(find(doc, 'walls', point.place.wall)).toBeDefined();
      }
      for (const run of rows(doc.runs)) {
        expect(find(doc, 'points', run.from)).toBeDefined();
        expect(find(doc, 'points', run.to)).toBeDefined();
        expect(find(doc, 'circuits', run.circuit)).toBeDefined();
      }
      for (const name of ['nodes', 'walls', 'points', 'circuits', 'runs'] as const) {
        const table = doc[name];
        expect(new Set(table.order).size).toBe(table.order.length);
        expect([...table.order].sort()).toEqual(Object.keys(table.byId).sort());
      }
    },
  );

  test('misuse throws', () => {
    expect(() => generateLarge(1, 3, 10)).toThrow('at least 4 walls');
    expect(() => generateLarge(1, 10, 0)).toThrow('at least 4 walls');
  });
});

import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { Finding } from '../../../src/engine/checks/types.ts';
import { deriveAll } from '../../../src/engine/derive/deriveAll.ts';
import { faceAt } from '../../../src/engine/fabric/lookup.ts';
import type { PlanDocument } from '../../../src/engine/model/document.ts';
import type { Zone } from '../../../src/engine/zones/types.ts';
import { randomPlan } from '../derive/randomPlan.ts';
import { freshSeed, seeded } from '../../random.ts';
import { mirrored, turned } from './moves.ts';

const sample = (name: string): PlanDocument =>
  JSON.parse(readFileSync(new URL(`../../../sample-plans/${name}`, import.meta.url), 'utf8')) as PlanDocument;

const SAMPLES: [string, PlanDocument][] = ['pottery-studio.json', 'pottery-studio-mistakes.json'].map(
  (name) => [name, sample(name)],
);

const near = (a: number | null | undefined, b: number | null | undefined) =>
  a == null || b == null ? a === b : Math.abs(a - b) < 1e-4;

/** What of two lists of findings differs, words aside: walls change their compass names when a plan is turned. */
function differences(a: readonly Finding[], b: readonly Finding[], mirror = false): string[] {
  const there = new Map(b.map((f) => [f.key, f]));
  const missing = a.filter((f) => !there.has(f.key)).map((f) => `only before: ${f.key}`);
  const here = new Set(a.map((f) => f.key));
  const extra = b.filter((f) => !here.has(f.key)).map((f) => `only after: ${f.key}`);
  const moved = a.flatMap((f) => {
    const g = there.get(f.key);
    if (g === undefined) return [];
    const same =
      f.severity === g.severity &&
      f.leg === g.leg &&
      near(f.outsideMm, g.outsideMm) &&
      (mirror || near(f.at?.on?.u, g.at?.on?.u)) &&
      near(f.at?.on?.z, g.at?.on?.z);
    return same ? [] : [`changed: ${f.key}`];
  });
  return [...missing, ...extra, ...moved];
}

describe.each(SAMPLES)('%s', (_name, doc) => {
  const before = deriveAll(doc).findings;

  it.each([
    ['shifted', 0, { x: 12345.5, y: -9876.25 }],
    ['turned by 90°', Math.PI / 2, { x: 0, y: 0 }],
    ['turned by 180° and shifted', Math.PI, { x: 700, y: -300 }],
    ['turned by 270°', (3 * Math.PI) / 2, { x: 0, y: 0 }],
    ['turned by 30°', Math.PI / 6, { x: 100, y: 200 }],
  ] as const)('%s: the same findings, at the same spots of the same walls', (_how, angle, by) => {
    expect(differences(before, deriveAll(turned(doc, angle, by)).findings)).toEqual([]);
  });

  it('in a mirror: the same findings', () => {
    expect(differences(before, deriveAll(mirrored(doc)).findings, true)).toEqual([]);
  });
});

it('the sample with mistakes has findings to compare', () => {
  expect(deriveAll(sample('pottery-studio-mistakes.json')).findings.length).toBeGreaterThan(20);
});

const SWAP: Partial<Record<Zone['source'], Zone['source']>> = {
  'angle-left': 'angle-right',
  'angle-right': 'angle-left',
};
const text = (z: Zone, source: string, u0: number, u1: number) =>
  [
    source,
    z.status,
    z.point,
    z.reverse,
    ...[u0, u1, z.z0, z.z1].map((x) => Math.round(x * 1000) / 1000),
  ].join(' ');

/** Every face has its mirror image, and on it the mirrored zones. */
function expectMirroredZones(doc: PlanDocument): number {
  const [here, there] = [deriveAll(doc), deriveAll(mirrored(doc))];
  let compared = 0;
  for (const fabric of here.fabrics.values()) {
    const other = there.fabrics.get(fabric.storey);
    for (const face of fabric.faces.values()) {
      const piece = face.pieces[0];
      if (piece === undefined || other === undefined) continue;
      const along = (piece.alongAtU0 + piece.alongAtU1) / 2;
      const image = faceAt(other, piece.wall, piece.side === 'left' ? 'right' : 'left', along)?.face;
      expect(image?.length).toBeCloseTo(face.length, 6);
      const zones = (here.zones.get(face.id) ?? []).map((z) =>
        text(z, SWAP[z.source] ?? z.source, face.length - z.u1, face.length - z.u0),
      );
      const mirror = (there.zones.get(image?.id ?? '') ?? []).map((z) => text(z, z.source, z.u0, z.u1));
      expect(mirror.sort()).toEqual(zones.sort());
      compared += zones.length;
    }
  }
  return compared;
}

describe('a mirrored wall has mirrored zones', () => {
  it.each(SAMPLES)('%s', (_name, doc) => {
    expect(expectMirroredZones(doc)).toBeGreaterThan(100);
  });

  it('on random plans', () => {
    const random = seeded(freshSeed('mirrored zones'));
    for (let i = 0; i < 15; i++) expect(expectMirroredZones(randomPlan(random))).toBeGreaterThan(20);
  });
});

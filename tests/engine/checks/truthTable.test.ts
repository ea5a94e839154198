import { describe, expect, it } from 'vitest';
import { deriveAll } from '../../../src/engine/derive/deriveAll.ts';
import { tableFrom } from '../../../src/engine/model/defaults.ts';
import type { BuildUp, PlanDocument } from '../../../src/engine/model/document.ts';
import { EDITIONS } from '../../../src/engine/zones/editions.ts';
import { planOf } from '../fabric/plans.ts';
import { aCircuit, aRun } from '../zones/faces.ts';

/** What decides whether a concealed cable may be where it is, seen from one surface. */
interface Placement {
  readonly metal: boolean;
  readonly shallow: boolean;
  readonly inZone: boolean;
  readonly rcd30: boolean;
  readonly p204: boolean;
}

// The logic as published, written as expressions of the five facts.
const PUBLISHED = {
  // BS 7671:2018+A2+A3, 522.6.202, .203, .204 (public pages agree)
  'bs7671-2018-a3': ({ metal, shallow, inZone, rcd30, p204 }: Placement) => {
    const depthTest = (inZone && rcd30) || p204;
    if (!metal) return !shallow || depthTest;
    return shallow ? (rcd30 || p204) && depthTest : rcd30 || p204;
  },
  // BS 7671:2018+A4:2026, Table 52.1 (one public page; verify against the standard)
  'bs7671-2018-a4': ({ metal, shallow, inZone, rcd30, p204 }: Placement) => {
    if (!metal) return !shallow || (inZone && rcd30) || p204;
    return shallow ? inZone && (rcd30 || p204) : rcd30 || p204;
  },
} as const;
type Edition = keyof typeof PUBLISHED;

// A wall of 200 mm, 4 m long and 2400 mm high, of one thickness of block or of metal studs. Twin and earth of 2.5 mm² is
// 10.3 by 6 mm (BS 6004 typical), so its nearest surface is at most 5.15 mm before its centre: centre 30 mm deep is
// shallow (less than 50), centre 100 mm deep is not, from either side.
const wallOf = (metal: boolean): BuildUp => ({
  id: 'plain',
  name: 'Plain',
  frame: metal ? 'metal' : 'masonry',
  layers: [{ material: metal ? 'metal-stud' : 'block', thickness: 200, insulated: false }],
  cableLayer: { left: 0, right: 0 },
});

/** A room of one such wall, and a cable level along it, 30 mm from the surface in question or in the middle. */
function planFor(at: Placement, edition: Edition, surface: 'near' | 'far'): PlanDocument {
  const wall = { buildUp: 'plain' };
  const room = planOf({
    nodes: { n1: [0, 0], n2: [4000, 0], n3: [4000, 3000], n4: [0, 3000] },
    walls: {
      w1: ['n1', 'n2', wall.buildUp],
      w2: ['n2', 'n3', wall.buildUp],
      w3: ['n3', 'n4', wall.buildUp],
      w4: ['n4', 'n1', wall.buildUp],
    },
    buildUps: [wallOf(at.metal)],
  });
  // 2325 is within 150 mm of the top of both faces (522.6.202); 1200 at 1.5 m from a corner is in no zone.
  const z = at.inZone ? 2325 : 1200;
  const corner = (along: number) => ({ on: 'face', wall: 'w1', side: 'right', along, z }) as const;
  const shallow = surface === 'near' ? 30 : 170;
  return {
    ...room,
    job: { ...room.job, edition },
    circuits: tableFrom([aCircuit('c1', { device: { type: 'B', rating: 32, rcd: at.rcd30 ? 30 : null } })]),
    runs: tableFrom([
      aRun('r1', {
        corners: [corner(1500), corner(2500)],
        depth: at.shallow ? shallow : 100,
        protection: at.p204 ? 'earthed-conduit' : 'none',
      }),
    ]),
  };
}

const RULES = ['zone-outside', 'zone-disputed', 'cover-needs-rcd', 'metal-frame', 'depth-does-not-fit'];
const told = (doc: PlanDocument): string[] =>
  deriveAll(doc)
    .findings.map((f) => f.rule)
    .filter((rule) => RULES.includes(rule))
    .sort();

const CASES = Array.from({ length: 32 }, (_, i): Placement => ({
  metal: (i & 1) !== 0,
  shallow: (i & 2) !== 0,
  inZone: (i & 4) !== 0,
  rcd30: (i & 8) !== 0,
  p204: (i & 16) !== 0,
}));
const EDITION_IDS = Object.keys(PUBLISHED) as Edition[];
const ROWS = EDITION_IDS.flatMap((edition) => CASES.map((at) => ({ edition, ...at })));

/** Which of the product's findings the rows ask for, one for each thing that is wrong. */
function wanted(at: Placement, edition: Edition): string[] {
  const bare = !at.rcd30 && !at.p204;
  const protectedHere = at.p204 && (edition === 'bs7671-2018-a3' || !at.metal);
  const outside = at.shallow && !at.inZone && !protectedHere;
  return [
    ...(!at.metal && at.shallow && at.inZone && bare ? ['cover-needs-rcd'] : []),
    ...(at.metal && bare ? ['metal-frame'] : []),
    ...(outside ? ['zone-outside'] : []),
  ];
}

describe.each(['near', 'far'] as const)('522.6.202-204 and Table 52.1 as plans, %s face', (surface) => {
  it.each(ROWS)('%o', ({ edition, ...at }) => {
    const found = told(planFor(at, edition, surface));
    expect(found.length === 0).toBe(PUBLISHED[edition](at));
    expect(found).toEqual(wanted(at, edition));
  });
});

it('has 64 rows, and the editions differ in one case: protected, shallow, outside, metal-framed', () => {
  expect(ROWS).toHaveLength(64);
  const differ = CASES.filter((at) => PUBLISHED['bs7671-2018-a3'](at) !== PUBLISHED['bs7671-2018-a4'](at));
  expect(differ.every((at) => at.metal && at.shallow && !at.inZone && at.p204)).toBe(true);
  expect(differ).toHaveLength(2);
});

it('an RCD alone does not make a shallow cable outside the zones acceptable, in either edition', () => {
  const at = { metal: false, shallow: true, inZone: false, rcd30: true, p204: false };
  for (const edition of EDITION_IDS) expect(told(planFor(at, edition, 'near'))).toEqual(['zone-outside']);
});

it('no more than 30 mA is additional protection (415.1.1)', () => {
  for (const rules of Object.values(EDITIONS)) expect(rules.rcdMilliamps).toBe(30);
});

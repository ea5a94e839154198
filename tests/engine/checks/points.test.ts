import { describe, expect, it } from 'vitest';
import { applyAcceptances, countByStage } from '../../../src/engine/checks/acceptances.ts';
import { ALL_RULES } from '../../../src/engine/checks/registry.ts';
import { deriveAll } from '../../../src/engine/derive/deriveAll.ts';
import { tableFrom } from '../../../src/engine/model/defaults.ts';
import type { PlanDocument, Point } from '../../../src/engine/model/document.ts';
import type { KnownLength, Tracing } from '../../../src/engine/model/tracing.ts';
import { EDITIONS } from '../../../src/engine/zones/editions.ts';
import { aPoint } from '../zones/faces.ts';
import { aRoom, found, plan } from './plans.ts';

const lone = (over: Parameters<typeof aPoint>[1]): PlanDocument => plan([aPoint('p1', over)], [], []);
const rule = (doc: PlanDocument, id: string) => found(doc, id).map((f) => f.point);

describe('where points stand', () => {
  it.each([
    [0, 0],
    [2400, 0],
    [2400.5, 1],
    [-1, 1],
  ])('height %d: %d findings', (z, count) => expect(rule(lone({ z }), 'point-off-wall')).toHaveLength(count));

  it('beyond the end of the wall', () => {
    expect(rule(lone({ along: 5000 }), 'point-off-wall')).toEqual(['p1']);
  });

  it('its plate may stand hard against a door, not in it', () => {
    const doc = (along: number) => ({
      ...lone({ along }),
      openings: tableFrom([
        { id: 'o1', wall: 'w1', kind: 'door' as const, along: 1500, width: 800, sill: 0, head: 2000 },
      ]),
    });
    expect(rule(doc(1457), 'point-in-opening')).toEqual([]);
    const [finding] = found(doc(1470), 'point-in-opening');
    expect(finding?.message).toContain('reaches 13 mm into a door');
  });

  it('plates may touch, not overlap', () => {
    const two = (apart: number) =>
      plan([aPoint('p1', { along: 1000 }), aPoint('p2', { along: 1000 + apart })], [], []);
    expect(rule(two(86), 'same-spot')).toEqual([]);
    const [finding, ...more] = found(two(80), 'same-spot');
    expect(more).toEqual([]);
    expect(finding?.message).toContain('P1 and the socket-outlet P2 overlap by 6 mm');
    expect(finding?.key).toBe('same-spot:p1:p2');
  });

  it('at different heights the same along is no overlap', () => {
    const doc = plan([aPoint('p1', { z: 450 }), aPoint('p2', { z: 1200 })], [], []);
    expect(rule(doc, 'same-spot')).toEqual([]);
  });
});

describe('what points need', () => {
  it('a box where the kind has one', () => {
    expect(rule(lone({ box: null }), 'box-missing')).toEqual(['p1']);
    expect(rule(lone({ box: null, kind: 'consumer-unit' }), 'box-missing')).toEqual([]);
  });

  it('a joint open to inspection', () => {
    expect(rule(lone({ kind: 'joint', visible: false }), 'joint-hidden')).toEqual(['p1']);
    expect(rule(lone({ kind: 'joint', visible: true }), 'joint-hidden')).toEqual([]);
  });

  it('a circuit, but for boards, data and blank plates', () => {
    const kinds: [Point['kind'], number][] = [
      ['socket', 1],
      ['joint', 1],
      ['consumer-unit', 0],
      ['data', 0],
      ['blank-plate', 0],
    ];
    for (const [kind, count] of kinds) {
      expect(rule(lone({ kind, circuit: null }), 'point-unassigned'), kind).toHaveLength(count);
    }
  });
});

// Approved Document M volume 1, paragraph 1.18: 450 to 1200 mm, and 1350 to 1450 mm for consumer units, new dwellings.
describe('heights in a new dwelling', () => {
  const dwelling = (over: Parameters<typeof aPoint>[1], use = 'habitable' as const, isNew = true) => {
    const doc = lone(over);
    return {
      ...doc,
      job: { ...doc.job, newDwelling: isNew },
      roomTags: tableFrom(Object.values(doc.roomTags.byId).map((t) => ({ ...t, use }))),
    };
  };
  it.each([
    [449, 1],
    [450, 0],
    [1200, 0],
    [1201, 1],
  ])('socket at %d', (z, count) => expect(rule(dwelling({ z }), 'height-new-dwelling')).toHaveLength(count));
  it.each([
    [1349, 1],
    [1350, 0],
    [1450, 0],
    [1451, 1],
  ])('consumer unit at %d', (z, count) =>
    expect(rule(dwelling({ z, kind: 'consumer-unit' }), 'height-new-dwelling')).toHaveLength(count),
  );
  it('is not asked of other buildings, of rooms that are not habitable, or of fan isolators', () => {
    expect(rule(dwelling({ z: 200 }, 'habitable', false), 'height-new-dwelling')).toEqual([]);
    expect(rule(dwelling({ z: 200 }, 'utility' as 'habitable'), 'height-new-dwelling')).toEqual([]);
    expect(rule(dwelling({ z: 2250, kind: 'isolator' }), 'height-new-dwelling')).toEqual([]);
  });
});

describe('scale', () => {
  const across = (length: number): KnownLength => ({ ax: 0, ay: 0, bx: 500, by: 0, length });
  const down = (length: number): KnownLength => ({ ax: 0, ay: 0, bx: 0, by: 400, length });
  const withKnown = (known: KnownLength[]): PlanDocument => {
    const tracing: Tracing = {
      id: 'u1',
      name: 'Scan',
      lies: { on: 'storey', storey: 's1', x: 0, y: 0, rotation: 0 },
      source: {
        kind: 'picture',
        mediaType: 'image/png',
        asset: '0'.repeat(64),
        width: 800,
        height: 600,
        straighten: null,
      },
      scale: { mmPerUnit: 10, known, stated: null },
      date: null,
      revision: '',
      opacity: 1,
      locked: false,
      visible: true,
    };
    return { ...aRoom(), tracings: tableFrom([tracing]) };
  };
  const rules = (known: KnownLength[]) => deriveAll(withKnown(known)).findings.map((f) => f.rule);

  it('none, one, two that agree, two that do not', () => {
    expect(rules([])).toEqual(['scale-none']);
    expect(rules([across(5000)])).toEqual(['scale-one']);
    expect(rules([across(5000), down(4000)])).toEqual([]);
    // 10 and 10.1 mm to the pixel: 1 % exactly is let pass, more is not.
    expect(rules([across(5000), down(4039)])).toEqual([]);
    expect(rules([across(5000), down(4041)])).toEqual(['scale-residual']);
  });
});

it('walls that enclose nothing are a note, once for the group', () => {
  const doc = aRoom();
  const open = {
    ...doc,
    walls: { order: ['w1', 'w2'], byId: { w1: doc.walls.byId.w1, w2: doc.walls.byId.w2 } },
  };
  const notes = found(open as PlanDocument, 'room-not-closed');
  expect(notes.map((n) => [n.severity, n.message])).toEqual([
    ['note', '2 walls on Ground floor enclose no room.'],
  ]);
  expect(found(doc, 'room-not-closed')).toEqual([]);
});

describe('acceptances', () => {
  it('part accepted findings from open ones by key, and say which are idle', () => {
    const doc = lone({ box: null, circuit: null });
    const findings = deriveAll(doc).findings;
    expect(findings.map((f) => f.key)).toEqual(['box-missing:p1', 'point-unassigned:p1']);
    const acceptance = (id: string, finding: string) => ({
      id,
      finding,
      reason: 'Fitted by others',
      by: 'A',
      date: '2026-05-01',
    });
    const accepted = {
      ...doc,
      acceptances: tableFrom([acceptance('a1', 'box-missing:p1'), acceptance('a2', 'box-missing:p9')]),
    };
    const sorted = applyAcceptances(accepted, findings);
    expect(sorted.open.map((f) => f.key)).toEqual(['point-unassigned:p1']);
    expect(sorted.accepted.map((a) => [a.finding.key, a.acceptance.id])).toEqual([['box-missing:p1', 'a1']]);
    expect(sorted.idle.map((a) => a.id)).toEqual(['a2']);
    expect(countByStage(sorted.open)).toEqual(new Map([['circuits', 1]]));
  });
});

it('every rule has an id of its own and a source under both editions', () => {
  expect(new Set(ALL_RULES.map((r) => r.id)).size).toBe(ALL_RULES.length);
  for (const rule of ALL_RULES) {
    for (const edition of Object.values(EDITIONS)) expect(rule.source(edition)).not.toBe('');
    if (['zone-outside', 'cover-needs-rcd', 'metal-frame'].includes(rule.id)) {
      expect(rule.source(EDITIONS['bs7671-2018-a3']).text).toContain('A2:2022+A3:2024');
      expect(rule.source(EDITIONS['bs7671-2018-a4']).text).toContain('A4:2026');
    }
  }
});

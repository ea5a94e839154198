import { describe, expect, test } from 'vitest';
import type { Finding } from '../../../src/engine/checks/types.ts';
import { newDocument } from '../../../src/engine/model/defaults.ts';
import { acceptFinding } from '../../../src/document/commands/acceptances.ts';
import { byStage, litBy, openFindings } from '../../../src/panels/findings/findings.ts';

const finding = (key: string, more: Partial<Finding> = {}): Finding => ({
  key,
  rule: 'zone',
  severity: 'error',
  stage: 'runs',
  run: null,
  leg: null,
  point: null,
  circuit: null,
  wall: null,
  at: null,
  outsideMm: null,
  message: key,
  fix: '',
  source: '',
  rank: 'memory',
  ...more,
});

describe('the list of findings', () => {
  test('stages come in the order of the strip, the gravest first, the engine’s order within', () => {
    const groups = byStage([
      finding('note', { severity: 'note' }),
      finding('b'),
      finding('plan', { stage: 'drawing', severity: 'warning' }),
      finding('a'),
    ]);
    expect(groups.map((group) => [group.stage, group.findings.map((each) => each.key)])).toEqual([
      ['drawing', ['plan']],
      ['runs', ['b', 'a', 'note']],
    ]);
  });

  test('what was accepted is no longer open', () => {
    const outcome = acceptFinding({ finding: 'a', reason: 'agreed', by: '', date: '2026-11-25' }).apply(
      newDocument('t'),
    );
    if (!outcome.ok) throw new Error(outcome.reason);
    const open = openFindings([finding('a'), finding('b')], outcome.doc);
    expect(open.map((each) => each.key)).toEqual(['b']);
  });

  test('a finding lights its own leg, its run, its point, or else its wall', () => {
    const at = { storey: 's1', plan: null, face: 'w1.left.0', on: null };
    expect([...litBy(finding('x', { run: 'r1', leg: 2, at }))]).toEqual(['run:r1:2']);
    expect([...litBy(finding('x', { run: 'r1', point: 'p1' }))]).toEqual(['run:r1', 'point:p1']);
    expect([...litBy(finding('x', { at }))]).toEqual(['face:w1.left.0']);
  });
});

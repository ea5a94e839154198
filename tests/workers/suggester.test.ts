import { describe, expect, it } from 'vitest';
import { makeStudio } from '../samples/studio.ts';
import { applyChange } from '../../src/document/change.ts';
import { canonicalJson } from '../../src/document/codec/write.ts';
import { editJob } from '../../src/document/commands/job.ts';
import { removeRuns } from '../../src/document/commands/runs.ts';
import { together } from '../../src/document/transact.ts';
import { generateLarge } from '../samples/generate.ts';
import type { PlanDocument } from '../../src/engine/model/document.ts';
import { followText } from '../../src/app/suggest/follow.ts';
import { partsBetween, unknownPlan } from '../../src/workers/planParts.ts';

const put = (doc: PlanDocument, parts: ReturnType<typeof partsBetween>): PlanDocument =>
  parts.reduce((now, part) => applyChange(now, structuredClone(part), 'after'), doc);

describe('a plan sent in pieces', () => {
  const studio = makeStudio().doc;

  it('arrives whole, in pieces of a few records', () => {
    for (const doc of [studio, generateLarge(3, 60, 400)]) {
      const parts = partsBetween(unknownPlan(), doc);
      expect(canonicalJson(put(unknownPlan(), parts))).toBe(canonicalJson(doc));
      for (const part of parts)
        for (const table of part.tables) expect(table.records.length).toBeLessThanOrEqual(100);
    }
  });

  it('is brought up to date with what changed, and no more', () => {
    const ids = studio.runs.order.slice(2, 5);
    const done = together('Change', [removeRuns(ids), editJob({ title: 'Another' })]).apply(studio);
    if (!done.ok) throw new Error(done.reason);
    const parts = partsBetween(studio, done.doc);
    expect(canonicalJson(put(studio, parts))).toBe(canonicalJson(done.doc));
    expect(parts.flatMap((p) => p.tables).map((t) => [t.table, t.records.length])).toEqual([['runs', 3]]);
    expect(partsBetween(done.doc, done.doc)).toEqual([]);
  });
});

describe('what is said of runs that followed', () => {
  const say = (patch: Partial<Parameters<typeof followText>[0]>): string | null =>
    followText({ runs: [], affected: [], change: 0, blocked: [], ...patch }, (id) => id.toUpperCase(), true);

  it('names them and the metres', () => {
    const runs = ['r3', 'r4'].map((run) => ({ run, corners: [] }));
    expect(say({ runs, affected: ['r3', 'r4'], change: -1240 })).toBe('R3 and R4 re-routed: 1.24 m less.');
    expect(say({ affected: ['r3'], change: 300 })).toBe('R3 followed: 0.30 m more.');
    expect(say({ affected: ['r1', 'r2', 'r3', 'r4', 'r5'], change: 0, runs })).toBe(
      'R1, R2, R3 and 2 more re-routed: no longer and no shorter.',
    );
  });

  it('says what has no way any more, and nothing of nothing', () => {
    expect(say({ blocked: ['R7: a door is in the way.'] })).toBe(
      'No legal way any more for R7: a door is in the way.',
    );
    expect(say({})).toBeNull();
  });
});

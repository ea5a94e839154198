import { readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { decodeFile } from '../../../src/document/codec/file.ts';
import { deriveAll } from '../../../src/engine/derive/deriveAll.ts';
import { runConditions } from '../../../src/engine/electrical/conditions.ts';
import { electricalInput } from '../../../src/engine/circuitReport/report.ts';
import type { PlanDocument, Run } from '../../../src/engine/model/document.ts';
import { rows } from '../../../src/engine/model/tables.ts';

const FILE = path.join(import.meta.dirname, '../../../sample-plans/pottery-studio.json');
const opened = decodeFile(readFileSync(FILE, 'utf8'));
if (!opened.ok) throw new Error(opened.problem.message);
const studio = opened.doc;

/** Frames of the walls a run lies along. */
function framesOf(doc: PlanDocument, run: Run): Map<number, string> {
  const legs = deriveAll(doc).runs.get(run.id)?.legs ?? [];
  return new Map(
    legs.flatMap(({ leg }, i) => {
      const wall = leg.kind === 'face' && leg.wall !== null ? doc.walls.byId[leg.wall] : undefined;
      return wall === undefined ? [] : [[i, doc.buildUps.byId[wall.buildUp]?.frame ?? '']];
    }),
  );
}

describe('a run said to lie in plaster', () => {
  it('is rated as buried (method C, Table 4D5) along masonry only, not in a timber wall', () => {
    const runs = Object.fromEntries(
      rows(studio.runs).map((r) => [r.id, { ...r, fixing: 'in-plaster' as const }]),
    );
    const doc: PlanDocument = { ...studio, runs: { ...studio.runs, byId: runs } };
    const input = electricalInput(doc, deriveAll(doc));
    const seen = { masonry: 0, other: 0 };
    for (const run of rows(doc.runs)) {
      const frames = framesOf(doc, run);
      for (const stretch of runConditions(input, run).stretches) {
        const frame = frames.get(stretch.leg);
        if (frame === undefined) continue;
        const where = `${run.label} leg ${stretch.leg}`;
        if (frame === 'masonry') {
          expect(stretch.method, where).toBe('C');
          seen.masonry += 1;
        } else {
          expect(stretch.method, where).not.toBe('C');
          seen.other += 1;
        }
      }
    }
    expect(seen.masonry).toBeGreaterThan(3);
    expect(seen.other).toBeGreaterThan(10);
  });
});

describe('one story for each stretch', () => {
  it('what the take-off drills for is rated as in a void (method B); what it clips is method C only where that was said', () => {
    const seen = { drilled: 0, clipped: 0, unsaid: 0 };
    for (const fixing of ['clipped', 'in-void'] as const) {
      const runs = Object.fromEntries(rows(studio.runs).map((r) => [r.id, { ...r, fixing }]));
      const doc: PlanDocument = { ...studio, runs: { ...studio.runs, byId: runs } };
      const derived = deriveAll(doc);
      const input = electricalInput(doc, derived);
      for (const run of rows(doc.runs)) {
        const straights = derived.takeOff.runs.get(run.id)?.straights ?? [];
        for (const stretch of runConditions(input, run).stretches) {
          const straight = straights.find((s) => s.legs.includes(stretch.leg));
          // Insulated walls have methods of their own; what plaster or block holds is buried whatever was said.
          if (straight === undefined || !/void|clipped|joists|studs/.test(stretch.why)) continue;
          if (!['wall', 'void'].includes(straight.where) || /insulated/.test(stretch.why)) continue;
          const holes = straight.timberHoles + straight.metalHoles;
          const where = `${run.label} leg ${stretch.leg} ${stretch.why}`;
          if (holes > 0) {
            expect([straight.clipped, stretch.method], where).toEqual([false, 'B']);
            seen.drilled += 1;
          } else {
            expect([straight.clipped, stretch.method], where).toEqual([
              true,
              fixing === 'clipped' ? 'C' : 'B',
            ]);
            seen[fixing === 'clipped' ? 'clipped' : 'unsaid'] += 1;
          }
        }
      }
    }
    for (const count of Object.values(seen)) expect(count).toBeGreaterThan(3);
  });
});

import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { encodeDocument } from '../../src/document/codec/file.ts';
import { deriveAll } from '../../src/engine/derive/deriveAll.ts';
import { tableFrom } from '../../src/engine/model/defaults.ts';
import type { PlanDocument } from '../../src/engine/model/document.ts';
import { columns, reportOf, reportText, type Report } from '../../src/report/format.ts';
import { answerFor, readOptions } from '../../src/report/run.ts';
import { plan, point, run, tracing } from '../engine/takeoff/plan.ts';

const ROOT = new URL('../..', import.meta.url).pathname;
const STUDIO = join(ROOT, 'sample-plans/pottery-studio.json');
const folder = mkdtempSync(join(tmpdir(), 'report-'));
afterAll(() => rmSync(folder, { recursive: true }));

const onBlock = (along: number, z: number) => ({ on: 'face', wall: 'w1', side: 'right', along, z }) as const;
const small = plan(
  [
    point('cu', 'consumer-unit', { place: onBlock(1000, 1400), plate: { width: 360, height: 240 } }),
    point('p1', 'socket', { place: onBlock(3000.04, 450) }),
  ],
  [run('r1', 'cu', 'p1', { corners: [onBlock(1000, 450)] })],
);
const options = { file: 'plan.json', json: true, suggest: false };
const bytes = (doc: PlanDocument) => new TextEncoder().encode(encodeDocument(doc));

function command(...args: string[]) {
  // As the report script runs it, without npm in between.
  const done = spawnSync(process.execPath, ['--import', 'tsx', 'src/report/main.ts', ...args], {
    cwd: ROOT,
    encoding: 'utf8',
  });
  return { code: done.status, out: done.stdout, err: done.stderr };
}

describe('the report as JSON', () => {
  it('has these keys and no others, with metres to 1 mm and millimetres to 0.1', () => {
    const report = reportOf(small, deriveAll(small));
    expect(Object.keys(report)).toEqual(['cables', 'runs', 'findings', 'circuits', 'cover']);
    // 950 down, 2000.04 along, tails 1000 + 300: 4250.04, and 10 % on it.
    expect(report.cables).toEqual([
      {
        cable: 'te2-5',
        runs: 1,
        measured_m: 2.95,
        tails_m: 1.3,
        allowance_m: 0.425,
        order_m: 4.675,
        drums: [{ length_m: 25, count: 1 }],
      },
    ]);
    expect(report.runs).toEqual([
      {
        id: 'r1',
        label: 'R1',
        circuit: null,
        cable: 'te2-5',
        run_mm: 2000,
        rise_drop_mm: 950,
        through_mm: 0,
        tails_mm: 1300,
        cut_mm: 4250,
        answer: 'inside',
      },
    ]);
    for (const finding of report.findings) {
      expect(Object.keys(finding)).toEqual([
        'rule',
        'severity',
        'run',
        'point',
        'face',
        'at',
        'outside_mm',
        'message',
        'source',
        'rank',
      ]);
      expect(['two-sources', 'one-source', 'memory']).toContain(finding.rank);
    }
  });

  it('places a finding on its face, with how far outside', () => {
    // From the board (z 1400) down its own strip to 900, then level: 500 below and 450 above any strip.
    const stray = {
      ...small,
      runs: tableFrom([run('r1', 'cu', 'p1', { corners: [onBlock(1000, 900), onBlock(3000.04, 900)] })]),
    };
    const found = reportOf(stray, deriveAll(stray)).findings.find(
      (f) => f.outside_mm !== null && f.outside_mm > 0,
    );
    expect(found).toMatchObject({
      severity: 'error',
      run: 'r1',
      face: 'w1.right.0',
      at: { storey: 's1', z: 900 },
    });
    expect(found?.source).toMatch(/522\.6/);
  });

  it('gives no length where metres are refused, and still lists the runs', () => {
    const traced = { ...small, tracings: tableFrom([tracing([], 5)]) };
    const report = reportOf(traced, deriveAll(traced));
    expect(report.cables).toEqual([]);
    expect(report.runs).toMatchObject([
      { id: 'r1', run_mm: null, rise_drop_mm: null, tails_mm: null, cut_mm: null },
    ]);
    expect(reportText(traced, deriveAll(traced))).toContain(
      'Metres are refused. Ground floor: No known length',
    );
  });

  it('sums the studio’s cut list, circuits and cables to the same metres', () => {
    const decoded = JSON.parse(answerFor({ ...options, file: STUDIO }, readFileSync(STUDIO)).out) as Report;
    const measured = decoded.cables.reduce((sum, c) => sum + c.measured_m + c.tails_m, 0);
    const cut = decoded.runs.reduce((sum, r) => sum + (r.cut_mm ?? NaN), 0);
    const byCircuit = [...new Set(decoded.runs.map((r) => r.circuit))]
      .map((c) => decoded.runs.filter((r) => r.circuit === c).reduce((sum, r) => sum + (r.cut_mm ?? NaN), 0))
      .reduce((sum, mm) => sum + mm, 0);
    expect(cut / 1000).toBeCloseTo(measured, 3);
    expect(byCircuit).toBeCloseTo(cut, 6);
  });
});

describe('the report for people', () => {
  it('lines up columns and keeps control characters of names off the terminal', () => {
    expect(
      columns(
        [
          ['a', 'bb'],
          ['ccc', 'd'],
        ],
        [1],
      ),
    ).toEqual(['a    bb', 'ccc   d']);
    const named = { ...small, job: { ...small.job, title: 'Bay\u001b[2J\nwest' } };
    const text = reportText(named, deriveAll(named));
    expect(text.startsWith('Bay [2J west\n')).toBe(true);
    expect(text).toContain('1 × 25 m (fewest metres possible)');
    expect(text).toContain('A plan is not a design or a certificate');
  });
});

describe('suggested routes', () => {
  it('routes what has no run yet, and leaves the rest of the report as it is', () => {
    const studio = readFileSync(STUDIO);
    const bare = JSON.parse(studio.toString()) as PlanDocument;
    const none: PlanDocument = { ...bare, runs: tableFrom([]) };
    const answer = JSON.parse(answerFor({ ...options, suggest: true }, bytes(none)).out) as Report & {
      readonly suggested: {
        readonly circuits: readonly { readonly circuit: string; readonly runs: number }[];
      };
    };
    expect(Object.keys(answer)).toEqual(['cables', 'runs', 'findings', 'circuits', 'cover', 'suggested']);
    expect(answer.suggested.circuits.length).toBeGreaterThan(2);
    expect(answer.runs.length).toBe(answer.suggested.circuits.reduce((sum, c) => sum + c.runs, 0));
    expect(answer.runs.length).toBeGreaterThan(10);
  });
});

describe('the command line', () => {
  it('reads the studio: 0, JSON on stdout, nothing on stderr', () => {
    const { code, out, err } = command('sample-plans/pottery-studio.json', '--json');
    expect([code, err]).toEqual([0, '']);
    expect(out).toBe(answerFor(options, readFileSync(STUDIO)).out);
  });

  it('prints the tables without --json', () => {
    const { code, out } = command('sample-plans/pottery-studio.json');
    expect(code).toBe(0);
    expect(out).toMatch(/^Cable +Runs +Measured m +Tails m +Allowance m +To order m$/m);
  });

  it.each([
    ['empty', ''],
    ['not JSON', '{"format": "zonewright-plan",\n "version": }'],
    ['another kind', '{"format":"other"}'],
    ['newer', '{"format":"zonewright-plan","version":99}'],
    ['wrong type', encodeDocument(small).replace('"title": "Take-off"', '"title": 7')],
  ])('answers a file that is %s with 2 and one located line', (name, text) => {
    const file = join(folder, `${name}.json`);
    writeFileSync(file, text);
    const { code, out, err } = command(file, '--json');
    expect([code, out]).toEqual([2, '']);
    expect(err.split('\n').length).toBe(2);
    expect(err.startsWith(`${file}: `)).toBe(true);
  });

  it('names the field of a wrong value', () => {
    const wrong = encodeDocument(small).replace('"title": "Take-off"', '"title": 7');
    expect(answerFor(options, new TextEncoder().encode(wrong)).err).toMatch(/^plan\.json: job\.title: /);
  });

  it('answers a missing file, no file and an unknown option with 2 and one line', () => {
    expect(command(join(folder, 'none.json'))).toMatchObject({
      code: 2,
      err: expect.stringMatching(/ENOENT\)\n$/) as string,
    });
    expect(readOptions([])).toHaveProperty('error');
    expect(readOptions(['a.json', 'b.json'])).toHaveProperty('error');
    expect(readOptions(['a.json', '--xml'])).toEqual({ error: expect.stringContaining('--xml') as string });
    expect(readOptions(['--json', 'a.json', '--suggest'])).toEqual({
      file: 'a.json',
      json: true,
      suggest: true,
    });
  });
});

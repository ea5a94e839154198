import { readFileSync, readdirSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { decodeFile, encodeDocument } from '../../src/document/codec/file.ts';
import { VERSION } from '../../src/document/codec/planFile.ts';
import type { Report } from '../../src/report/format.ts';
import { answerFor } from '../../src/report/run.ts';

const OLD = path.join(import.meta.dirname, 'old');

/** Files as earlier versions of the program wrote them, kept for ever: each opens, whole, in this one. */
describe('files of older versions', () => {
  for (const folder of readdirSync(OLD))
    for (const name of readdirSync(path.join(OLD, folder)))
      it(`${folder}/${name} opens`, () => {
        const read = decodeFile(readFileSync(path.join(OLD, folder, name)));
        expect(read.ok ? '' : JSON.stringify(read)).toBe('');
        if (read.ok) expect(read.doc.version).toBe(VERSION);
      });
});

/** What the program of a version printed of its files, kept for ever beside them: only the parts told by name here. */
interface OldReport {
  readonly cables: Report['cables'];
  readonly runs: Report['runs'];
  readonly findings: readonly FindingKey[];
}
type FindingKey = Pick<
  Report['findings'][number],
  'rule' | 'severity' | 'run' | 'point' | 'face' | 'at' | 'outside_mm'
>;

const RENAMED: Readonly<Record<string, string>> = { 'run-through-keep-out': 'run-through-no-cable' };

/** Rules that are new since version 1, or find more than they did: why. */
const FINDS_MORE: Readonly<Record<string, string>> = {
  'smoke-alarm-far': 'new',
  'grouped-at-board': 'new',
  'rating-too-low': 'each stretch of a cable by its own way of laying, not the whole by one',
  'voltage-drop': 'a ring loaded at its far point too',
  'zone-disputed': 'what hangs on a condition that version 1 never asked is disputed now',
  'zone-outside': 'a point is not told from outdoors, and the whole width of the cable counts',
};

/** From the answer that allows most to the one that allows least: a newer program may only be stricter. */
const STRICTER = ['inside', 'not-checked', 'disputed', 'outside'];

const report = (bytes: Uint8Array): Report & { readonly text: string } => {
  const { code, out, err } = answerFor({ file: 'plan', json: true, suggest: false }, bytes);
  expect({ code, err }).toEqual({ code: 0, err: '' });
  return { ...(JSON.parse(out) as Report), text: out };
};
const keyOf = ({ rule, severity, run, point, face, at, outside_mm }: FindingKey): string =>
  JSON.stringify([RENAMED[rule] ?? rule, severity, run, point, face, at, outside_mm]);

describe('reports of files of version 1', () => {
  const files = readdirSync(path.join(OLD, 'v1'));
  const now = (name: string) => report(readFileSync(path.join(OLD, 'v1', name)));
  const then = (name: string): OldReport =>
    JSON.parse(readFileSync(path.join(import.meta.dirname, 'oldReports', 'v1', name), 'utf8')) as OldReport;

  it.each(files)('%s, saved anew, is answered with the same bytes', (name) => {
    const read = decodeFile(readFileSync(path.join(OLD, 'v1', name)));
    if (!read.ok) throw new Error(read.problem.message);
    const saved = encodeDocument(read.doc);
    expect(saved).toContain(`"version": ${VERSION},`);
    expect(report(new TextEncoder().encode(saved)).text === now(name).text).toBe(true);
  });

  it.each(files)('%s comes to the metres, drums and cut lengths it came to then', (name) => {
    const { cables, runs } = then(name);
    expect(now(name).cables).toEqual(cables);
    const measured = (list: Report['runs']) => list.map(({ answer: _answer, ...rest }) => rest);
    expect(measured(now(name).runs)).toEqual(measured(runs));
    now(name).runs.forEach(({ answer }, i) => {
      const before = runs[i]?.answer as string;
      expect(STRICTER.indexOf(answer)).toBeGreaterThanOrEqual(STRICTER.indexOf(before));
    });
  });

  it.each(files)('%s still has each finding it had, and more only of rules that find more', (name) => {
    const had = then(name).findings.map(keyOf);
    const has = now(name).findings;
    // Where a stretch is disputed may move with what is asked now; its run still has one of its kind, or a stricter one.
    const held = (old: FindingKey): boolean =>
      has.some((f) => keyOf(f) === keyOf(old)) ||
      (old.rule.startsWith('zone-') && has.some((f) => f.run === old.run && /^zone-/.test(f.rule)));
    expect(then(name).findings.filter((old) => !held(old))).toEqual([]);
    const more = has.filter((f) => !had.includes(keyOf(f))).map((f) => f.rule);
    expect(more.filter((rule) => !Object.hasOwn(FINDS_MORE, rule))).toEqual([]);
  });

  it('are of plans that have something to lose', () => {
    expect(files.flatMap((name) => then(name).findings).length).toBeGreaterThan(50);
    expect(files.flatMap((name) => then(name).runs).length).toBeGreaterThan(50);
  });
});

describe('what version 1 let be longer', () => {
  it('is cut short and said, with its place; the same in a file of this version is refused', () => {
    const raw = JSON.parse(readFileSync(path.join(OLD, 'v1', 'pottery-studio.json'), 'utf8')) as {
      job: { notes: string };
      roomTags: { order: string[]; byId: Record<string, { name: string }> };
      version: number;
    };
    const [tag] = raw.roomTags.order as [string];
    (raw.roomTags.byId[tag] as { name: string }).name = 'Kiln '.repeat(4000);
    raw.job.notes = 'n'.repeat(90_000);
    const read = decodeFile(JSON.stringify(raw));
    if (!read.ok) throw new Error(read.problem.message);
    expect(read.said).toMatch(/cut short: job\.notes, roomTags\.\w+\.name\.$/);
    expect(read.doc.roomTags.byId[tag]?.name).toHaveLength(200);
    expect(read.doc.roomTags.byId[tag]?.name).toMatch(/^Kiln Kiln .*…$/);
    expect(read.doc.job.notes).toHaveLength(20_000);
    const now = {
      ...read.doc,
      roomTags: { order: [tag], byId: { [tag]: { ...read.doc.roomTags.byId[tag], name: 'K'.repeat(201) } } },
    };
    const refused = decodeFile(JSON.stringify(now));
    expect(refused).toMatchObject({ ok: false, problem: { path: `roomTags.${tag}.name` } });
  });
});

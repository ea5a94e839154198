import { readFileSync, readdirSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { decodeFile } from '../../src/document/codec/file.ts';
import { VERSION } from '../../src/document/codec/planFile.ts';

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

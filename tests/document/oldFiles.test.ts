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

import { writeFileSync } from 'node:fs';
import { encodeDocument } from '../../src/document/codec/file.ts';
import { sampleFiles } from './sampleFiles.ts';

// Writes the sample plans anew: `npx tsx tests/samples/makeStudio.ts`. samples.test.ts holds the stored files to this.
const folder = new URL('../../sample-plans/', import.meta.url);
for (const [name, doc] of sampleFiles()) writeFileSync(new URL(name, folder), encodeDocument(doc));

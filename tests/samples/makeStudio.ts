import { writeFileSync } from 'node:fs';
import { canonicalJson } from '../../src/document/codec/write.ts';
import { makeStudio } from './studio.ts';

// Writes the sample plans anew: `npx tsx tests/samples/makeStudio.ts`. samples.test.ts holds the stored files to this.
const folder = new URL('../../sample-plans/', import.meta.url);
writeFileSync(new URL('pottery-studio.json', folder), canonicalJson(makeStudio().doc));

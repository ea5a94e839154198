import { catalogueTables } from './catalogueTables.ts';
import { cutLongTexts } from './cutLongTexts.ts';
import { circuitFacts } from './circuitFacts.ts';
import { joistChart } from './joistChart.ts';
import { noCable } from './noCable.ts';
import type { Migration, Plain } from './plain.ts';
import { saidOfPlates } from './saidOfPlates.ts';
import { tracings } from './tracings.ts';

/** What version 2 changed, one small pure step per change, in the order they are applied. */
const CHANGES: readonly ((file: Plain) => Plain)[] = [
  catalogueTables,
  tracings,
  noCable,
  saidOfPlates,
  cutLongTexts,
  circuitFacts,
  joistChart,
];

/** Version 1 to version 2: plain JSON in, plain JSON out, the given value untouched. */
export const toVersion2: Migration = (file) => ({
  ...CHANGES.reduce((now, change) => change(now), file),
  version: 2,
});

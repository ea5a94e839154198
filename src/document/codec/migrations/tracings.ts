import type { Plain } from './plain.ts';
import { eachRecord, renamed } from './plain.ts';

const LIES = ['storey', 'x', 'y', 'rotation'];
const SOURCE = ['asset', 'mediaType', 'width', 'height'];

/**
 * `underlays` become `tracings`, and a tracing is how it lies, what it shows and how true to scale it is. A field that is
 * missing stays missing, for the reader to tell.
 */
export function tracings(file: Plain): Plain {
  return eachRecord(renamed(file, 'underlays', 'tracings'), 'tracings', (record) => {
    if (Object.hasOwn(record, 'lies')) return record;
    const { mmPerPixel, known, ...others } = record;
    const gone = new Set([...LIES, ...SOURCE]);
    const part = (keys: readonly string[]): Plain =>
      Object.fromEntries(keys.filter((key) => Object.hasOwn(record, key)).map((key) => [key, record[key]]));
    return {
      ...Object.fromEntries(Object.entries(others).filter(([key]) => !gone.has(key))),
      lies: { on: 'storey', ...part(LIES) },
      source: { kind: 'picture', ...part(SOURCE), straighten: null },
      scale: {
        ...(known === undefined ? {} : { known }),
        ...(mmPerPixel === undefined ? {} : { mmPerUnit: mmPerPixel }),
        stated: null,
      },
      date: null,
      revision: '',
    };
  });
}

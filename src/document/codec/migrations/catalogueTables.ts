import type { Plain } from './plain.ts';
import { asPlain } from './plain.ts';

/** `catalogue.cables` and `catalogue.boxes` become tables beside the others. */
export function catalogueTables(file: Plain): Plain {
  const catalogue = asPlain(file['catalogue']);
  if (catalogue === null) return file;
  const { catalogue: _gone, ...rest } = file;
  const { cables, boxes, ...unknown } = catalogue;
  return {
    ...rest,
    ...(cables === undefined || Object.hasOwn(rest, 'cables') ? {} : { cables }),
    ...(boxes === undefined || Object.hasOwn(rest, 'boxes') ? {} : { boxes }),
    // What version 1 would have refused stays where it stood, to be refused still.
    ...(Object.keys(unknown).length === 0 ? {} : { catalogue: unknown }),
  };
}

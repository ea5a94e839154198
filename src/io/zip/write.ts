import { deflateSync, zipSync, type Zippable } from 'fflate';

/** One part to be written: `deflate` makes it smaller, which pictures and PDFs already are. */
export interface ZipPart {
  readonly name: string;
  readonly bytes: Uint8Array;
  readonly deflate: boolean;
}

/** The first date a zip file can hold, whatever the time zone: the same parts always give the same bytes. */
const NO_DATE = new Date(1980, 0, 1);

/**
 * A zip file of these parts, in their order. Names are plain ASCII. What would become smaller than its `ratio`th part is
 * stored as it is, since a reader rightly takes that for a trap.
 */
export function writeZip(parts: readonly ZipPart[], ratio: number): Uint8Array<ArrayBuffer> {
  const files: Zippable = {};
  for (const { name, bytes, deflate } of parts) {
    const smaller = deflate && deflateSync(bytes).length * ratio >= bytes.length;
    files[name] = [bytes as Uint8Array<ArrayBuffer>, { level: smaller ? 6 : 0 }];
  }
  return zipSync(files, { mtime: NO_DATE });
}

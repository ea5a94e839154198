import type { Id, PlanDocument, PlanTables } from '../../engine/model/document.ts';
import { RECORDS } from '../../engine/model/records.ts';
import { TABLE_NAMES } from '../../engine/model/tables.ts';
import { job, READERS } from './planReaders.ts';
import type { Fields, Path, Reader } from './readers.ts';
import { asObject, Misread, oneOf, record, tableOfRecords, wholeIn } from './readers.ts';
import { pictureType, SHA256 } from './tracingReaders.ts';
import type { Json } from './write.ts';

/** The version this program writes. */
export const VERSION = 2;
export const FORMAT = 'zonewright-plan';

/** A picture in the file: its bytes in base64, under their SHA-256. */
export interface FileAsset {
  readonly mediaType: 'image/png' | 'image/jpeg' | 'image/webp';
  readonly base64: string;
}

const PREFIX = /^[a-z]{1,16}$/;
const BASE64 = /^[A-Za-z0-9+/]*={0,2}$/;

/** A record of any keys of one form, read into a new object. */
function keyed<T>(pattern: RegExp, what: string, of: Reader<T>): Reader<Readonly<Record<string, T>>> {
  return {
    schema: {
      type: 'object',
      propertyNames: { pattern: pattern.source, not: { const: 'constructor' } },
      additionalProperties: of.schema,
    },
    read: (value, at) => {
      const out: Record<string, T> = {};
      for (const [key, each] of Object.entries(asObject(value, at))) {
        const spot: Path = { up: at, key: key.slice(0, 80) };
        if (!pattern.test(key) || key === 'constructor') throw new Misread(spot, `is not ${what}`);
        out[key] = of.read(each, spot);
      }
      return out;
    },
  };
}

const base64: Reader<string> = {
  schema: { type: 'string', contentEncoding: 'base64', pattern: BASE64.source },
  read: (value, at) => {
    if (typeof value !== 'string' || !BASE64.test(value)) throw new Misread(at, 'must be base64 text');
    return value;
  },
};

const tables = Object.fromEntries(
  TABLE_NAMES.map((name) => [
    name,
    tableOfRecords(READERS[name] as Reader<{ readonly id: Id }>, RECORDS[name].least),
  ]),
) as unknown as Fields<PlanTables>;

/** The whole file: the document's own keys, and pictures. */
export const PLAN_FILE: Reader<PlanDocument & { readonly assets?: Readonly<Record<string, FileAsset>> }> =
  record<PlanDocument & { readonly assets?: Readonly<Record<string, FileAsset>> }>(
    {
      format: oneOf(FORMAT),
      version: oneOf(VERSION),
      job,
      ...tables,
      counters: keyed(PREFIX, 'a prefix of ids: 1 to 16 letters a to z', wholeIn(0, 1e9)),
      assets: keyed(
        SHA256,
        'a SHA-256 in 64 hexadecimal digits',
        record<FileAsset>({ mediaType: pictureType, base64 }),
      ) as Reader<Readonly<Record<string, FileAsset>> | undefined>,
    },
    ['assets'],
  );

/** JSON Schema 2020-12 of the file, from the very readers that read it. What refers to what it cannot say. */
export function planSchema(): Json {
  return {
    $schema: 'https://json-schema.org/draft/2020-12/schema',
    title: 'Zonewright plan',
    description:
      'One plan. Lengths in millimetres. References between records are checked by the program, not by this schema.',
    ...(PLAN_FILE.schema as { readonly [key: string]: Json }),
  };
}

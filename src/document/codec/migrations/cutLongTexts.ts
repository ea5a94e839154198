import { LONGEST_NAME, LONGEST_TEXT } from '../readers.ts';
import { asPlain, eachRecord, type Plain } from './plain.ts';

/** Fields of version 1 that hold what something or someone is called; all other free texts are notes. */
const NAMES: ReadonlySet<string> = new Set(['name', 'title', 'by', 'instrument']);
/** Texts that are no free text, and must not be cut. */
const KEYS: ReadonlySet<string> = new Set(['id', 'finding']);

function cut(key: string, value: unknown): unknown {
  if (typeof value !== 'string' || KEYS.has(key)) return value;
  const most = NAMES.has(key) ? LONGEST_NAME : LONGEST_TEXT;
  return value.length <= most ? value : `${value.slice(0, most - 1)}…`;
}

function cutRecord(record: Plain): Plain {
  const wrong = Object.entries(record).some(([key, value]) => cut(key, value) !== value);
  return wrong
    ? Object.fromEntries(Object.entries(record).map(([key, value]) => [key, cut(key, value)]))
    : record;
}

/** Version 1 let names and notes be up to 100,000 characters long: they are cut to what version 2 holds. */
export function cutLongTexts(file: Plain): Plain {
  const job = asPlain(file['job']);
  const start: Plain = job === null ? file : { ...file, job: cutRecord(job) };
  return Object.keys(file).reduce(
    (now, table) =>
      eachRecord(now, table, (record) => {
        const laid = asPlain(record['asLaid']);
        return cutRecord(laid === null ? record : { ...record, asLaid: cutRecord(laid) });
      }),
    start,
  );
}

/** Where `cutLongTexts` will cut: `roomTags.t1.name`. */
export function textsToCut(file: Plain): string[] {
  const found: string[] = [];
  const look = (value: unknown, path: string): void => {
    for (const [key, each] of Object.entries(asPlain(value) ?? {})) {
      const here = key === 'byId' ? path : path === '' ? key : `${path}.${key}`;
      if (cut(key, each) !== each) found.push(here);
      else if (path === '' || path.split('.').length < 3) look(each, here);
    }
  };
  look(file, '');
  return found;
}

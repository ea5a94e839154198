import type { Id, Table } from '../../engine/model/document.ts';
import type { Json } from './write.ts';
import { wellFormed } from './write.ts';

/** Where a value stands, built only when something is wrong with it. */
export interface Path {
  readonly up: Path | null;
  readonly key: string | number;
}

/** Thrown by readers, caught by the decoder, never seen outside. */
export class Misread extends Error {
  constructor(
    readonly at: Path | null,
    message: string,
  ) {
    super(message);
  }
}

/** Reads one kind of value into a new object, or throws `Misread`. `schema` says the same as JSON Schema. */
export interface Reader<T> {
  readonly read: (value: unknown, at: Path | null) => T;
  readonly schema: Json;
}

/** `runs.r12.corners[3].z`. */
export function pathText(at: Path | null): string {
  const keys: string[] = [];
  for (let p = at; p !== null; p = p.up) keys.push(typeof p.key === 'number' ? `[${p.key}]` : `.${p.key}`);
  return keys.reverse().join('').replace(/^\./, '');
}

/** The place of a field in what holds it. */
export const under = (up: Path | null, key: string | number): Path => ({ up, key });

/** The most characters a name may have, and notes: as long as anyone needs, and no longer than the page can bear. */
export const LONGEST_NAME = 200;
export const LONGEST_TEXT = 20_000;
/** The most entries of a list. */
export const LONGEST_LIST = 100_000;
export const LARGEST_TABLE = 200_000;

/** A number in a closed range. -0 is read as 0. */
export function numberIn(min: number, max: number, unit?: string): Reader<number> {
  return {
    schema: { type: 'number', minimum: min, maximum: max, ...(unit ? { description: unit } : {}) },
    read: (value, at) => {
      if (typeof value !== 'number') throw new Misread(at, `must be a number, not ${kindOf(value)}`);
      if (!(value >= min && value <= max)) throw new Misread(at, `must be from ${min} to ${max}`);
      return value === 0 ? 0 : value;
    },
  };
}

/** A number above zero. */
export function above0(max: number, unit?: string): Reader<number> {
  return {
    schema: { type: 'number', exclusiveMinimum: 0, maximum: max, ...(unit ? { description: unit } : {}) },
    read: (value, at) => {
      if (typeof value !== 'number') throw new Misread(at, `must be a number, not ${kindOf(value)}`);
      if (!(value > 0 && value <= max)) throw new Misread(at, `must be more than 0 and at most ${max}`);
      return value;
    },
  };
}

/** A whole number in a closed range. */
export function wholeIn(min: number, max: number): Reader<number> {
  const number = numberIn(min, max);
  return {
    schema: { type: 'integer', minimum: min, maximum: max },
    read: (value, at) => {
      const n = number.read(value, at);
      if (!Number.isInteger(n)) throw new Misread(at, 'must be a whole number');
      return n;
    },
  };
}

export const flag: Reader<boolean> = {
  schema: { type: 'boolean' },
  read: (value, at) => {
    if (typeof value !== 'boolean') throw new Misread(at, `must be true or false, not ${kindOf(value)}`);
    return value;
  },
};

/** Text of limited length; lone surrogates become U+FFFD. */
function textUpTo(most: number): Reader<string> {
  return {
    schema: { type: 'string', maxLength: most },
    read: (value, at) => {
      if (typeof value !== 'string') throw new Misread(at, `must be a text, not ${kindOf(value)}`);
      if (value.length > most) throw new Misread(at, `is longer than ${most} characters`);
      return wellFormed(value);
    },
  };
}

/** Notes and reasons: several lines. */
export const text = textUpTo(LONGEST_TEXT);

/** What something or someone is called: one line. */
export const name = textUpTo(LONGEST_NAME);

/** Text of a fixed form; `what` names the form in the message. */
export function textLike(
  pattern: RegExp,
  what: string,
  more: (text: string) => boolean = () => true,
): Reader<string> {
  return {
    schema: { type: 'string', pattern: pattern.source, description: what },
    read: (value, at) => {
      if (typeof value !== 'string') throw new Misread(at, `must be a text, not ${kindOf(value)}`);
      if (!pattern.test(value) || !more(value)) throw new Misread(at, `must be ${what}`);
      return wellFormed(value);
    },
  };
}

const ID = /^[a-z0-9][a-z0-9_-]{0,63}$/;

/** True for text that may be an id. "constructor" would name something every object has. */
export function isId(value: string): boolean {
  return ID.test(value) && value !== 'constructor';
}

export const id: Reader<Id> = {
  schema: { type: 'string', pattern: ID.source, not: { const: 'constructor' } },
  read: (value, at) => {
    if (typeof value !== 'string') throw new Misread(at, `must be an id, not ${kindOf(value)}`);
    if (!isId(value))
      throw new Misread(at, 'must be an id: up to 64 of a-z, 0-9, _ and -, starting with a letter or digit');
    return value;
  },
};

/** One of a few fixed texts or numbers. */
export function oneOf<const T extends string | number>(...values: readonly T[]): Reader<T> {
  return {
    schema: values.length === 1 ? { const: values[0] as T } : { enum: values },
    read: (value, at) => {
      const found = values.find((v) => v === value);
      if (found === undefined)
        throw new Misread(at, `must be ${values.map((v) => JSON.stringify(v)).join(' or ')}`);
      return found;
    },
  };
}

export function orNull<T>(reader: Reader<T>): Reader<T | null> {
  return {
    schema: { anyOf: [reader.schema, { type: 'null' }] },
    read: (value, at) => (value === null ? null : reader.read(value, at)),
  };
}

export function listOf<T>(reader: Reader<T>, least = 0, most = LONGEST_LIST): Reader<readonly T[]> {
  return {
    schema: { type: 'array', items: reader.schema, minItems: least, maxItems: most },
    read: (value, at) => {
      if (!Array.isArray(value)) throw new Misread(at, `must be a list, not ${kindOf(value)}`);
      if (value.length < least) throw new Misread(at, `must have at least ${least} entries`);
      if (value.length > most) throw new Misread(at, `has more than ${most} entries`);
      return value.map((each: unknown, i) => reader.read(each, under(at, i)));
    },
  };
}

/** Readers of every field of a record. */
export type Fields<T> = { readonly [K in keyof T]-?: Reader<T[K]> };

/** A record with exactly these fields. `optional` ones may be left out. */
export function record<T>(fields: Fields<T>, optional: readonly (keyof T & string)[] = []): Reader<T> {
  const keys = Object.keys(fields) as (keyof T & string)[];
  const known = new Set<string>(keys);
  const required = keys.filter((k) => !optional.includes(k));
  return {
    schema: {
      type: 'object',
      properties: Object.fromEntries(keys.map((k) => [k, fields[k].schema])),
      required,
      additionalProperties: false,
    },
    read: (value, at) => {
      const from = asObject(value, at);
      for (const key of Object.keys(from)) {
        if (!known.has(key)) throw new Misread(under(at, key.slice(0, 80)), 'is not a field of the format');
      }
      const out: Partial<T> = {};
      for (const key of keys) {
        if (Object.hasOwn(from, key)) out[key] = fields[key].read(from[key], under(at, key));
        else if (required.includes(key)) throw new Misread(under(at, key), 'is missing');
      }
      return out as T;
    },
  };
}

/** A record whose fields depend on one of them. */
export function variants<T>(tag: keyof T & string, of: Readonly<Record<string, Reader<T>>>): Reader<T> {
  const names = Object.keys(of);
  return {
    schema: { oneOf: names.map((n) => of[n]?.schema ?? null) },
    read: (value, at) => {
      const from = asObject(value, at);
      if (!Object.hasOwn(from, tag)) throw new Misread(under(at, tag), 'is missing');
      const name = from[tag];
      const reader = typeof name === 'string' && Object.hasOwn(of, name) ? of[name] : undefined;
      if (!reader) throw new Misread(under(at, tag), `must be ${names.map((n) => `"${n}"`).join(' or ')}`);
      return reader.read(value, at);
    },
  };
}

/** A table: `byId` holds each record under its own id, and `order` names each of them once. */
export function tableOfRecords<T extends { readonly id: Id }>(of: Reader<T>, least = 0): Reader<Table<T>> {
  const order = listOf(id, least, LARGEST_TABLE);
  return {
    schema: {
      type: 'object',
      properties: {
        order: {
          type: 'array',
          items: id.schema,
          uniqueItems: true,
          minItems: least,
          maxItems: LARGEST_TABLE,
        },
        byId: { type: 'object', propertyNames: id.schema, additionalProperties: of.schema },
      },
      required: ['order', 'byId'],
      additionalProperties: false,
    },
    read: (value, at) => {
      const from = asObject(value, at);
      for (const key of Object.keys(from)) {
        if (key !== 'order' && key !== 'byId')
          throw new Misread(under(at, key.slice(0, 80)), 'is not a field of the format');
      }
      if (!Object.hasOwn(from, 'order')) throw new Misread(under(at, 'order'), 'is missing');
      if (!Object.hasOwn(from, 'byId')) throw new Misread(under(at, 'byId'), 'is missing');
      const ids = order.read(from['order'], under(at, 'order'));
      const records = asObject(from['byId'], under(at, 'byId'));
      const byId: Record<Id, T> = {};
      const seen = new Set<Id>();
      ids.forEach((each, i) => {
        const spot = under(under(at, 'order'), i);
        if (seen.has(each)) throw new Misread(spot, `names ${each} a second time`);
        seen.add(each);
        if (!Object.hasOwn(records, each)) throw new Misread(spot, `names ${each}, which is not in byId`);
      });
      for (const key of Object.keys(records)) {
        const spot = under(at, key.slice(0, 80));
        id.read(key, spot);
        if (!seen.has(key)) throw new Misread(spot, 'is not named in order');
        const one = of.read(records[key], spot);
        if (one.id !== key) throw new Misread(under(spot, 'id'), `must be "${key}", the id it stands under`);
        byId[key] = one;
      }
      return { order: ids, byId };
    },
  };
}

/** A plain object of any JSON; anything else is misread. */
export function asObject(value: unknown, at: Path | null): Readonly<Record<string, unknown>> {
  if (typeof value !== 'object' || value === null || Array.isArray(value))
    throw new Misread(at, `must be a record, not ${kindOf(value)}`);
  return value as Readonly<Record<string, unknown>>;
}

function kindOf(value: unknown): string {
  if (value === null) return 'null';
  if (Array.isArray(value)) return 'a list';
  if (typeof value === 'object') return 'a record';
  return typeof value === 'string' ? 'a text' : typeof value === 'number' ? 'a number' : `${String(value)}`;
}

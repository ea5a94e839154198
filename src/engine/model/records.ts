import type { Id, Place, TableName, Tables, ThingPlace } from './document.ts';
import type { AssetType } from './tracing.ts';
import { mediaTypeOf } from './tracing.ts';

/** One record's mention of another: where in the record it stands, of which table, and which. Null is nobody. */
export interface Mention {
  readonly at: string;
  readonly table: TableName;
  readonly id: Id | null;
}

/** A picture, page or drawing a record needs, kept apart from the plan under the SHA-256 of its bytes (hex). */
export interface AssetUse {
  readonly hash: string;
  readonly mediaType: AssetType;
}

/** All that is known of a table, in one place: whoever deals with tables asks here, so that a new one is forgotten by none. */
export interface RecordKind<T> {
  /** Prefix of the ids of new records, and the key of its counter. */
  readonly prefix: string;
  /** In the middle of a sentence: "wall", "walls". */
  readonly one: string;
  readonly many: string;
  /** A plan has at least so many. */
  readonly least: 0 | 1;
  /** Where cables may lie hangs on it, only what circuits are worked out from, or neither. */
  readonly decides: 'ways' | 'circuits' | 'neither';
  /** The records it names, in the order of its fields. */
  readonly mentions: (record: T) => readonly Mention[];
  /** What it needs beside the plan. Whatever is not told here is deleted from the device at the next start. */
  readonly assets: (record: T) => readonly AssetUse[];
}

const none = (): readonly never[] => [];
const mention = (at: string, table: TableName, id: Id | null): Mention => ({ at, table, id });
const mentions = (at: string, table: TableName, ids: readonly Id[]): Mention[] =>
  ids.map((id, i) => mention(`${at}[${i}]`, table, id));
const onStorey = (record: { readonly storey: Id }): Mention[] => [
  mention('storey', 'storeys', record.storey),
];
const placed = (at: string, place: Place | ThingPlace): Mention =>
  place.on === 'face'
    ? mention(`${at}.wall`, 'walls', place.wall)
    : mention(`${at}.storey`, 'storeys', place.storey);

/** The tables of a plan, in the order they are written about. The compiler asks for each. */
export const RECORDS: { readonly [K in TableName]: RecordKind<Tables[K]> } = {
  storeys: {
    prefix: 's',
    one: 'storey',
    many: 'storeys',
    least: 1,
    decides: 'ways',
    mentions: none,
    assets: none,
  },
  tracings: {
    prefix: 'u',
    one: 'tracing',
    many: 'tracings',
    least: 0,
    decides: 'neither',
    mentions: ({ lies }) => [
      lies.on === 'face'
        ? mention('lies.wall', 'walls', lies.wall)
        : mention('lies.storey', 'storeys', lies.storey),
    ],
    assets: ({ source }) => [{ hash: source.asset, mediaType: mediaTypeOf(source) }],
  },
  buildUps: {
    prefix: 'b',
    one: 'build-up',
    many: 'build-ups',
    least: 0,
    decides: 'ways',
    mentions: none,
    assets: none,
  },
  nodes: {
    prefix: 'n',
    one: 'corner of walls',
    many: 'corners of walls',
    least: 0,
    decides: 'ways',
    mentions: onStorey,
    assets: none,
  },
  walls: {
    prefix: 'w',
    one: 'wall',
    many: 'walls',
    least: 0,
    decides: 'ways',
    mentions: (w) => [
      ...onStorey(w),
      mention('buildUp', 'buildUps', w.buildUp),
      mention('from', 'nodes', w.from),
      mention('to', 'nodes', w.to),
    ],
    assets: none,
  },
  openings: {
    prefix: 'o',
    one: 'opening',
    many: 'openings',
    least: 0,
    decides: 'ways',
    mentions: (o) => [mention('wall', 'walls', o.wall)],
    assets: none,
  },
  roomTags: {
    prefix: 't',
    one: 'room',
    many: 'rooms',
    least: 0,
    decides: 'circuits',
    mentions: onStorey,
    assets: none,
  },
  things: {
    prefix: 'k',
    one: 'thing',
    many: 'things',
    least: 0,
    decides: 'ways',
    mentions: (t) => [placed('place', t.place)],
    assets: none,
  },
  points: {
    prefix: 'p',
    one: 'point',
    many: 'points',
    least: 0,
    decides: 'ways',
    mentions: (p) => [
      placed('place', p.place),
      mention('circuit', 'circuits', p.circuit),
      mention('box.box', 'boxes', p.box?.box ?? null),
      ...p.controls.flatMap((gang, i) => mentions(`controls[${i}]`, 'points', gang)),
    ],
    assets: none,
  },
  circuits: {
    prefix: 'c',
    one: 'circuit',
    many: 'circuits',
    least: 0,
    decides: 'ways',
    mentions: (c) => [
      mention('board', 'points', c.board),
      mention('cable', 'cables', c.cable),
      mention('cable3', 'cables', c.cable3),
      ...mentions('first', 'points', c.first),
      ...mentions('last', 'points', c.last),
    ],
    assets: none,
  },
  runs: {
    prefix: 'r',
    one: 'run',
    many: 'runs',
    least: 0,
    decides: 'ways',
    mentions: (r) => [
      mention('circuit', 'circuits', r.circuit),
      mention('cable', 'cables', r.cable),
      mention('from', 'points', r.from),
      mention('to', 'points', r.to),
      ...r.corners.map((corner, i) => placed(`corners[${i}]`, corner)),
    ],
    assets: none,
  },
  cables: {
    prefix: 'cable',
    one: 'cable of the catalogue',
    many: 'cables of the catalogue',
    least: 0,
    decides: 'circuits',
    mentions: none,
    assets: none,
  },
  boxes: {
    prefix: 'box',
    one: 'box of the catalogue',
    many: 'boxes of the catalogue',
    least: 0,
    decides: 'circuits',
    mentions: none,
    assets: none,
  },
  acceptances: {
    prefix: 'a',
    one: 'accepted finding',
    many: 'accepted findings',
    least: 0,
    decides: 'neither',
    mentions: none,
    assets: none,
  },
  readings: {
    prefix: 'm',
    one: 'reading',
    many: 'readings',
    least: 0,
    decides: 'neither',
    mentions: (m) => [
      mention('circuit', 'circuits', m.circuit),
      mention('run', 'runs', m.run),
      mention('point', 'points', m.point),
    ],
    assets: none,
  },
};

/** All that is known of one table, for whoever goes through them without knowing which it is. */
export function kindOf(name: TableName): RecordKind<unknown> {
  return RECORDS[name] as RecordKind<unknown>;
}

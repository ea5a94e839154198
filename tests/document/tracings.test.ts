import { describe, expect, it } from 'vitest';
import { decodeFile, encodeDocument, problemText } from '../../src/document/codec/file.ts';
import { migrated } from '../../src/document/codec/migrate.ts';
import { addPicture, addTracing, editTracing, turnTracing } from '../../src/document/commands/tracings.ts';
import { createStore } from '../../src/document/store.ts';
import { removeWalls, splitWall } from '../../src/document/commands/walls.ts';
import { deriveAll } from '../../src/engine/derive/deriveAll.ts';
import { assetsOf } from '../../src/engine/model/assets.ts';
import { straightenBy } from '../../src/engine/geometry/straightened.ts';
import type { PlanDocument } from '../../src/engine/model/document.ts';
import type { TracingLies, TracingSource } from '../../src/engine/model/tracing.ts';
import { scaleOf } from '../../src/engine/takeoff/calibration.ts';
import { entryOf } from '../../src/io/storage/entry.ts';
import { picturesIn } from '../../src/io/storage/kept.ts';
import { after, boxRoom } from './plans.ts';
import { expectRefusal, prove } from './prove.ts';

const hash = (digit: string): string => digit.repeat(64);
const STRAIGHTEN = straightenBy(
  'sheet',
  [
    { x: 700, y: 410 },
    { x: 3300, y: 380 },
    { x: 3650, y: 2200 },
    { x: 420, y: 2260 },
  ],
  { width: 420, height: 297 },
  { width: 4000, height: 2400 },
  0.5,
);

/** One source of each kind: the compiler asks for the next one. */
const SOURCES: { readonly [K in TracingSource['kind']]: Extract<TracingSource, { kind: K }> } = {
  picture: {
    kind: 'picture',
    asset: hash('a'),
    mediaType: 'image/jpeg',
    width: 420,
    height: 297,
    straighten: STRAIGHTEN,
  },
  page: {
    kind: 'page',
    asset: hash('b'),
    page: 3,
    quarterTurns: 1,
    crop: { x0: 10, y0: 20, x1: 800, y1: 560 },
    layers: ['Walls'],
    width: 790,
    height: 540,
  },
  lines: {
    kind: 'lines',
    asset: hash('c'),
    unit: 25.4,
    offset: { x: -100.5, y: 2e6 },
    layers: null,
    width: 400,
    height: 300,
  },
};
const ON_STOREY: TracingLies = { on: 'storey', storey: 's1', x: 100, y: -50, rotation: 0.5 };
const onWall = (along: number): TracingLies => ({
  on: 'face',
  wall: 'w1',
  side: 'right',
  corners: [
    { along, z: 2000 },
    { along: along + 1000, z: 2010 },
    { along: along + 990, z: 500 },
    { along: along + 5, z: 490 },
  ],
});

/** Every text that stands under the key `asset`, wherever it is. */
function assetsIn(value: unknown): string[] {
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, each]) => (key === 'asset' ? [String(each)] : assetsIn(each)));
}

/** A plan with a tracing of every source, lying in every way. */
const full = (): PlanDocument =>
  after(
    boxRoom(),
    ...Object.values(SOURCES).flatMap((source, i) => [
      addTracing({ name: `under ${i}`, lies: ON_STOREY, source }),
      addTracing({
        name: `on ${i}`,
        lies: onWall(500),
        source: { ...source, asset: hash(String(i)) },
        date: '2026-11-02',
        revision: 'B',
      }),
    ]),
  );

describe('tracings of every kind', () => {
  it('are written and read back the same', () => {
    const text = encodeDocument(full());
    const read = decodeFile(text);
    if (!read.ok) throw new Error(problemText(read.problem));
    expect(encodeDocument(read.doc)).toBe(text);
  });

  it('have their assets told by the one enumerator, each that stands anywhere in the plan', () => {
    const doc = full();
    const told = [...assetsOf(doc).keys()].sort();
    expect(told).toEqual([...new Set(assetsIn(JSON.parse(encodeDocument(doc))))].sort());
    expect(told).toHaveLength(6);
    expect([...assetsOf(doc).values()].map((use) => use.mediaType)).toContain('application/pdf');
  });

  it('are kept on the device: what is found in the text of a kept plan, or of a change to it, is what the plan needs', () => {
    const doc = full();
    expect(picturesIn([{ text: JSON.stringify(doc) }])).toEqual(new Set(assetsOf(doc).keys()));
    for (const source of Object.values(SOURCES)) {
      const store = createStore(boxRoom());
      const entries: unknown[] = [];
      store.subscribe((_state, _touched, change) => {
        if (change !== null) entries.push({ text: JSON.stringify(entryOf(change)) });
      });
      store.dispatch(addTracing({ name: 'new', lies: ON_STOREY, source }));
      expect(entries).toHaveLength(1);
      expect(picturesIn(entries), source.kind).toEqual(new Set([source.asset]));
    }
  });

  it.each([
    ['lies.storey', { lies: { ...ON_STOREY, storey: 's9' } }, /not among the storeys/],
    ['lies.wall', { lies: { ...onWall(0), wall: 'w9' } }, /not among the walls/],
    ['lies.corners', { lies: { ...onWall(0), corners: [] } }, /4/],
    ['source.kind', { source: { ...SOURCES.page, kind: 'film' } }, /must be/],
    ['source.page', { source: { ...SOURCES.page, page: 0 } }, /from 1 to/],
    ['source.crop.x1', { source: { ...SOURCES.page, crop: { x0: 5, y0: 0, x1: 5, y1: 9 } } }, /more than x0/],
    ['source.unit', { source: { ...SOURCES.lines, unit: 0 } }, /more than 0/],
    [
      'source.straighten.marks',
      { source: { ...SOURCES.picture, straighten: { ...STRAIGHTEN, marks: STRAIGHTEN.marks.slice(1) } } },
      /4/,
    ],
    [
      'source.straighten.marks',
      {
        source: {
          ...SOURCES.picture,
          straighten: { ...STRAIGHTEN, marks: STRAIGHTEN.marks.map((m) => ({ ...m, x: 420 - m.x })) },
        },
      },
      /not in order/,
    ],
    ['date', { date: '2026-02-30' }, /date/],
  ])('refuses a wrong %s, and says where', (at, wrong, message) => {
    const doc = full();
    const record = { ...doc.tracings.byId['u1'], ...wrong };
    const text = JSON.stringify({
      ...doc,
      tracings: { ...doc.tracings, byId: { ...doc.tracings.byId, u1: record } },
    });
    const read = decodeFile(text);
    expect(read.ok).toBe(false);
    if (read.ok) return;
    expect(read.problem.path).toBe(`tracings.u1.${at}`);
    expect(read.problem.message).toMatch(message);
  });

  it('come up from version 1 as pictures under their storey', () => {
    const old = {
      id: 'u1',
      storey: 's1',
      name: 'plan.png',
      mediaType: 'image/png',
      asset: hash('a'),
      width: 10,
      height: 20,
      x: 1,
      y: 2,
      rotation: 3,
      mmPerPixel: 4,
      known: [],
      opacity: 0.5,
      locked: true,
      visible: false,
    };
    const now = migrated({ version: 1, underlays: { order: ['u1'], byId: { u1: old } } }, 1);
    expect(now['tracings']).toEqual({
      order: ['u1'],
      byId: {
        u1: {
          id: 'u1',
          name: 'plan.png',
          lies: { on: 'storey', storey: 's1', x: 1, y: 2, rotation: 3 },
          source: {
            kind: 'picture',
            asset: hash('a'),
            mediaType: 'image/png',
            width: 10,
            height: 20,
            straighten: null,
          },
          scale: { mmPerUnit: 4, known: [], stated: null },
          date: null,
          revision: '',
          opacity: 0.5,
          locked: true,
          visible: false,
        },
      },
    });
  });
});

describe('a tracing on a wall', () => {
  const traced = (along = 500): PlanDocument =>
    after(boxRoom(), addTracing({ name: 'photo', lies: onWall(along), source: SOURCES.picture }));

  it('refuses nobody metres and is no finding: only what lies under a storey is ground of the plan', () => {
    const without = scaleOf(boxRoom());
    expect(scaleOf(traced())).toEqual(without);
    expect(deriveAll(traced()).findings.filter((f) => f.rule.startsWith('scale-'))).toEqual([]);
    const under = after(
      traced(),
      addPicture({
        storey: 's1',
        name: 'plan',
        asset: hash('d'),
        mediaType: 'image/png',
        width: 9,
        height: 9,
      }),
    );
    expect(scaleOf(under).state).toBe('refused');
  });

  it('goes with its wall, and along with it', () => {
    const plan = traced(2500);
    const split = prove(plan, splitWall('w1', 2000)).doc;
    const second = split.walls.order.at(-1);
    expect(split.tracings.byId['u1']?.lies).toMatchObject({
      wall: second,
      corners: [{ along: 500 }, {}, {}, {}],
    });
    expect(prove(plan, removeWalls(['w1'])).doc.tracings.order).toEqual([]);
  });

  it('is not moved or turned on the plan', () => {
    expectRefusal(traced(), editTracing('u1', { x: 5 }), /lies on a wall/);
    expectRefusal(traced(), turnTracing('u1', 1, { x: 0, y: 0 }), /lies on a wall/);
    prove(traced(), editTracing('u1', { opacity: 0.1, revision: 'C', date: '2026-11-03' }));
  });
});

it('a scale taken at its word gives metres, and is told as unchecked', () => {
  const plan = after(
    boxRoom(),
    addTracing({
      name: 'print',
      lies: ON_STOREY,
      source: SOURCES.page,
      scale: { mmPerUnit: 17.6, known: [], stated: '1:50' },
    }),
  );
  expect(scaleOf(plan)).toEqual({ state: 'typed' });
  const told = deriveAll(plan).findings.filter((f) => f.rule.startsWith('scale-'));
  expect(told.map((f) => [f.rule, f.message])).toEqual([
    ['scale-one', expect.stringContaining('what it says of itself only (1:50)')],
  ]);
});

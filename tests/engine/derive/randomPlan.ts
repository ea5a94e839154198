import { tableFrom } from '../../../src/engine/model/defaults.ts';
import type {
  BuildUp,
  Circuit,
  Id,
  Place,
  PlanDocument,
  Point,
  Run,
  Storey,
  Table,
  TableName,
  Thing,
  Wall,
} from '../../../src/engine/model/document.ts';
import type { Touched } from '../../../src/engine/derive/types.ts';
import { POINT_KIND_NAMES, POINT_KINDS } from '../../../src/engine/model/pointKinds.ts';
import { rows } from '../../../src/engine/model/tables.ts';
import { planOf } from '../fabric/plans.ts';
import { aCircuit, aPoint, aRun } from '../zones/faces.ts';

/** Numbers from 0 to 1. */
export type Random = () => number;

const pick = <T>(random: Random, from: readonly T[]): T => from[Math.floor(random() * from.length)] as T;
const whole = (random: Random, low: number, high: number): number =>
  Math.floor(low + random() * (high - low + 1));

const BUILDS = ['timber-stud', 'timber-void', 'metal-stud', 'block-plaster', 'block-dabs'];

function placeOn(doc: PlanDocument, random: Random): Place {
  const roll = random();
  const [x, y] = [whole(random, 0, 8000), whole(random, 0, 5000)];
  if (roll < 0.15) return { on: 'ceiling', storey: 's1', x, y };
  if (roll < 0.2) return { on: 'floor', storey: 's1', x, y };
  const wall = pick(random, rows(doc.walls));
  const [a, b] = [doc.nodes.byId[wall.from], doc.nodes.byId[wall.to]];
  const length = a && b ? Math.hypot(b.x - a.x, b.y - a.y) : 1000;
  return {
    on: 'face',
    wall: wall.id,
    side: pick(random, ['left', 'right'] as const),
    along: Math.round(random() * length),
    z: pick(random, [450, 450, 1200, 1100, 2300, whole(random, -20, 2500)]),
  };
}

/** Corners that often make sense: up to the ceiling, along it, and down; or along the wall at one height. */
function cornersBetween(
  doc: PlanDocument,
  random: Random,
  from: Place | undefined,
  to: Place | undefined,
): Place[] {
  const roll = random();
  if (roll < 0.3 && from?.on === 'face' && to?.on === 'face') {
    const spots = [from, to].map((p) => {
      const wall = doc.walls.byId[p.wall];
      const [a, b] = [doc.nodes.byId[wall?.from ?? ''], doc.nodes.byId[wall?.to ?? '']];
      if (!a || !b) return { on: 'ceiling', storey: 's1', x: 0, y: 0 } as const;
      const t = p.along / Math.hypot(b.x - a.x, b.y - a.y);
      return { on: 'ceiling', storey: 's1', x: a.x + (b.x - a.x) * t, y: a.y + (b.y - a.y) * t } as const;
    });
    return spots;
  }
  if (roll < 0.6 && from?.on === 'face') {
    const along = from.along + whole(random, -800, 800);
    return [
      { ...from, along },
      { ...from, along, z: pick(random, [450, 1200, 2300]) },
    ];
  }
  return Array.from({ length: whole(random, 0, 3) }, () => placeOn(doc, random));
}

function pointAt(doc: PlanDocument, random: Random, id: Id): Point {
  const place = placeOn(doc, random);
  const kinds = POINT_KIND_NAMES.filter((k) => POINT_KINDS[k].hosts.includes(place.on));
  return aPoint(id, {
    kind: pick(random, kinds),
    place,
    gangs: pick(random, [1, 2]),
    visible: random() > 0.15,
    circuit: pick(random, ['c1', 'c2', 'c3', null]),
    box: random() > 0.2 ? { box: 'metal-1g-35', fixedFirst: random() > 0.5 } : null,
  });
}

function runAt(doc: PlanDocument, random: Random, id: Id): Run {
  const ends = [null, ...doc.points.order];
  const [from, to] = [random() > 0.1 ? pick(random, ends) : null, random() > 0.1 ? pick(random, ends) : null];
  const place = (end: Id | null) => (end === null ? undefined : doc.points.byId[end]?.place);
  return aRun(id, {
    from,
    to,
    circuit: pick(random, ['c1', 'c1', 'c2', 'c3', null]),
    cable: pick(random, ['te2-5', 'te2-5', 'te1-5', 'data-utp']),
    corners: cornersBetween(doc, random, place(from), place(to)),
    depth: random() > 0.8 ? pick(random, [20, 49, 50, 60]) : null,
    protection: random() > 0.9 ? 'earthed-conduit' : 'none',
  });
}

function thingAt(doc: PlanDocument, random: Random, id: Id): Thing {
  const kind = pick(random, [
    'no-cable',
    'radiator',
    'unit',
    'insulation',
    'polystyrene',
    'hot-pipe',
    'sink',
    'bath',
  ] as const);
  const wall = pick(random, rows(doc.walls));
  if (random() > 0.5) {
    const along0 = whole(random, 0, 3000);
    const z0 = whole(random, 0, 2000);
    return {
      id,
      kind,
      name: id,
      place: {
        on: 'face',
        wall: wall.id,
        side: pick(random, ['left', 'right'] as const),
        along0,
        along1: along0 + 900,
        z0,
        z1: z0 + 700,
      },
    };
  }
  const [x, y] = [whole(random, 0, 7000), whole(random, 0, 4000)];
  const outline = [
    { x, y },
    { x: x + 1000, y },
    { x: x + 1000, y: y + 1000 },
    { x, y: y + 1000 },
  ];
  const where = pick(random, ['ceiling', 'floor', 'room'] as const);
  return { id, kind, name: id, place: { on: 'plan', storey: 's1', outline, z0: 0, z1: 900, where } };
}

/** A plan of four rooms, 8 by 5 m, with points, circuits and runs strewn over it: much of it wrong, all of it readable. */
export function randomPlan(random: Random): PlanDocument {
  const b = () => pick(random, BUILDS);
  const base = planOf({
    nodes: {
      n1: [0, 0],
      n2: [8000, 0],
      n3: [8000, 5000],
      n4: [0, 5000],
      n5: [4000, 0],
      n6: [4000, 5000],
      n7: [0, 2500],
      n8: [4000, 2500],
    },
    walls: {
      w1: ['n1', 'n2', b()],
      w2: ['n2', 'n3', b()],
      w3: ['n3', 'n4', b()],
      w4: ['n4', 'n1', b()],
      w5: ['n5', 'n6', b()],
      w6: ['n7', 'n8', b()],
    },
    openings: [{ id: 'o1', wall: 'w5', kind: 'door', along: 400, width: 800, sill: 0, head: 2000 }],
    tags: [
      { id: 't1', storey: 's1', x: 2000, y: 1000, name: 'Workshop', use: 'workshop' },
      { id: 't2', storey: 's1', x: 6000, y: 1000, name: 'Lobby', use: 'circulation' },
    ],
  });
  let doc: PlanDocument = {
    ...base,
    circuits: tableFrom([
      aCircuit('c1', { board: 'p1', topology: 'ring' }),
      aCircuit('c2', { board: 'p1', device: { type: 'B', rating: 6, rcd: null }, topology: 'lighting' }),
      aCircuit('c3', { board: null }),
    ]),
  };
  const points = [
    aPoint('p1', { kind: 'consumer-unit', wall: 'w1', along: 900, z: 1400, circuit: null, box: null }),
    ...Array.from({ length: 11 }, (_, i) => pointAt(doc, random, `p${i + 2}`)),
  ];
  doc = { ...doc, points: tableFrom(points) };
  doc = { ...doc, runs: tableFrom(Array.from({ length: 14 }, (_, i) => runAt(doc, random, `r${i + 1}`))) };
  return { ...doc, things: tableFrom([thingAt(doc, random, 'k1'), thingAt(doc, random, 'k2')]) };
}

/** A document after one random edit, and what was touched, as the store would say it. */
export interface Edit {
  readonly what: string;
  readonly doc: PlanDocument;
  readonly touched: Touched;
}

type Editable = TableName;

function put(doc: PlanDocument, table: Editable, id: Id, record: { id: Id } | null): PlanDocument {
  const old = doc[table] as Table<{ id: Id }>;
  const byId = { ...old.byId };
  if (record === null) delete byId[id];
  else byId[id] = record;
  const order =
    record === null
      ? old.order.filter((x) => x !== id)
      : old.order.includes(id)
        ? old.order
        : [...old.order, id];
  return { ...doc, [table]: { order, byId } };
}

const one = (what: string, doc: PlanDocument, table: Editable, id: Id, record: { id: Id } | null): Edit => ({
  what: `${what} ${id}`,
  doc: put(doc, table, id, record),
  touched: { [table]: new Set([id]) },
});

type MakeEdit = (doc: PlanDocument, random: Random, fresh: string) => Edit | null;

/** The first menu: seeds kept as cases were found with it, so it keeps its entries and their order. */
export const FIRST_MENU: Readonly<Record<string, MakeEdit>> = {
  movePoint(doc, random) {
    const p = pick(random, rows(doc.points));
    const { place } = p;
    const by = () => whole(random, -600, 600);
    const next: Place =
      place.on === 'face'
        ? { ...place, along: place.along + by(), z: random() > 0.5 ? place.z : place.z + by() }
        : placeOn(doc, random);
    return one('move', doc, 'points', p.id, { ...p, place: next } as Point);
  },
  changePoint(doc, random) {
    const p = pick(random, rows(doc.points));
    const change: Partial<Point> = pick(random, [
      { visible: !p.visible },
      { circuit: pick(random, ['c1', 'c2', 'c3', null]) },
      { label: `X${whole(random, 1, 99)}` },
      { gangs: p.gangs === 1 ? 2 : 1 },
      { kind: pick(random, ['socket', 'blank-plate', 'joint', 'consumer-unit', 'wall-light'] as const) },
      { box: null },
    ] as Partial<Point>[]);
    return one(`point ${JSON.stringify(change)}`, doc, 'points', p.id, { ...p, ...change } as Point);
  },
  addPoint: (doc, random, fresh) => one('add', doc, 'points', `p${fresh}`, pointAt(doc, random, `p${fresh}`)),
  removePoint(doc, random) {
    const id = pick(random, doc.points.order);
    return doc.points.order.length < 4 ? null : one('remove', doc, 'points', id, null);
  },
  moveNode(doc, random) {
    const n = pick(random, rows(doc.nodes));
    const [x, y] = [n.x + whole(random, -400, 400), n.y + whole(random, -400, 400)];
    return one('node', doc, 'nodes', n.id, { ...n, x, y } as { id: Id });
  },
  changeWall(doc, random) {
    const w = pick(random, rows(doc.walls));
    const change = pick(random, [
      { buildUp: pick(random, BUILDS) },
      { flipped: !w.flipped },
      { top: { kind: 'sloped' as const, zFrom: 2400, zTo: 1500 } },
      { top: { kind: 'level' as const, z: 2100 } },
    ]);
    return one(`wall ${JSON.stringify(change)}`, doc, 'walls', w.id, { ...w, ...change } as { id: Id });
  },
  addWall(doc, random, fresh) {
    const [a, b] = [pick(random, doc.nodes.order), `n${fresh}`];
    const node = { id: b, storey: 's1', x: whole(random, 0, 8000), y: whole(random, 0, 5000) };
    const wall = {
      id: `w${fresh}`,
      storey: 's1',
      from: a,
      to: b,
      buildUp: pick(random, BUILDS),
      flipped: false,
      top: { kind: 'ceiling' as const },
      toldFromBehind: { left: true, right: null },
    };
    const next = put(put(doc, 'nodes', b, node), 'walls', wall.id, wall);
    return { what: `add ${wall.id}`, doc: next, touched: { nodes: new Set([b]), walls: new Set([wall.id]) } };
  },
  removeWall(doc, random) {
    const id = pick(random, doc.walls.order);
    return doc.walls.order.length < 4 ? null : one('remove', doc, 'walls', id, null);
  },
  opening(doc, random, fresh) {
    const id =
      random() > 0.5 && doc.openings.order.length > 0 ? pick(random, doc.openings.order) : `o${fresh}`;
    if (random() > 0.7 && doc.openings.byId[id]) return one('remove', doc, 'openings', id, null);
    const wall = pick(random, doc.walls.order);
    const kind = pick(random, ['door', 'window', 'opening'] as const);
    const along = whole(random, 0, 3000);
    return one('put', doc, 'openings', id, { id, wall, kind, along, width: 900, sill: 0, head: 2000 } as {
      id: Id;
    });
  },
  tag(doc, random) {
    const t = pick(random, rows(doc.roomTags));
    if (!t) return null;
    const change = pick(random, [
      { name: `Room ${whole(random, 1, 50)}` },
      { x: whole(random, 0, 8000) },
      { use: pick(random, ['habitable', 'kitchen', 'bathroom'] as const) },
    ]);
    return one('tag', doc, 'roomTags', t.id, { ...t, ...change } as { id: Id });
  },
  putRun(doc, random, fresh) {
    const id = random() > 0.5 ? pick(random, doc.runs.order) : `r${fresh}`;
    return one('put', doc, 'runs', id, runAt(doc, random, id));
  },
  changeRun(doc, random) {
    const r = pick(random, rows(doc.runs));
    const change: Partial<Run> = pick(random, [
      { circuit: pick(random, ['c1', 'c2', null]) },
      { depth: pick(random, [null, 20, 60]) },
      { protection: pick(random, ['none', 'steel-3mm'] as const) },
      { to: pick(random, [null, ...doc.points.order]) },
      { corners: r.corners.slice(1) },
      { tailFrom: 5000 },
      { cable: pick(random, ['te10', 'data-utp', 'te2-5']) },
    ] as Partial<Run>[]);
    return one(`run ${JSON.stringify(change)}`, doc, 'runs', r.id, { ...r, ...change } as Run);
  },
  removeRun(doc, random) {
    return doc.runs.order.length < 3 ? null : one('remove', doc, 'runs', pick(random, doc.runs.order), null);
  },
  circuit(doc, random) {
    const c = pick(random, rows(doc.circuits));
    if (!c) return null;
    const change = pick(random, [
      { device: { ...c.device, rcd: c.device.rcd === null ? 30 : null } },
      { board: pick(random, [null, ...doc.points.order]) },
      { topology: pick(random, ['ring', 'radial', 'lighting'] as const) },
      { label: `Z${whole(random, 1, 9)}` },
    ]);
    return one(`circuit ${JSON.stringify(change)}`, doc, 'circuits', c.id, { ...c, ...change } as { id: Id });
  },
  removeCircuit(doc, random) {
    return doc.circuits.order.length < 2
      ? null
      : one('remove', doc, 'circuits', pick(random, doc.circuits.order), null);
  },
  thing(doc, random, fresh) {
    const id = random() > 0.4 && doc.things.order.length > 0 ? pick(random, doc.things.order) : `k${fresh}`;
    if (random() > 0.7 && doc.things.byId[id]) return one('remove', doc, 'things', id, null);
    return one('put', doc, 'things', id, thingAt(doc, random, id));
  },
  tracing(doc, random) {
    const known = Array.from({ length: whole(random, 0, 2) }, (_, i) => ({
      ax: 0,
      ay: 0,
      bx: i === 0 ? 500 : 0,
      by: i === 0 ? 0 : 400,
      length: i === 0 ? 5000 : pick(random, [4000, 4100]),
    }));
    const tracing = {
      id: 'u1',
      name: 'Plan',
      lies: { on: 'storey', storey: 's1', x: 0, y: 0, rotation: 0 },
      source: {
        kind: 'picture',
        mediaType: 'image/png',
        asset: '',
        width: 800,
        height: 600,
        straighten: null,
      },
      scale: { mmPerUnit: 10, known, stated: null },
      date: null,
      revision: '',
      opacity: 1,
      locked: false,
      visible: true,
    };
    return one('put', doc, 'tracings', 'u1', random() > 0.3 ? tracing : null);
  },
  cable(doc, random) {
    const id = pick(random, ['te2-5', 'te1-5']);
    const cable = doc.cables.byId[id];
    if (!cable) return null;
    const drums = [{ length: pick(random, [5, 25, 100]), price: null }];
    const cables = {
      ...doc.cables,
      byId: { ...doc.cables.byId, [id]: { ...cable, drums } },
    };
    return {
      what: `cable ${id}`,
      doc: { ...doc, cables },
      touched: { cables: new Set([id]) },
    };
  },
  job(doc, random) {
    const change = pick(random, [
      { title: 'Another title' },
      { edition: pick(random, ['bs7671-2018-a3', 'bs7671-2018-a4'] as const) },
      { newDwelling: !doc.job.newDwelling },
      { allowances: { ...doc.job.allowances, percent: whole(random, 0, 20) } },
    ]);
    return {
      what: `job ${JSON.stringify(change)}`,
      doc: { ...doc, job: { ...doc.job, ...change } },
      touched: { job: new Set(['job']) },
    };
  },
};

const changed =
  (table: Editable, pickChange: (random: Random, record: never) => object): MakeEdit =>
  (doc, random) => {
    const records = rows(doc[table] as Table<{ id: Id }>);
    if (records.length === 0) return null;
    const record = pick(random, records);
    const change = pickChange(random, record as never);
    return one(`${table} ${JSON.stringify(change)}`, doc, table, record.id, { ...record, ...change });
  };

/** Everything findings and metres hang on, table by table. */
export const MENU: Readonly<Record<string, MakeEdit>> = {
  ...FIRST_MENU,
  cableRecord: changed('cables', (random) =>
    pick(random, [
      { csa: pick(random, [1, 1.5, 2.5, 4, 6, 10]) },
      { cpc: pick(random, [1, 1.5]) },
      { cores: pick(random, [2, 3]) },
      { use: pick(random, ['power', 'data'] as const) },
      { width: pick(random, [8, 10, 12, 30]) },
      { name: `Cable ${whole(random, 1, 9)}` },
    ]),
  ),
  box: changed('boxes', (random) => ({ depth: pick(random, [16, 25, 35, 47]) })),
  device: changed('circuits', (random, { device }: Circuit) =>
    pick(random, [
      { device: { ...device, rating: pick(random, [6, 16, 20, 32, 40]) } },
      { device: { ...device, type: pick(random, ['B', 'C'] as const) } },
      { designCurrent: pick(random, [null, 1, 13, 30]) },
    ]),
  ),
  load: changed('points', (random) =>
    pick(random, [{ load: pick(random, [null, 60, 2000, 7000]) }, { kind: 'heavy-outlet' }]),
  ),
  controls: (doc, random) => {
    const [p, q] = [pick(random, rows(doc.points)), pick(random, rows(doc.points))];
    const switches = { ...p, kind: 'switch-1way' as const, controls: random() > 0.3 ? [q.id] : [] };
    return one(`controls ${q.id}`, doc, 'points', p.id, switches);
  },
  /** A change of place that often leaves a run unresolved. */
  farPoint: (doc, random) => {
    const p = pick(random, rows(doc.points));
    if (p.place.on !== 'face') return null;
    return one('far', doc, 'points', p.id, { ...p, place: { ...p.place, along: 9000 } } as Point);
  },
  fixing: changed('runs', (random) =>
    pick(random, [
      { fixing: pick(random, ['clipped', 'loose', 'conduit', 'chase'] as const) },
      { circuit: pick(random, ['c1', 'c2', 'c3']) },
    ]),
  ),
  addCircuit: (doc, random, fresh) =>
    one(
      'add',
      doc,
      'circuits',
      `c${fresh}`,
      aCircuit(`c${fresh}`, { board: pick(random, doc.points.order) }),
    ),
  moveToCircuit: (doc, random) =>
    doc.circuits.order.length === 0
      ? null
      : changed('points', () => ({ circuit: pick(random, doc.circuits.order) }))(doc, random, ''),
  removeTag: (doc, random) =>
    doc.roomTags.order.length === 0
      ? null
      : one('remove', doc, 'roomTags', pick(random, doc.roomTags.order), null),
  storey: changed('storeys', (random) =>
    pick(random, [
      { name: `Floor ${whole(random, 1, 9)}` },
      { ceilingHeight: pick(random, [2300, 2400, 2700]) },
    ]),
  ),
  addStorey: (doc, random, fresh) =>
    one('add', doc, 'storeys', `s${fresh}`, {
      ...(doc.storeys.byId.s1 as Storey),
      id: `s${fresh}`,
      level: whole(random, 1, 3) * 2700,
    } as Storey),
  removeStorey: (doc) => {
    const id = doc.storeys.order.at(-1);
    return id === undefined || id === 's1' ? null : one('remove', doc, 'storeys', id, null);
  },
  wallToStorey: (doc, random) => {
    const w = pick(random, rows(doc.walls));
    return one('storey of', doc, 'walls', w.id, {
      ...w,
      storey: pick(random, doc.storeys.order),
    } as Wall);
  },
  buildUp: changed('buildUps', (random, { layers }: BuildUp) => ({
    layers: layers.map((l) =>
      random() > 0.7 ? { ...l, thickness: l.thickness + 5, insulated: random() > 0.5 } : l,
    ),
  })),
  rowOrder: (doc, random) => {
    const table = pick(random, ['runs', 'points', 'circuits', 'walls', 'things'] as const);
    const old = doc[table];
    const [id] = old.order;
    if (id === undefined) return null;
    return {
      what: `${table} turned round`,
      doc: { ...doc, [table]: { ...old, order: [...old.order.slice(1), id] } },
      touched: { [table]: new Set([id]) },
    };
  },
  supply: (doc, random) => {
    const change = pick(random, [
      { ambient: pick(random, [25, 30, 40]) },
      { testTemperature: pick(random, [10, 20]) },
      { supply: { ...doc.job.supply, ze: pick(random, [0.2, 0.35, 0.8]) } },
      { supply: { ...doc.job.supply, earthing: pick(random, ['TT', 'TN-S'] as const) } },
    ]);
    return {
      what: `job ${JSON.stringify(change)}`,
      doc: { ...doc, job: { ...doc.job, ...change } },
      touched: { job: new Set(['job']) },
    };
  },
};

/** One edit of the menu, chosen and made up by `random`. */
export function randomEdit(doc: PlanDocument, random: Random, fresh: string, menu = MENU): Edit | null {
  return menu[pick(random, Object.keys(menu))]?.(doc, random, fresh) ?? null;
}

/** Both edits as one, as a transaction would tell it. */
export function mergeTouched(a: Touched, b: Touched): Touched {
  const merged: Record<string, Set<Id>> = {};
  for (const touched of [a, b]) {
    for (const [table, ids] of Object.entries(touched)) {
      merged[table] = new Set([...(merged[table] ?? []), ...(ids ?? [])]);
    }
  }
  return merged;
}

import type { Circuit, Id, Place, PlanDocument, Point, Run, Table } from '../../src/engine/model/document.ts';
import { boxed, PlanBuilder } from './builder.ts';
import { makeStudio } from './studio.ts';

/** One seeded mistake and where it must be found. */
export interface Mistake {
  readonly rule: string;
  /** Where and what, in plain words, as listed in the notes of the file. */
  readonly what: string;
  readonly run?: Id;
  readonly point?: Id;
  readonly circuit?: Id;
  readonly tracing?: string;
  /** The wall it is on, and the room that looks at it; null for a finding that is on no wall. */
  readonly on: { readonly wall: Id; readonly room: string | null } | null;
  readonly outsideMm?: number;
}

export interface Mistaken {
  readonly doc: PlanDocument;
  readonly mistakes: readonly Mistake[];
}

export const INVENTED =
  'Everything in this plan is invented: the building, its rooms, the loads and the mistakes.';

export const numbered = (mistakes: readonly Mistake[]): string =>
  mistakes.map((m, i) => `${i + 1}. ${m.rule}: ${m.what}`).join('\n');

/** A table with one record changed. */
function changed<T extends { readonly id: Id }>(table: Table<T>, id: Id, patch: Partial<T>): Table<T> {
  const record = table.byId[id];
  if (record === undefined) throw new Error(`no record ${id}`);
  return { ...table, byId: { ...table.byId, [id]: { ...record, ...patch } } };
}

function without<T>(table: Table<T>, id: Id): Table<T> {
  const byId = { ...table.byId };
  delete byId[id];
  return { order: table.order.filter((each) => each !== id), byId };
}

const NORTH = { wall: 'w3', room: 'Workshop' } as const;

/** What is changed of the studio's own records. */
function spoil(doc: PlanDocument): PlanDocument {
  const run = (table: Table<Run>, id: Id, patch: Partial<Run>) => changed(table, id, patch);
  const corners = (id: Id): readonly Place[] => doc.runs.byId[id]?.corners ?? [];
  const moved = (id: Id, z: number): Partial<Point> => {
    const place = doc.points.byId[id]?.place;
    if (place?.on !== 'face') throw new Error(`point ${id} is on no wall`);
    return { place: { ...place, z } };
  };
  const north = (x: number, z: number): Place => ({
    on: 'face',
    wall: 'w3',
    side: 'left',
    along: 8728.5 - x,
    z,
  });
  const above = (x: number, y: number): Place => ({ on: 'ceiling', storey: 's1', x, y });

  let { points, runs, circuits } = doc;
  // North wall of the workshop: a drop 300 mm beside its socket, and a second socket 30 mm higher than the first.
  runs = run(runs, 'r10', {
    corners: [...corners('r10').slice(0, 2), above(3700, 1400), above(3700, 0), north(3700, 450)],
  });
  points = changed(points, 'p10', moved('p10', 480));
  points = changed(points, 'p9', { box: null });
  points = changed(points, 'p13', { visible: false });
  points = changed(points, 'p18', moved('p18', 1350));
  // The lobby switch 20 mm to the right; its drop comes down beside it and turns in the wall.
  points = changed(points, 'p15', { place: north(6670, 1200) });
  runs = run(runs, 'r15', {
    corners: [above(6000, 1700), above(6705, 1700), above(6705, 0), north(6705, 1800), north(6670, 1800)],
  });
  runs = run(runs, 'r20', { circuit: null });
  runs = without(runs, 'r12');
  const alarms = circuits.byId.c4 as Circuit;
  circuits = changed(circuits, 'c4', { device: { ...alarms.device, rcd: null }, designCurrent: 1 });
  const cables = changed(doc.cables, 'tce1-5', { drums: [{ length: 8, price: null }] });
  return { ...doc, points, runs, circuits, cables };
}

/** The studio with one mistake of every rule but those of the drawing (see makeDrawingMistakes). */
export function makeMistakes(): Mistaken {
  const { doc: studio, surfaces: at } = makeStudio();
  const b = new PlanBuilder(spoil(studio));
  const metal = boxed('metal', 1, 35);
  const lining = boxed('dry-lining', 1, 35);
  const data = { kind: 'data', box: lining } as const;

  b.opening('w3', 'window', 100, 300, 950, 1300);
  b.thing('bracket', 'Drying shelf bracket', {
    on: 'face',
    wall: at.west.wall,
    side: at.west.side,
    along0: b.along(at.west.wall, 1500),
    along1: b.along(at.west.wall, 1700),
    z0: 1050,
    z1: 1200,
  });
  b.wall(b.node(500, 6500), b.node(2500, 6500), 'block-plaster');

  const testSwitch = b.point(b.on(at.metalNorth, 6400, 1200), {
    kind: 'switch-1way',
    name: 'Alarm test switch',
    box: lining,
    circuit: 'c4',
  });
  const toSwitch = b.over('p28', testSwitch, 'te1-5', '6100,1300 6400,1300', { circuit: 'c4' });
  const exitLight = b.point(b.ceiling(5700, 1200), {
    kind: 'ceiling-light',
    name: 'Exit light',
    circuit: 'c4',
  });
  b.over('p28', exitLight, 'te1-5', '', { circuit: 'c4' });
  const charger = b.point(b.on(at.blockEast, 1800, 450), {
    kind: 'socket',
    name: 'Socket on the alarms',
    box: metal,
    circuit: 'c4',
  });
  const tooDeep = b.over('p28', charger, 'te1-5', '6100,1800', {
    circuit: 'c4',
    protection: 'earthed-conduit',
    depth: 170,
  });

  const parked = b.run('p30', 'p31', 'data-utp', [b.ceiling(5480, 0), b.ceiling(5480, 600)], {
    protection: 'selv-pelv',
  });
  const astray = b.over('p25', 'p29', 'te1-5', '3900,2350', { circuit: 'c3' });
  const jump = b.run('p23', 'p25', 'te1-5', [{ on: 'free', storey: 's1', x: 4200, y: 2300, z: 1900 }], {
    circuit: 'c3',
  });

  const spare = b.circuit({
    name: 'Spare way',
    topology: 'radial',
    device: { type: 'B', rating: 16, rcd: 30 },
    cable: 'te2-5',
  });
  const yard = b.circuit({
    name: 'Shelf sockets',
    topology: 'radial',
    device: { type: 'B', rating: 20, rcd: 30 },
    cable: 'te2-5',
    board: 'p1',
  });
  const shelf = { kind: 'socket', box: lining, circuit: yard } as const;
  const shelf1 = b.point(b.on(at.east, 3000, 450), { ...shelf, name: 'Shelf socket 1' });
  const shelf2 = b.point(b.on(at.south, 8000, 450), { ...shelf, name: 'Shelf socket 2' });
  b.run(shelf1, shelf2, 'te2-5', [b.on(at.east, 4700, 450), b.on(at.south, 8600, 450)], { circuit: yard });

  const unreached = b.point(b.on(at.south, 6500, 2200), {
    kind: 'extractor',
    name: 'Kiln extractor',
    circuit: 'c3',
  });
  const unassigned = b.point(b.on(at.north, 7800, 1050), {
    kind: 'fused-spur',
    name: 'Hand dryer',
    box: lining,
  });
  const joint = b.point(b.ceiling(4500, 1600), {
    kind: 'joint',
    name: 'Joint',
    visible: false,
    circuit: 'c3',
  });
  b.over('p23', joint, 'te1-5', '', { circuit: 'c3' });
  const high = b.point(b.on(at.blockWest, 2300, 2450), {
    ...data,
    box: metal,
    name: 'Data above the ceiling',
  });
  const inWindow = b.point(b.on(at.west, 3200, 1300), { ...data, name: 'Data in the window' });
  const overlap = b.point(b.on(at.north, 4700, 480), { ...data, name: 'Data on a socket' });

  const behindIsolator = b.point(b.on(at.metalNorth, 7000, 1200), {
    ...data,
    box: boxed('dry-lining', 1, 47),
    name: 'Data behind the isolator',
  });

  const mistakes: readonly Mistake[] = [
    {
      rule: 'zone-outside',
      run: 'r10',
      on: NORTH,
      outsideMm: 227,
      what: 'leg 7 of R10 comes down 300 mm beside its socket, on the top wall of the workshop, 227 mm outside',
    },
    {
      rule: 'diagonal',
      run: 'r11',
      on: NORTH,
      what: 'leg 1 of R11 climbs 30 mm from one socket to the next, on the top wall of the workshop',
    },
    {
      rule: 'zone-disputed',
      run: 'r2',
      on: { wall: 'w5', room: 'Kiln bay' },
      what: 'the kiln outlet P13 is hidden after fit-out, so leg 6 of R2, its drop on the block wall of the kiln bay, is disputed',
    },
    {
      rule: 'turn-away-from-point',
      run: 'r15',
      on: { wall: 'w3', room: 'Lobby' },
      what: 'R15 turns 600 mm above the lobby switch, on the top wall of the lobby',
    },
    {
      rule: 'depth-does-not-fit',
      run: tooDeep,
      on: { wall: 'w5', room: 'Lobby' },
      what: 'the run to the socket on the alarms is said to lie 170 mm deep, in a block wall of 166 mm',
    },
    {
      rule: 'opening-crossed',
      run: 'r9',
      on: NORTH,
      what: 'leg 3 of R9 crosses a narrow window by the corner, on the top wall of the workshop',
    },
    {
      rule: 'run-through-no-cable',
      run: 'r8',
      on: { wall: 'w4', room: 'Workshop' },
      what: 'R8 lies behind a shelf bracket, on the left wall of the workshop',
    },
    {
      rule: 'cover-needs-rcd',
      run: 'r28',
      on: { wall: 'w7', room: 'Lobby' },
      what: 'R28 drops to the board without an RCD, in the thin partition of the lobby',
    },
    {
      rule: 'metal-frame',
      run: toSwitch,
      on: { wall: 'w6', room: 'Lobby' },
      what: 'the run to the alarm test switch lies in the metal partition of the lobby without an RCD',
    },
    {
      rule: 'switch-works-nothing',
      point: testSwitch,
      on: { wall: 'w6', room: 'Lobby' },
      what: 'the alarm test switch, on the metal partition of the lobby, switches no light',
    },
    {
      rule: 'light-without-switch',
      circuit: 'c4',
      point: exitLight,
      on: null,
      what: 'no switch works the exit light',
    },
    {
      rule: 'luminaire-no-rcd',
      circuit: 'c4',
      point: exitLight,
      on: null,
      what: 'the exit light is on C4, which has no RCD',
    },
    {
      rule: 'socket-no-rcd',
      circuit: 'c4',
      point: charger,
      on: { wall: 'w5', room: 'Lobby' },
      what: 'a socket on the block wall of the lobby is on C4, which has no RCD',
    },
    {
      rule: 'grouped-at-board',
      circuit: 'c2',
      run: 'r3',
      on: { wall: 'w7', room: 'Lobby' },
      what: 'the exit light and the kiln extractor have no load stated, so their circuits count beside the sockets ring at the board in the lobby',
    },
    {
      rule: 'tt-electrode-high',
      on: null,
      what: 'the supply is TT with an earth electrode of 240 Ω',
    },
    {
      rule: 'parked-end',
      run: parked,
      on: null,
      what: 'a spare data cable from the lobby ends above the ceiling',
    },
    {
      rule: 'run-no-circuit',
      run: 'r20',
      on: null,
      what: 'R20, above the ceiling from the WC to the kiln bay, is on no circuit',
    },
    {
      rule: 'end-mismatch',
      run: astray,
      point: 'p29',
      on: null,
      what: 'a lighting run ends at the heat alarm, which is on C4',
    },
    {
      rule: 'run-unresolved',
      run: jump,
      on: null,
      what: 'a lighting run hangs through the middle of the workshop',
    },
    {
      rule: 'run-longer-than-drum',
      run: 'r27',
      on: { wall: 'w5', room: 'Workshop' },
      what: 'R27, from the switch on the block wall, needs more than the one drum of 8 m',
    },
    {
      rule: 'circuit-no-board',
      circuit: spare,
      on: null,
      what: 'the spare way is fed from no consumer unit',
    },
    {
      rule: 'circuit-not-reaching-board',
      circuit: yard,
      point: shelf1,
      on: { wall: 'w2', room: 'Kiln bay' },
      what: 'the shelf sockets, on the right wall of the kiln bay, are joined to each other but not to the board',
    },
    {
      rule: 'ring-open',
      circuit: 'c2',
      point: 'p1',
      on: { wall: 'w7', room: 'Lobby' },
      what: 'R12 is missing: the sockets ring does not come back to the board in the lobby',
    },
    {
      rule: 'point-unreached',
      circuit: 'c3',
      point: unreached,
      on: { wall: 'w1', room: 'Kiln bay' },
      what: 'no run reaches the kiln extractor, on the bottom wall of the kiln bay',
    },
    {
      rule: 'point-unassigned',
      point: unassigned,
      on: { wall: 'w3', room: 'WC' },
      what: 'the hand dryer, on the top wall of the WC, is on no circuit',
    },
    {
      rule: 'box-missing',
      point: 'p9',
      on: NORTH,
      what: 'socket P9, on the top wall of the workshop, has no box',
    },
    {
      rule: 'joint-hidden',
      point: joint,
      on: null,
      what: 'a joint above the workshop ceiling will be out of sight',
    },
    {
      rule: 'height-new-dwelling',
      point: 'p18',
      on: { wall: 'w7', room: 'WC' },
      what: 'the WC switch is 150 mm above the band for new dwellings, on the left wall of the WC',
    },
    {
      rule: 'point-off-wall',
      point: high,
      on: { wall: 'w5', room: 'Workshop' },
      what: 'a data outlet stands 50 mm above the top of the block wall of the workshop',
    },
    {
      rule: 'point-in-opening',
      point: inWindow,
      on: { wall: 'w4', room: 'Workshop' },
      what: 'a data outlet stands in the left-hand window of the workshop',
    },
    {
      rule: 'same-spot',
      point: overlap,
      on: NORTH,
      what: 'a data outlet overlaps socket P10, on the top wall of the workshop',
    },
    {
      rule: 'boxes-back-to-back',
      point: behindIsolator,
      on: { wall: 'w6', room: 'WC' },
      what: 'a data outlet in the WC is back to back with the kiln isolator, in a wall of 95 mm',
    },
    {
      rule: 'room-not-closed',
      on: { wall: 'w9', room: null },
      what: 'a wall in the yard, below the building, encloses no room',
    },
  ];
  const doc = b.build(
    {
      title: 'Pottery studio with mistakes (invented)',
      newDwelling: true,
      supply: { ...studio.job.supply, earthing: 'TT', electrode: 240 },
      notes: [INVENTED, 'One mistake of every rule, seeded on purpose:', numbered(mistakes)].join('\n'),
    },
    {},
  );
  const loose = doc.runs.byId[parked] as Run;
  return {
    doc: { ...doc, runs: changed(doc.runs, loose.id, { to: null }) },
    mistakes,
  };
}

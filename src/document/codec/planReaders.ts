import { POINT_KIND_NAMES } from '../../engine/model/pointKinds.ts';
import type * as Plan from '../../engine/model/document.ts';
import { amount, angle, coordinate, date, FAR, label, length, side, someLength } from './measures.ts';
import type { Reader } from './readers.ts';
import { tracing } from './tracingReaders.ts';
import {
  above0,
  flag,
  id,
  listOf,
  name,
  numberIn,
  oneOf,
  orNull,
  record,
  text,
  variants,
  wholeIn,
} from './readers.ts';

const plain = record<{ readonly x: number; readonly y: number }>({ x: coordinate, y: coordinate });

export const job: Reader<Plan.Job> = record<Plan.Job>({
  title: name,
  notes: text,
  nation: oneOf('england', 'wales', 'scotland', 'northern-ireland', 'elsewhere'),
  edition: oneOf('bs7671-2018-a3', 'bs7671-2018-a4'),
  newDwelling: flag,
  otherCircuitsInStrip: flag,
  supply: record<Plan.Supply>({
    earthing: oneOf('TN-C-S', 'TN-S', 'TT'),
    ze: numberIn(0, FAR, 'ohm'),
    nominalV: above0(FAR, 'V, line to neutral'),
    faultCurrent: orNull(numberIn(0, FAR, 'A')),
    electrode: orNull(numberIn(0, FAR, 'ohm')),
  }),
  allowances: record<Plan.Allowances>({
    percent: numberIn(0, 100, 'per cent'),
    tailLater: length,
    tailFixed: length,
    tailBoard: length,
    tailFitting: length,
  }),
  routeCosts: record<Plan.RouteCosts>({
    metre: amount,
    bend: amount,
    drop: amount,
    timberHole: amount,
    chaseMetre: amount,
    throughWall: amount,
    insulationMetre: amount,
  }),
  ambient: numberIn(-50, 150, '°C'),
  testTemperature: numberIn(-50, 150, '°C'),
});

const joists = record<Plan.Joists>({
  direction: angle,
  depth: someLength,
  breadth: someLength,
  centres: someLength,
  span: orNull(length),
  member: oneOf('solid', 'engineered'),
  chart: text,
});

const storey = record<Plan.Storey>({
  id,
  name: name,
  level: coordinate,
  ceilingHeight: someLength,
  ceiling: record<Plan.CeilingBuild>({
    kind: oneOf('void', 'solid'),
    voidDepth: length,
    cableRise: length,
    joists: orNull(joists),
    insulation: oneOf('none', 'thin', 'thick'),
  }),
  floor: record<Plan.FloorBuild>({
    kind: oneOf('void', 'solid'),
    voidDepth: length,
    cableDrop: length,
    joists: orNull(joists),
  }),
});

const MATERIALS = [
  'plaster',
  'plasterboard',
  'dab',
  'timber-stud',
  'metal-stud',
  'batten-void',
  'insulation',
  'insulated-board',
  'block',
  'brick',
  'sheathing',
  'membrane',
  'cavity',
  'cladding',
] as const satisfies readonly Plan.Material[];

const buildUp = record<Plan.BuildUp>({
  id,
  name: name,
  frame: oneOf('timber', 'metal', 'masonry'),
  layers: listOf(
    record<Plan.Layer>({ material: oneOf(...MATERIALS), thickness: above0(2000, 'mm'), insulated: flag }),
    1,
    100,
  ),
  cableLayer: record<Plan.BuildUp['cableLayer']>({ left: wholeIn(0, 99), right: wholeIn(0, 99) }),
});

const node = record<Plan.WallNode>({ id, storey: id, x: coordinate, y: coordinate });

const wallTop = variants<Plan.WallTop>('kind', {
  ceiling: record({ kind: oneOf('ceiling') }),
  level: record({ kind: oneOf('level'), z: someLength }),
  sloped: record({ kind: oneOf('sloped'), zFrom: someLength, zTo: someLength }),
} as Record<string, Reader<Plan.WallTop>>);

const wall = record<Plan.Wall>({
  id,
  storey: id,
  from: id,
  to: id,
  buildUp: id,
  flipped: flag,
  top: wallTop,
  toldFromBehind: record<Plan.Wall['toldFromBehind']>({ left: orNull(flag), right: orNull(flag) }),
});

const opening = record<Plan.Opening>({
  id,
  wall: id,
  kind: oneOf('door', 'window', 'opening'),
  along: coordinate,
  width: someLength,
  sill: length,
  head: someLength,
});

const roomTag = record<Plan.RoomTag>({
  id,
  storey: id,
  x: coordinate,
  y: coordinate,
  name: name,
  use: oneOf('habitable', 'kitchen', 'bathroom', 'circulation', 'utility', 'workshop', 'other'),
});

export const place = variants<Plan.Place>('on', {
  face: record({ on: oneOf('face'), wall: id, side, along: coordinate, z: coordinate }),
  ceiling: record({ on: oneOf('ceiling'), storey: id, x: coordinate, y: coordinate }),
  floor: record({ on: oneOf('floor'), storey: id, x: coordinate, y: coordinate }),
  free: record({ on: oneOf('free'), storey: id, x: coordinate, y: coordinate, z: coordinate }),
} as Record<string, Reader<Plan.Place>>);

const THING_KINDS = [
  'no-cable',
  'unit',
  'worktop',
  'radiator',
  'bracket',
  'bath',
  'shower',
  'shower-head',
  'sink',
  'hob',
  'hot-pipe',
  'gas-pipe',
  'insulation',
  'polystyrene',
  'beam',
] as const satisfies readonly Plan.ThingKind[];

const thing = record<Plan.Thing>({
  id,
  kind: oneOf(...THING_KINDS),
  name: name,
  place: variants<Plan.ThingPlace>('on', {
    face: record({
      on: oneOf('face'),
      wall: id,
      side,
      along0: coordinate,
      along1: coordinate,
      z0: coordinate,
      z1: coordinate,
    }),
    plan: record({
      on: oneOf('plan'),
      storey: id,
      outline: listOf(plain, 3, 10_000),
      z0: coordinate,
      z1: coordinate,
      where: oneOf('room', 'ceiling', 'floor'),
    }),
  } as Record<string, Reader<Plan.ThingPlace>>),
});

const point = record<Plan.Point>({
  id,
  label,
  kind: oneOf(...POINT_KIND_NAMES),
  name: name,
  place,
  gangs: oneOf(1, 2, 3, 4, 5, 6),
  plate: orNull(record<Plan.PlateSize>({ width: someLength, height: someLength })),
  box: orNull(record<Plan.BoxFitting>({ box: id, fixedFirst: flag })),
  visible: flag,
  circuit: orNull(id),
  load: orNull(numberIn(0, FAR, 'W')),
  loadKind: orNull(oneOf('cooker', 'cooker-socket', 'other')),
  controls: listOf(listOf(id), 0, 6),
});

const circuit = record<Plan.Circuit>({
  id,
  label,
  name: name,
  topology: oneOf('ring', 'radial', 'lighting'),
  device: record<Plan.Device>({
    type: oneOf('B', 'C'),
    rating: above0(FAR, 'A'),
    rcd: orNull(above0(FAR, 'mA')),
  }),
  board: orNull(id),
  cable: id,
  cable3: orNull(id),
  way: orNull(oneOf('ceiling', 'walls', 'floor')),
  first: listOf(id),
  last: listOf(id),
  designCurrent: orNull(numberIn(0, FAR, 'A')),
});

const run = record<Plan.Run>({
  id,
  label,
  circuit: orNull(id),
  cable: id,
  from: orNull(id),
  to: orNull(id),
  corners: listOf(place),
  fixing: oneOf('clipped', 'in-plaster', 'chase', 'in-stud', 'in-void', 'conduit'),
  depth: orNull(length),
  protection: oneOf(
    'none',
    'capping',
    'earthed-armour',
    'earthed-conduit',
    'earthed-trunking',
    'steel-3mm',
    'selv-pelv',
  ),
  tailFrom: orNull(length),
  tailTo: orNull(length),
  origin: oneOf('drawn', 'suggested'),
  locked: flag,
  progress: record<Plan.RunProgress>({
    pulled: orNull(date),
    labelled: orNull(date),
    photographed: orNull(date),
    tested: orNull(date),
    covered: orNull(date),
  }),
  asLaid: record<Plan.AsLaid>({ state: oneOf('not-recorded', 'as-drawn', 'differently'), note: text }),
  notes: text,
});

const cable = record<Plan.Cable>({
  id,
  name: name,
  use: oneOf('power', 'data', 'alarm'),
  cores: wholeIn(1, 1000),
  csa: above0(FAR, 'mm²'),
  cpc: numberIn(0, FAR, 'mm²'),
  ratedBy: orNull(oneOf('4D5')),
  width: someLength,
  height: someLength,
  drums: listOf(record<Plan.DrumOffer>({ length: above0(FAR, 'm'), price: orNull(amount) }), 0, 1000),
  remnants: listOf(above0(FAR, 'm'), 0, 10_000),
});

const box = record<Plan.Box>({
  id,
  name: name,
  gangs: oneOf(1, 2),
  depth: someLength,
  mount: oneOf('metal', 'dry-lining', 'surface', 'round'),
});

const acceptance = record<Plan.Acceptance>({ id, finding: text, reason: text, by: name, date });

const reading = record<Plan.Reading>({
  id,
  circuit: orNull(id),
  run: orNull(id),
  point: orNull(id),
  kind: oneOf(
    'r1',
    'rn',
    'r2',
    'ring-line-neutral',
    'ring-line-earth',
    'r1r2',
    'insulation-line-neutral',
    'insulation-line-earth',
    'continuity',
  ),
  value: numberIn(0, FAR, 'ohm, or megohm for insulation'),
  stage: oneOf('before-boarding', 'after-boarding', 'final'),
  date,
  instrument: name,
  by: name,
  note: text,
});

/** Reader of one record of each table. */
export const READERS: { readonly [K in Plan.TableName]: Reader<Plan.Tables[K]> } = {
  storeys: storey,
  tracings: tracing,
  buildUps: buildUp,
  nodes: node,
  walls: wall,
  openings: opening,
  roomTags: roomTag,
  things: thing,
  points: point,
  circuits: circuit,
  runs: run,
  cables: cable,
  boxes: box,
  acceptances: acceptance,
  readings: reading,
};

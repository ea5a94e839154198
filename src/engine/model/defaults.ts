import type {
  Box,
  BuildUp,
  Cable,
  Layer,
  Material,
  PlanDocument,
  PlanTables,
  Storey,
  Table,
} from './document.ts';
import { TABLE_NAMES } from './tables.ts';
import type { Mm } from './units.ts';

/** An ordered table from records that carry their id. */
export function tableFrom<T extends { readonly id: string }>(records: readonly T[]): Table<T> {
  return { order: records.map((r) => r.id), byId: Object.fromEntries(records.map((r) => [r.id, r])) };
}

const layer = (material: Material, thickness: Mm, insulated = false): Layer => ({
  material,
  thickness,
  insulated,
});

/** Common constructions, editable. Thicknesses are common practice, no source. */
export const DEFAULT_BUILD_UPS: readonly BuildUp[] = [
  {
    id: 'timber-stud',
    name: 'Timber stud 63 mm, boarded both sides (88 mm)',
    frame: 'timber',
    layers: [layer('plasterboard', 12.5), layer('timber-stud', 63), layer('plasterboard', 12.5)],
    cableLayer: { left: 1, right: 1 },
  },
  {
    id: 'timber-void',
    name: 'Timber frame 140 mm with battened void inside (left)',
    frame: 'timber',
    layers: [
      layer('plasterboard', 12.5),
      layer('batten-void', 50),
      layer('membrane', 0.5),
      layer('timber-stud', 140, true),
      layer('sheathing', 9),
      layer('cladding', 45),
    ],
    cableLayer: { left: 1, right: 1 },
  },
  {
    id: 'metal-stud',
    name: 'Metal stud 70 mm, boarded both sides (95 mm)',
    frame: 'metal',
    layers: [layer('plasterboard', 12.5), layer('metal-stud', 70), layer('plasterboard', 12.5)],
    cableLayer: { left: 1, right: 1 },
  },
  {
    id: 'block-plaster',
    name: 'Solid block 140 mm, wet plaster both sides (166 mm)',
    frame: 'masonry',
    layers: [layer('plaster', 13), layer('block', 140), layer('plaster', 13)],
    cableLayer: { left: 0, right: 2 },
  },
  {
    id: 'block-dabs',
    name: 'Block 100 mm, boards on dabs both sides (145 mm)',
    frame: 'masonry',
    layers: [
      layer('plasterboard', 12.5),
      layer('dab', 10),
      layer('block', 100),
      layer('dab', 10),
      layer('plasterboard', 12.5),
    ],
    cableLayer: { left: 1, right: 3 },
  },
];

// BS 6004 typical sizes (makers' figures, one public page); cpc sizes BS 6004 Table 4. Three-core widths are rough
// and from memory. Drum lengths: common practice (100 m seen; 25 and 50 m from memory). No prices: they are the user's.
const DRUMS = [25, 50, 100].map((length) => ({ length, price: null }));
const flat = (csa: number, cpc: number, width: Mm, height: Mm, cores = 2): Cable => ({
  id: `${cores === 2 ? 'te' : 'tce'}${String(csa).replace('.', '-')}`,
  name: `${csa} mm² ${cores === 2 ? 'twin' : 'three-core'} and earth`,
  use: 'power',
  cores,
  csa,
  cpc,
  ratedBy: '4D5',
  width,
  height,
  drums: DRUMS,
  remnants: [],
});

export const DEFAULT_CABLES: readonly Cable[] = [
  flat(1, 1, 7.8, 4.25),
  flat(1.5, 1, 8.2, 5),
  flat(2.5, 1.5, 10.3, 6),
  flat(4, 1.5, 11.9, 6.25),
  flat(6, 2.5, 13.5, 7),
  flat(10, 4, 17.1, 10),
  flat(16, 6, 19.4, 10),
  flat(1, 1, 10, 4.6, 3),
  flat(1.5, 1, 11.5, 5.2, 3),
  flat(2.5, 1.5, 14, 6.4, 3),
  {
    id: 'data-utp',
    name: 'Data cable, four pairs',
    use: 'data',
    cores: 8,
    csa: 0.2,
    cpc: 0,
    ratedBy: null,
    width: 6,
    height: 6,
    drums: DRUMS,
    remnants: [],
  },
];

const box = (gangs: 1 | 2, depth: Mm, mount: Box['mount']): Box => ({
  id: `${mount === 'metal' ? 'metal' : mount === 'round' ? 'round' : 'lining'}-${gangs}g-${depth}`,
  name:
    mount === 'round'
      ? `Round box, ${depth} mm deep`
      : `${gangs === 1 ? 'One' : 'Two'}-gang ${mount === 'metal' ? 'metal' : 'dry-lining'} box, ${depth} mm deep`,
  gangs,
  depth,
  mount,
});

/** Depths 16/25/35/47 mm: BS 4662 and trade practice; dry-lining 35/47 mm from memory. */
export const DEFAULT_BOXES: readonly Box[] = [
  box(1, 16, 'metal'),
  box(1, 25, 'metal'),
  box(1, 35, 'metal'),
  box(1, 47, 'metal'),
  box(2, 25, 'metal'),
  box(2, 35, 'metal'),
  box(2, 47, 'metal'),
  box(1, 35, 'dry-lining'),
  box(1, 47, 'dry-lining'),
  box(2, 35, 'dry-lining'),
  box(2, 47, 'dry-lining'),
  box(1, 35, 'round'),
];

/** Ground floor on a slab with a joisted ceiling: the usual single-storey extension. Assumed until edited. */
export const DEFAULT_STOREY: Storey = {
  id: 's1',
  name: 'Ground floor',
  level: 0,
  ceilingHeight: 2400,
  ceiling: {
    kind: 'void',
    voidDepth: 200,
    cableRise: 100,
    joists: { direction: 0, depth: 195, breadth: 45, centres: 400, span: null, member: 'solid', chart: '' },
    insulation: 'none',
  },
  floor: { kind: 'solid', voidDepth: 0, cableDrop: 0, joists: null },
};

/** Every table, with nothing in it. */
export function emptyTables(): PlanTables {
  return Object.fromEntries(TABLE_NAMES.map((name) => [name, tableFrom([])])) as unknown as PlanTables;
}

/**
 * A new plan: one storey, the default lists, nothing drawn. Tails: common practice, no source (300 mm box later,
 * 150 mm metal box fixed first); board and fitting tails and 10 % allowance: editable defaults of our own.
 */
export function newDocument(title: string): PlanDocument {
  return {
    format: 'zonewright-plan',
    version: 2,
    job: {
      title,
      notes: '',
      nation: 'england',
      edition: 'bs7671-2018-a4',
      newDwelling: false,
      otherCircuitsInStrip: false,
      supply: { earthing: 'TN-C-S', ze: 0.35, nominalV: 230, faultCurrent: null, electrode: null },
      allowances: { percent: 10, tailLater: 300, tailFixed: 150, tailBoard: 1000, tailFitting: 300 },
      routeCosts: {
        metre: 1,
        bend: 0.2,
        drop: 1,
        timberHole: 0.5,
        chaseMetre: 4,
        throughWall: 2,
        insulationMetre: 3,
      },
      ambient: 30,
      testTemperature: 20,
    },
    ...emptyTables(),
    storeys: tableFrom([DEFAULT_STOREY]),
    buildUps: tableFrom(DEFAULT_BUILD_UPS),
    cables: tableFrom(DEFAULT_CABLES),
    boxes: tableFrom(DEFAULT_BOXES),
    counters: { s: 1 },
  };
}

import {
  tableFrom,
  DEFAULT_BOXES,
  DEFAULT_BUILD_UPS,
  DEFAULT_CABLES,
  DEFAULT_STOREY,
} from '../../../src/engine/model/defaults.ts';
import type {
  BuildUp,
  Opening,
  PlanDocument,
  Point,
  RoomTag,
  Run,
  Storey,
  Wall,
  WallNode,
} from '../../../src/engine/model/document.ts';

/** Everything a fabric is made of, in short: nodes as [x, y], walls as [from, to, build-up]. */
export interface PlanParts {
  readonly nodes: Readonly<Record<string, readonly [number, number]>>;
  readonly walls: Readonly<Record<string, readonly [string, string, string?, Partial<Wall>?]>>;
  readonly openings?: readonly Opening[];
  readonly tags?: readonly RoomTag[];
  readonly points?: readonly Point[];
  readonly runs?: readonly Run[];
  readonly storeys?: readonly Storey[];
  readonly buildUps?: readonly BuildUp[];
}

/** A build-up of one board, a core and a board, `thickness` mm in all. */
export function buildUpOf(id: string, thickness: number, frame: BuildUp['frame'] = 'timber'): BuildUp {
  const board = Math.min(12.5, thickness / 4);
  return {
    id,
    name: id,
    frame,
    layers: [
      { material: 'plasterboard', thickness: board, insulated: false },
      { material: 'timber-stud', thickness: thickness - 2 * board, insulated: false },
      { material: 'plasterboard', thickness: board, insulated: false },
    ],
    cableLayer: { left: 1, right: 1 },
  };
}

export function planOf(parts: PlanParts): PlanDocument {
  const nodes: WallNode[] = Object.entries(parts.nodes).map(([id, [x, y]]) => ({ id, storey: 's1', x, y }));
  const walls: Wall[] = Object.entries(parts.walls).map(([id, [from, to, buildUp, more]]) => ({
    id,
    storey: 's1',
    from,
    to,
    buildUp: buildUp ?? 'timber-stud',
    flipped: false,
    top: { kind: 'ceiling' },
    toldFromBehind: { left: null, right: null },
    ...more,
  }));
  return {
    format: 'zonewright-plan',
    version: 2,
    job: {
      title: 'Test plan',
      notes: '',
      nation: 'england',
      edition: 'bs7671-2018-a4',
      newDwelling: false,
      otherCircuitsInStrip: false,
      supply: { earthing: 'TN-C-S', ze: 0.35, nominalV: 230, faultCurrent: null, electrode: null },
      allowances: { percent: 10, tailLater: 300, tailFixed: 150, tailBoard: 1000, tailFitting: 300 },
      routeCosts: {
        metre: 1,
        bend: 1,
        drop: 1,
        timberHole: 1,
        chaseMetre: 1,
        throughWall: 1,
        insulationMetre: 1,
      },
      ambient: 30,
      testTemperature: 20,
    },
    storeys: tableFrom(parts.storeys ?? [DEFAULT_STOREY]),
    tracings: tableFrom([]),
    buildUps: tableFrom([...DEFAULT_BUILD_UPS, ...(parts.buildUps ?? [])]),
    nodes: tableFrom(nodes),
    walls: tableFrom(walls),
    openings: tableFrom(parts.openings ?? []),
    roomTags: tableFrom(parts.tags ?? []),
    things: tableFrom([]),
    points: tableFrom(parts.points ?? []),
    circuits: tableFrom([]),
    runs: tableFrom(parts.runs ?? []),
    cables: tableFrom(DEFAULT_CABLES),
    boxes: tableFrom(DEFAULT_BOXES),
    acceptances: tableFrom([]),
    readings: tableFrom([]),
    counters: {},
  };
}

/** mulberry32: a seeded generator, numbers in [0, 1). */
export function seeded(seed: number): () => number {
  let a = seed >>> 0;
  return () => {
    a = (a + 0x6d2b79f5) | 0;
    let t = Math.imul(a ^ (a >>> 15), 1 | a);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

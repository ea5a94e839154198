import type { Gangs, Point, PlateSize, PointKind } from './document.ts';
import type { Mm } from './units.ts';

/** What a kind of point is, where it goes and how big its plate is. */
export interface PointKindFacts {
  readonly name: string;
  readonly hosts: readonly ('face' | 'ceiling' | 'floor' | 'free')[];
  /** Usual height of the centre above finished floor, common practice (editable per point). */
  readonly height: Mm;
  /** Plate width and height, one gang. Null: no strip comes from it. */
  readonly plate: PlateSize | null;
  /** Plates of this kind come in one trade size. False: every maker's is another, so a strip waits for the real one. */
  readonly plateUsual: boolean;
  readonly boxed: boolean;
  /** Default box depth. Source: trade practice (BS 4662 depths). */
  readonly boxDepth: Mm;
  /** On a mains circuit (data is not). */
  readonly mains: boolean;
  readonly isSwitch: boolean;
  readonly isLight: boolean;
  /** As many gangs as one accessory of this kind comes with. */
  readonly mostGangs: Gangs;
}

const PLATE = { width: 86, height: 86 };
const base: Omit<PointKindFacts, 'name'> = {
  hosts: ['face'],
  height: 450,
  plate: PLATE,
  plateUsual: true,
  boxed: true,
  boxDepth: 35,
  mains: true,
  isSwitch: false,
  isLight: false,
  mostGangs: 1,
};
const aSwitch = { ...base, height: 1200, boxDepth: 25, isSwitch: true } as const;

/**
 * The kinds of point. Plate sizes 86 x 86 and 146 x 86 mm are from memory (BS 1363/BS 4662 plates): defaults.
 * Heights 450 and 1200 mm: Approved Document M vol 1 para 1.18 band; the others common practice.
 */
export const POINT_KINDS: Readonly<Record<PointKind, PointKindFacts>> = {
  socket: { ...base, name: 'Socket-outlet', mostGangs: 2 },
  'switch-1way': { ...aSwitch, name: 'One-way switch', mostGangs: 6 },
  'switch-2way': { ...aSwitch, name: 'Two-way switch', mostGangs: 6 },
  'switch-intermediate': { ...aSwitch, name: 'Intermediate switch', mostGangs: 6 },
  'switch-pull': {
    ...aSwitch,
    name: 'Pull switch',
    hosts: ['ceiling'],
    boxed: false,
    plate: null,
    height: 2400,
  },
  'fused-spur': { ...base, name: 'Fused connection unit', height: 1050 },
  isolator: { ...base, name: 'Isolator', height: 1800 },
  'heavy-outlet': {
    ...base,
    name: 'Cooker or heavy-load outlet',
    height: 600,
    boxDepth: 47,
    mostGangs: 2,
  },
  'ceiling-light': {
    ...base,
    name: 'Ceiling light',
    hosts: ['ceiling'],
    height: 2400,
    plate: null,
    boxed: false,
    isLight: true,
  },
  'wall-light': {
    ...base,
    name: 'Wall light',
    height: 1800,
    plate: { width: 100, height: 100 },
    plateUsual: false,
    isLight: true,
    boxDepth: 25,
  },
  extractor: {
    ...base,
    name: 'Extractor fan',
    hosts: ['face', 'ceiling'],
    height: 2100,
    plate: { width: 160, height: 160 },
    plateUsual: false,
    boxed: false,
  },
  'smoke-alarm': {
    ...base,
    name: 'Smoke alarm',
    hosts: ['ceiling'],
    height: 2400,
    plate: null,
    boxed: false,
  },
  'heat-alarm': { ...base, name: 'Heat alarm', hosts: ['ceiling'], height: 2400, plate: null, boxed: false },
  data: { ...base, name: 'Data outlet', mains: false, mostGangs: 2 },
  'consumer-unit': {
    ...base,
    name: 'Consumer unit',
    hosts: ['face'],
    height: 1400,
    plate: { width: 360, height: 240 },
    plateUsual: false,
    boxed: false,
  },
  joint: {
    ...base,
    name: 'Concealed joint',
    hosts: ['face', 'ceiling', 'floor', 'free'],
    height: 2300,
    plate: null,
    boxed: false,
  },
  'blank-plate': { ...base, name: 'Blank plate', mostGangs: 2 },
};

export const POINT_KIND_NAMES = Object.keys(POINT_KINDS) as PointKind[];

/** Gangs a new point of this kind starts with: sockets are usually double, all else single (common practice, no source). */
export function usualGangs(kind: PointKind): Gangs {
  return kind === 'socket' ? 2 : 1;
}

/** The gangs an accessory of this kind can have, of those wished for. */
export function gangsFor(kind: PointKind, wish: Gangs): Gangs {
  return wish <= POINT_KINDS[kind].mostGangs ? wish : POINT_KINDS[kind].mostGangs;
}

/** Switches share a one-gang plate up to this many gangs: common practice, no source. */
const SWITCHES_ON_ONE_PLATE = 3;
/** Up to this many they share a two-gang plate: common practice. More come on plates of several makers' sizes. */
const SWITCHES_ON_TWO_PLATES = 4;

/** Gangs of the back box, and of the plate over it: one to three switches go in one (common practice). */
export function boxGangs(kind: PointKind, gangs: Gangs): 1 | 2 {
  const most = POINT_KINDS[kind].isSwitch ? SWITCHES_ON_ONE_PLATE : 1;
  return gangs > most ? 2 : 1;
}

type Plated = Pick<Point, 'kind' | 'gangs'> & Partial<Pick<Point, 'plate'>>;

/**
 * Plate size of a point, mm: as typed, else what is usual for its kind; null when it has none on a wall. A plate over a
 * two-gang box is 146 mm wide (memory, BS 4662).
 */
export function plateOf(point: Plated): PlateSize | null {
  const usual = POINT_KINDS[point.kind].plate;
  if (usual === null) return null;
  if (point.plate) return point.plate;
  return boxGangs(point.kind, point.gangs) === 2 ? { width: 146, height: usual.height } : usual;
}

/** Is the plate's size only a guess: neither typed nor of a trade size? Then its strips are disputed. */
export function plateGuessed(point: Plated): boolean {
  const { plateUsual, isSwitch } = POINT_KINDS[point.kind];
  return !point.plate && (!plateUsual || (isSwitch && point.gangs > SWITCHES_ON_TWO_PLATES));
}

const GANG_WORDS = ['one', 'two', 'three', 'four', 'five', 'six'] as const;

/** "two-gang" and so on. */
export const gangWord = (gangs: Gangs): string => `${GANG_WORDS[gangs - 1] as string}-gang`;

import type { PointKind } from './document.ts';
import type { Mm } from './units.ts';

/** What a kind of point is, where it goes and how big its plate is. */
export interface PointKindFacts {
  readonly name: string;
  readonly hosts: readonly ('face' | 'ceiling' | 'floor' | 'free')[];
  /** Usual height of the centre above finished floor, common practice (editable per point). */
  readonly height: Mm;
  /** Plate width and height, one gang; a two-gang plate is 146 mm wide. Null: no strip comes from it. */
  readonly plate: { readonly width: Mm; readonly height: Mm } | null;
  readonly boxed: boolean;
  /** Default box depth. Source: trade practice (BS 4662 depths). */
  readonly boxDepth: Mm;
  /** On a mains circuit (data is not). */
  readonly mains: boolean;
  readonly isSwitch: boolean;
  readonly isLight: boolean;
  readonly twoGang: boolean;
}

const PLATE = { width: 86, height: 86 };
const base: Omit<PointKindFacts, 'name'> = {
  hosts: ['face'],
  height: 450,
  plate: PLATE,
  boxed: true,
  boxDepth: 35,
  mains: true,
  isSwitch: false,
  isLight: false,
  twoGang: false,
};
const aSwitch = { ...base, height: 1200, boxDepth: 25, isSwitch: true } as const;

/**
 * The kinds of point. Plate sizes 86 x 86 and 146 x 86 mm are from memory (BS 1363/BS 4662 plates): defaults.
 * Heights 450 and 1200 mm: Approved Document M vol 1 para 1.18 band; the others common practice.
 */
export const POINT_KINDS: Readonly<Record<PointKind, PointKindFacts>> = {
  socket: { ...base, name: 'Socket-outlet', twoGang: true },
  'switch-1way': { ...aSwitch, name: 'One-way switch', twoGang: true },
  'switch-2way': { ...aSwitch, name: 'Two-way switch', twoGang: true },
  'switch-intermediate': { ...aSwitch, name: 'Intermediate switch' },
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
  'heavy-outlet': { ...base, name: 'Cooker or heavy-load outlet', height: 600, boxDepth: 47 },
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
    isLight: true,
    boxDepth: 25,
  },
  extractor: {
    ...base,
    name: 'Extractor fan',
    hosts: ['face', 'ceiling'],
    height: 2100,
    plate: { width: 160, height: 160 },
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
  data: { ...base, name: 'Data outlet', mains: false, twoGang: true },
  'consumer-unit': {
    ...base,
    name: 'Consumer unit',
    hosts: ['face'],
    height: 1400,
    plate: { width: 360, height: 240 },
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
  'blank-plate': { ...base, name: 'Blank plate', twoGang: true },
};

export const POINT_KIND_NAMES = Object.keys(POINT_KINDS) as PointKind[];

/** Gangs a new point of this kind starts with: sockets are usually double, all else single (common practice, no source). */
export function usualGangs(kind: PointKind): 1 | 2 {
  return kind === 'socket' ? 2 : 1;
}

/** Plate size of a point, mm; null when it has none on a wall. Two-gang plates: 146 mm wide (memory, BS 4662). */
export function plateOf(kind: PointKind, gangs: 1 | 2): { width: Mm; height: Mm } | null {
  const plate = POINT_KINDS[kind].plate;
  if (plate === null) return null;
  return gangs === 2 && POINT_KINDS[kind].twoGang ? { width: 146, height: plate.height } : plate;
}

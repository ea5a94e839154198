import type { Cable } from '../../model/document.ts';
import type { Cited } from './cited.ts';

/** Line conductor sizes of flat twin and earth, mm². */
export const SIZES = ['1.0', '1.5', '2.5', '4', '6', '10', '16'] as const;
export type Size = (typeof SIZES)[number];

/** The key of a size in the tables; null when the tables have no such size. */
export function sizeOf(csa: number): Size | null {
  return SIZES.find((s) => Number(s) === csa) ?? null;
}

/** The row of a cable in Table 4D5; null for a cable that the table is not of, or of a size it has not. */
export const ratedSize = (cable: Pick<Cable, 'csa' | 'ratedBy'>): Size | null =>
  cable.ratedBy === '4D5' ? sizeOf(cable.csa) : null;

/** Why a cable has no row: as a sentence goes on. */
export const unratedBecause = (cable: Pick<Cable, 'name' | 'csa' | 'ratedBy'>): string =>
  cable.ratedBy === null
    ? `nobody has said which table rates "${cable.name}": not checked`
    : `Table 4D5 has no ${cable.csa} mm² here`;

/** Reference methods of Table 4A2 that have a column here. */
export type Method = 'A' | 'B' | 'C' | '100' | '101' | '102' | '103';

/** Table 4D5: 70 °C thermoplastic flat cable with protective conductor, at 30 °C. */
export const TABLE_4D5: Cited<Readonly<Record<Exclude<Method, 'B'>, Readonly<Record<Size, number>>>>> = {
  values: {
    C: { '1.0': 16, '1.5': 20, '2.5': 27, '4': 37, '6': 47, '10': 64, '16': 85 },
    A: { '1.0': 11.5, '1.5': 14.5, '2.5': 20, '4': 26, '6': 32, '10': 44, '16': 57 },
    '100': { '1.0': 13, '1.5': 16, '2.5': 21, '4': 27, '6': 34, '10': 45, '16': 57 },
    '101': { '1.0': 10.5, '1.5': 13, '2.5': 17, '4': 22, '6': 27, '10': 36, '16': 46 },
    '102': { '1.0': 13, '1.5': 16, '2.5': 21, '4': 27, '6': 35, '10': 47, '16': 63 },
    '103': { '1.0': 8, '1.5': 10, '2.5': 13.5, '4': 17.5, '6': 23.5, '10': 32, '16': 42.5 },
  },
  unit: 'A',
  source: 'BS 7671 Table 4D5 (70 °C thermoplastic flat with cpc, 30 °C ambient)',
  evidence: 'two-sources',
};

/** The method B column: seen at one page only. */
export const TABLE_4D5_B: Cited<Readonly<Record<Size, number>>> = {
  values: { '1.0': 13, '1.5': 16.5, '2.5': 23, '4': 30, '6': 38, '10': 52, '16': 69 },
  unit: 'A',
  source: 'BS 7671 Table 4D5, method B column (equals 4D2A two-core)',
  evidence: 'one-source',
};

/** Tabulated current-carrying capacity, A. */
export const ratingOf = (method: Method, size: Size): number =>
  method === 'B' ? TABLE_4D5_B.values[size] : TABLE_4D5.values[method][size];

/** Voltage drop of both conductors together at 70 °C. */
export const MILLIVOLTS: Cited<Readonly<Record<Size, number>>> = {
  values: { '1.0': 44, '1.5': 29, '2.5': 18, '4': 11, '6': 7.3, '10': 4.4, '16': 2.8 },
  unit: 'mV/A/m',
  source: 'BS 7671 Table 4D5',
  evidence: 'two-sources',
};

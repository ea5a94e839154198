import type { Cited } from './cited.ts';

/** Bunched in air, on a surface, embedded or enclosed: by number of circuits. */
export const GROUP_BUNCHED: Cited<Readonly<Record<string, number>>> = {
  values: {
    '1': 1,
    '2': 0.8,
    '3': 0.7,
    '4': 0.65,
    '5': 0.6,
    '6': 0.57,
    '7': 0.54,
    '8': 0.52,
    '9': 0.5,
    '12': 0.45,
    '16': 0.41,
    '20': 0.38,
  },
  unit: 'factor by number of circuits',
  source: 'BS 7671 Table 4C1, item 1',
  evidence: 'two-sources',
};

/** Clipped side by side in one layer on a wall, touching. */
export const GROUP_LAYER: Cited<Readonly<Record<string, number>>> = {
  values: { '1': 1, '2': 0.85, '3': 0.79, '4': 0.75, '5': 0.73, '6': 0.72, '7': 0.72, '8': 0.71, '9': 0.7 },
  unit: 'factor by number of circuits',
  source: 'BS 7671 Table 4C1, item 2',
  evidence: 'two-sources',
};

/** The factor of the next number of circuits that has a row; beyond the last row, the last. */
export function groupFactor(table: Cited<Readonly<Record<string, number>>>, circuits: number): number {
  const listed = Object.keys(table.values).map(Number);
  const row = listed.filter((n) => n >= circuits).sort((a, b) => a - b)[0] ?? Math.max(...listed);
  return table.values[String(row)] as number;
}

/** A cable that carries no more than this share of its grouped rating may be left out of the count. */
export const LIGHTLY_LOADED: Cited<number> = {
  values: 0.3,
  unit: 'share of the grouped rating',
  source: 'BS 7671 523.5 and the notes to Table 4C1',
  evidence: 'two-sources',
};

/** Ambient air temperature, 70 °C thermoplastic. */
export const AMBIENT: Cited<Readonly<Record<string, number>>> = {
  values: { '25': 1.03, '30': 1, '35': 0.94, '40': 0.87, '45': 0.79, '50': 0.71, '55': 0.61, '60': 0.5 },
  unit: 'factor by °C',
  source: 'BS 7671 Table 4B1',
  evidence: 'two-sources',
};

/** The factor of the next warmer row (never between rows); null above the last. Below 25 °C the 25 °C row stands. */
export function ambientFactor(celsius: number): number | null {
  const listed = Object.keys(AMBIENT.values)
    .map(Number)
    .sort((a, b) => a - b);
  const row = listed.find((t) => t >= celsius);
  return row === undefined ? null : (AMBIENT.values[String(row)] as number);
}

/** Wholly surrounded by thermal insulation: by the length surrounded, mm. The last row is 500 mm and more. */
export const SURROUNDED: Cited<Readonly<Record<string, number>>> = {
  values: { '50': 0.88, '100': 0.78, '200': 0.63, '400': 0.51, '500': 0.5 },
  unit: 'factor by mm surrounded',
  source: 'BS 7671:2018 Table 52.2 and 523.9 (A4:2026 Appendix 4, 2.6)',
  evidence: 'two-sources',
};

/** Conductors above this are not covered by the table of surrounded lengths. */
export const SURROUNDED_MAX_CSA: Cited<number> = {
  values: 10,
  unit: 'mm²',
  source: 'BS 7671:2018 Table 52.2 and 523.9 (A4:2026 Appendix 4, 2.6)',
  evidence: 'two-sources',
};

/** No interpolation: the next longer row; nothing surrounded is 1. Source as the table. */
export function surroundedFactor(length: number): number {
  if (length <= 0) return 1;
  const rows = Object.keys(SURROUNDED.values)
    .map(Number)
    .sort((a, b) => a - b);
  const row = rows.find((r) => r >= length) ?? (rows.at(-1) as number);
  return SURROUNDED.values[String(row)] as number;
}

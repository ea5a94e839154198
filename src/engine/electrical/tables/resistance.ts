import type { Earthing } from '../../model/document.ts';
import type { Ohm } from '../../model/units.ts';
import type { Cited } from './cited.ts';
import type { Size } from './ratings.ts';

/** Greatest resistance of a copper conductor at 20 °C. */
export const COPPER_20: Cited<Readonly<Record<Size, number>>> = {
  values: { '1.0': 18.1, '1.5': 12.1, '2.5': 7.41, '4': 4.61, '6': 3.08, '10': 1.83, '16': 1.15 },
  unit: 'mΩ/m at 20 °C',
  source: 'BS EN 60228 class 1 and 2',
  evidence: 'two-sources',
};

/** Protective conductor of flat twin and earth, by line conductor. */
export const CPC: Cited<Readonly<Record<Size, number>>> = {
  values: { '1.0': 1, '1.5': 1, '2.5': 1.5, '4': 1.5, '6': 2.5, '10': 4, '16': 6 },
  unit: 'mm²',
  source: 'BS 6004 Table 4',
  evidence: 'two-sources',
};

/** Resistance of copper rises by this share for each °C from 20. The source prints the factor 1 + 0.004 x 50 = 1.2. */
export const COPPER_PER_DEGREE: Cited<number> = {
  values: 0.004,
  unit: 'per °C from 20 °C',
  source: 'IET On-Site Guide Table I3 (B3)',
  evidence: 'two-sources',
};

/** From 20 °C to the working temperature of a cpc in the cable, 70 °C. */
export const FACTOR_70: Cited<number> = {
  values: 1.2,
  unit: 'factor',
  source: 'IET On-Site Guide Table I3 (B3), cpc in the cable, 70 °C',
  evidence: 'two-sources',
};

/** What distributors usually declare at most, where the supply's own is not known. */
export const TYPICAL_ZE: Cited<Readonly<Record<Exclude<Earthing, 'TT'>, Ohm>>> = {
  values: { 'TN-C-S': 0.35, 'TN-S': 0.8 },
  unit: 'Ω',
  source: 'typical maximum declared by distributors',
  evidence: 'two-sources',
};

/** As TYPICAL_ZE, of a TT supply. */
export const TYPICAL_ZE_TT: Cited<Ohm> = {
  values: 21,
  unit: 'Ω',
  source: 'typical maximum declared by distributors, TT',
  evidence: 'memory',
};

const BY_CSA = new Map(Object.entries(COPPER_20.values).map(([size, ohm]) => [Number(size), ohm]));

/** Ω of one metre of copper of a size in mm² at a temperature in °C; null when the table has no such size. */
export function ohmPerMetre(csa: number, celsius: number): Ohm | null {
  const milliohms = BY_CSA.get(csa);
  if (milliohms === undefined) return null;
  return (milliohms / 1000) * (1 + COPPER_PER_DEGREE.values * (celsius - 20));
}

/** Earth-fault loop at a point: Ze + (R1 + R2) x the factor for the temperature the cable is taken to have. */
export const loopImpedance = (ze: Ohm, r1r2: Ohm, factor: number): Ohm => ze + r1r2 * factor;

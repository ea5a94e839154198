import type { Device } from '../../model/document.ts';
import type { Amp, Ohm } from '../../model/units.ts';
import type { Cited } from './cited.ts';

/** Multiple of its rating at which a breaker trips at once, upper end of its band. */
export const TRIP_MULTIPLE: Cited<Readonly<Record<Device['type'], number>>> = {
  values: { B: 5, C: 10 },
  unit: 'x rated current',
  source: 'BS 7671 Table 41.3',
  evidence: 'two-sources',
};

export const C_MIN: Cited<number> = {
  values: 0.95,
  unit: 'factor on the nominal voltage',
  source: 'BS 7671 Table 41.3',
  evidence: 'two-sources',
};

/** A reading taken cold should not be above this share of the limit. */
export const COLD_SHARE: Cited<number> = {
  values: 0.8,
  unit: 'share of the limit',
  source: 'BS 7671 Table 41.3, 80 % of its values (rule of thumb for readings at ambient temperature)',
  evidence: 'two-sources',
};

/** Greatest earth-fault loop impedance for a breaker, Ω: V x 0.95 / (multiple x rating), not rounded. */
export function maxZs(type: Device['type'], rating: Amp, nominalV: number): Ohm {
  return (nominalV * C_MIN.values) / (TRIP_MULTIPLE.values[type] * rating);
}

/** Where an RCD gives the protection against faults (TT): Zs x its residual current may not be above this. */
export const TOUCH_VOLTAGE: Cited<number> = {
  values: 50,
  unit: 'V',
  source: 'BS 7671 411.5.3',
  evidence: 'memory',
};

/** An earth electrode above this may not stay as it was measured. */
export const TT_ELECTRODE: Cited<Ohm> = {
  values: 200,
  unit: 'Ω',
  source: 'BS 7671 Table 41.5, note 2',
  evidence: 'one-source',
};

export const VOLTAGE_DROP: Cited<{ readonly lighting: number; readonly other: number }> = {
  values: { lighting: 3, other: 5 },
  unit: '% of the nominal voltage',
  source: 'BS 7671 Appendix 4, 6.4 and 525.202 (public low-voltage supply)',
  evidence: 'two-sources',
};

/** k of copper with 70 °C insulation, for the adiabatic equation. */
export const ADIABATIC_K: Cited<number> = {
  values: 115,
  unit: 'A s^0.5 / mm²',
  source: 'BS 7671 Tables 43.1 and 54.3',
  evidence: 'memory',
};

/** Time taken for a breaker that trips at once, where the maker's let-through energy is not known. */
export const INSTANT_TRIP: Cited<number> = {
  values: 0.1,
  unit: 's',
  source: 'BS 7671 434.5.2',
  evidence: 'memory',
};

export const INSULATION_TEST: Cited<{ readonly megohm: number; readonly volts: number }> = {
  values: { megohm: 1, volts: 500 },
  unit: 'MΩ at V d.c.',
  source: 'BS 7671 643.3.2, Table 64',
  evidence: 'two-sources',
};

/** Readings of a ring that should agree may differ by this. */
export const RING_TOLERANCE: Cited<Ohm> = {
  values: 0.05,
  unit: 'Ω',
  source: 'IET Guidance Note 3 and On-Site Guide 10.3',
  evidence: 'two-sources',
};

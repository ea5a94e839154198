import type { Cited } from './cited.ts';

/** Whole loop of a 32 A ring in 2.5/1.5 mm², spurs not counted. */
export const RING_MAX_METRES: Cited<number> = {
  values: 106,
  unit: 'm',
  source: 'IET On-Site Guide Table 7.1(i) (32 A type B, 2.5/1.5 mm², 30 mA RCD)',
  evidence: 'two-sources',
};

/** Load taken for the voltage drop of a ring: so much at its far point, the rest of the device spread evenly. */
export const RING_FAR_LOAD: Cited<number> = {
  values: 20,
  unit: 'A at the far point',
  source: 'IET On-Site Guide 7.2.2',
  evidence: 'one-source',
};

export const RING_MIN_RATING: Cited<number> = {
  values: 20,
  unit: 'A each leg',
  source: 'BS 7671 433.1.204',
  evidence: 'two-sources',
};

/** What a ring final circuit is wired in and protected by: devices in A, and the least conductors in mm². */
export const RING_STANDARD: Cited<{
  readonly devices: readonly number[];
  readonly line: number;
  readonly cpc: number;
}> = {
  values: { devices: [30, 32], line: 2.5, cpc: 1.5 },
  unit: 'A, mm², mm²',
  source: 'BS 7671 433.1.204 (device, line); cpc: IET On-Site Guide Table 7.1(i) and BS 7671 Appendix 15',
  evidence: 'two-sources',
};

/** The most a fuse of a plug or of a fused connection unit carries: what takes more has a circuit of its own. */
export const FUSE_MAX: Cited<number> = {
  values: 13,
  unit: 'A',
  source: 'IET On-Site Guide 7.2.2, BS 7671 Appendix 15 (fuses of spurs)',
  evidence: 'two-sources',
};

/** A bundle that ends within this of its board is put to the electrician as one question, and is no pass. */
export const BOARD_BUNDLE: Cited<number> = {
  values: 3000,
  unit: 'mm from the board',
  source: 'common practice: the drop or rise at a board and the first bend',
  evidence: 'memory',
};

/** Circuits of a dwelling that may touch in one layer by guidance, quoted in two places, its conditions not seen whole. */
export const CONVENTIONAL_LAYER: Cited<number> = {
  values: 5,
  unit: 'standard circuits side by side in one layer',
  source: 'IET On-Site Guide 7.2.1 (i)',
  evidence: 'one-source',
};

/** Floor area served by a circuit of socket-outlets. */
export const AREAS: Cited<{ readonly ring32: number; readonly radial32: number; readonly radial20: number }> =
  {
    values: { ring32: 100, radial32: 75, radial20: 50 },
    unit: 'm²',
    source: 'BS 7671 Appendix 15, IET On-Site Guide Appendix H',
    evidence: 'two-sources',
  };

/** Points an unfused spur may feed. */
export const SPUR_FEEDS: Cited<number> = {
  values: 1,
  unit: 'single or twin socket-outlet or fixed item',
  source: 'IET On-Site Guide 7.2.2, BS 7671 Appendix 15',
  evidence: 'two-sources',
};

/** Share of the lighting load that is on at once. */
export const LIGHTING_DIVERSITY: Cited<number> = {
  values: 0.66,
  unit: 'share',
  source: 'IET On-Site Guide Table A2',
  evidence: 'two-sources',
};

/** Of a cooker: so much in full, a share of the rest, and an addition for a socket-outlet in its control unit. */
export const COOKER_DIVERSITY: Cited<{
  readonly full: number;
  readonly rest: number;
  readonly socket: number;
}> = {
  values: { full: 10, rest: 0.3, socket: 5 },
  unit: 'A, share, A',
  source: 'IET On-Site Guide Table A2',
  evidence: 'two-sources',
};

/** Bends: inner radius as a multiple of the cable's size (major axis of a flat cable), by the size up to mm. */
export const BENDS: Cited<Readonly<Record<string, number>>> = {
  values: { '10': 3, '25': 4, '1000': 6 },
  unit: 'x overall size, by size up to mm',
  source: 'IET On-Site Guide Table D5',
  evidence: 'memory',
};

/** Least inner radius of a bend, mm. */
export function bendRadius(width: number): number {
  const row = Object.keys(BENDS.values)
    .map(Number)
    .sort((a, b) => a - b)
    .find((limit) => width <= limit);
  return width * (BENDS.values[String(row ?? 1000)] as number);
}

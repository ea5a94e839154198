import type { Ohm } from '../model/units.ts';
import type { ExpectedReading } from './readings.ts';
import { INSULATION_TEST, RING_TOLERANCE } from './tables/limits.ts';

/** A reading held against what the drawing says. It never says that anything has passed: a person decides that. */
export interface Explanation {
  readonly agrees: boolean;
  /** Reading less expectation, Ω. */
  readonly off: Ohm;
  /** One plain sentence about the reading, then what might explain it, the likeliest first. */
  readonly says: string;
  readonly because: readonly string[];
}

/** A meter shows hundredths of an ohm: half a digit more on each side. */
export const METER_STEP: Ohm = 0.01;

const ohms = (r: Ohm): string => `${r.toFixed(2)} Ω`;
const metres = (m: number): string => `${m.toFixed(1)} m`;

/** How well a suggested cause must fit the reading to be told: a share of the expectation, and never finer than the meter. */
const fits = (would: Ohm, reading: Ohm, expected: Ohm): boolean =>
  Math.abs(would - reading) <= Math.max(METER_STEP, 0.04 * expected);

/** Another size of cable all the way, or in one run, that would read so. */
function wrongSizes({ expected, parts }: ExpectedReading, reading: Ohm): string[] {
  const told: string[] = [];
  for (const { size } of parts[0]?.inSizes ?? []) {
    const would = parts.reduce((sum, p) => sum + (p.inSizes.find((x) => x.size === size)?.ohm ?? p.ohm), 0);
    if (fits(would, reading, expected)) told.push(`${size} mm² all the way would read so`);
  }
  if (told.length > 0 || parts.length < 2) return told;
  for (const part of parts) {
    for (const { size, ohm } of part.inSizes) {
      const would = expected - part.ohm + ohm;
      if (Math.abs(ohm - part.ohm) > 2 * METER_STEP && Math.abs(would - reading) <= METER_STEP / 2)
        told.push(`${part.label} in ${size} mm² instead of ${part.csa} mm² would read so`);
    }
  }
  return told;
}

/**
 * What would explain a reading of resistance off the prediction. `others`: expectations of the same circuit, for cores
 * that are swapped. A reading within the band and the meter's step agrees with the drawing, which is all it shows.
 */
export function explainReading(
  expected: ExpectedReading,
  reading: Ohm,
  others: readonly ExpectedReading[] = [],
): Explanation {
  const off = reading - expected.expected;
  const agrees = reading >= expected.low - METER_STEP && reading <= expected.high + METER_STEP;
  const band = `${ohms(expected.low)} to ${ohms(expected.high)}`;
  if (agrees) {
    return {
      agrees,
      off,
      says: `${ohms(reading)} agrees with the drawing (${band}). That is all it shows: who tests decides.`,
      because: [],
    };
  }
  const says = `${ohms(reading)} is ${ohms(Math.abs(off))} ${off > 0 ? 'above' : 'below'} the ${ohms(expected.expected)} the drawing gives (${band}).`;
  if (!Number.isFinite(reading) || reading > 20 * Math.max(expected.expected, 0.05))
    return { agrees, off, says, because: ['an open conductor: a joint not made, or an end not connected'] };
  const because: string[] = [];
  for (const part of expected.parts) {
    const target = off < 0 ? expected.expected - part.ohm : expected.expected + part.ohm;
    if (!fits(target, reading, expected.expected)) continue;
    because.push(
      off < 0
        ? `${part.label} (${metres(part.metres)}) missing from the way, or bridged, would read so`
        : `another length like ${part.label} (${metres(part.metres)}) in the way would read so`,
    );
  }
  const swapped = others.find(
    (o) =>
      o.kind !== expected.kind &&
      o.point === expected.point &&
      Math.abs(o.expected - expected.expected) > METER_STEP &&
      reading >= o.low - METER_STEP &&
      reading <= o.high + METER_STEP,
  );
  if (swapped !== undefined) because.push(`two cores swapped: ${NAMES[swapped.kind]} should read so`);
  because.push(...wrongSizes(expected, reading));
  const length = expected.parts.reduce((sum, p) => sum + p.metres, 0);
  const ohm = expected.parts.reduce((sum, p) => sum + p.ohm, 0);
  if (length > 0 && ohm > 0) {
    const difference = Math.abs(off) / (ohm / length);
    because.push(
      `${metres(difference)} ${off > 0 ? 'more' : 'less'} cable than drawn would read so${off < 0 ? ': a leg left out or another way taken' : ''}`,
    );
  }
  const crossed = expected.kind === 'ring-line-neutral' || expected.kind === 'ring-line-earth';
  if (crossed) because.push('the two ends not crossed over, a spur, or a ring bridged across would read off');
  if (off > RING_TOLERANCE.values || (off > 0 && because.length === 0))
    because.push(`a loose joint or a hot one of about ${ohms(off)} would read so`);
  return { agrees, off, says, because };
}

const NAMES: Readonly<Record<ExpectedReading['kind'], string>> = {
  r1: 'the line (r1)',
  rn: 'the neutral (rn)',
  r2: 'the protective conductor (r2)',
  'ring-line-neutral': 'line to neutral, crossed',
  'ring-line-earth': 'line to protective conductor, crossed',
  r1r2: 'R1 + R2',
  'insulation-line-neutral': 'insulation, line to neutral',
  'insulation-line-earth': 'insulation, live to earth',
  continuity: 'continuity',
};

/** An insulation reading held against the least value, MΩ. Above it is no pass either: a person decides. */
export function explainInsulation(megohm: number): Explanation {
  const { megohm: least, volts } = INSULATION_TEST.values;
  const off = megohm - least;
  return off >= 0
    ? {
        agrees: true,
        off,
        says: `${megohm} MΩ is not below the least value of ${least} MΩ at ${volts} V. Who tests decides.`,
        because: [],
      }
    : {
        agrees: false,
        off,
        says: `${megohm} MΩ is below the least value of ${least} MΩ at ${volts} V.`,
        because: ['a cable damaged by a fixing', 'a load or neon still connected', 'damp in an open end'],
      };
}

import type { Id } from '../model/document.ts';
import type { Amp } from '../model/units.ts';
import { ampsOf, takesLoad, type DesignCurrent } from './loads.ts';
import { ringOrder, treeFrom, wayUp, type Net } from './net.ts';
import { nodalVolts } from './solve.ts';
import { RING_FAR_LOAD } from './tables/circuits.ts';
import { VOLTAGE_DROP } from './tables/limits.ts';
import { MILLIVOLTS, sizeOf } from './tables/ratings.ts';
import { RING_MIN_RATING } from './tables/circuits.ts';
import type { Wiring } from './wiring.ts';

/** Greatest drop of a circuit: at which point, and how it was worked out. */
export interface VoltageDrop {
  readonly volts: number;
  readonly limit: number;
  readonly at: Id;
  readonly working: string;
}

/** mV for each A and m, summed over cables of any length in mm: V for each A. Null for a size without a row. */
function voltsPerAmp(csa: number | undefined, mm: number): number | null {
  const size = csa === undefined ? null : sizeOf(csa);
  return size === null ? null : (MILLIVOLTS.values[size] * mm) / 1e6;
}

/** Drop of a plain length of cable, V: I x mV/A/m x L; of a ring fed from both ends, a quarter of it. */
export function dropOf(amps: Amp, millivolts: number, metres: number, ring: boolean): number {
  return (amps * millivolts * metres) / 1000 / (ring ? 4 : 1);
}

/**
 * Correction of a drop for a cable that runs below 70 °C: (230 + 70 - (Ca² Cg² - Ib²/It²)(70 - 30)) / (230 + 70).
 * BS 7671 Appendix 4, 6.1 (formula from memory; its value for Ib 13, It 20 is 0.923 as the reference has it).
 */
export function coolerFactor(ib: Amp, it: Amp, caCg: number): number {
  return (300 - (caCg ** 2 - (ib / it) ** 2) * 40) / 300;
}

/** Limit of a circuit, V: 3 % for lighting, 5 % for others. */
export function dropLimit(net: Pick<Net, 'circuit'>, nominalV: number): number {
  const { lighting, other } = VOLTAGE_DROP.values;
  return (nominalV * (net.circuit.topology === 'lighting' ? lighting : other)) / 100;
}

/**
 * Ring: 20 A at the point where it drops most and the rest of the design current spread evenly over the others, by
 * the nodal equations with the drawn lengths, at the temperature of legs that carry half of 26 A in 20 A of rating.
 */
export function ringDrop(net: Net, ib: Amp, limit: number): VoltageDrop | null {
  const order = ringOrder(net);
  const board = net.board?.id;
  if (order.length < 2 || board === undefined) return null;
  const ids = [board, ...net.points.filter((p) => p.id !== board).map((p) => p.id)];
  const resistors = [];
  for (const e of net.edges) {
    const ohm = voltsPerAmp(e.cable?.csa, Math.max(e.lengthMm, 1));
    if (ohm === null) return null;
    resistors.push({ a: ids.indexOf(e.a), b: ids.indexOf(e.b), ohm });
  }
  const far = Math.min(RING_FAR_LOAD.values, ib);
  const others = ids.length - 2;
  let worst: { volts: number; at: Id } | null = null;
  for (let k = 1; k < ids.length; k++) {
    const even = others > 0 ? (ib - far) / others : 0;
    const drawn = ids.map((_, i) => (i === 0 ? 0 : i === k ? far + (others > 0 ? 0 : ib - far) : even));
    const volts = Math.max(...nodalVolts(ids.length, resistors, drawn).map((v) => -v));
    if (worst === null || volts > worst.volts) worst = { volts, at: ids[k] as Id };
  }
  if (worst === null) return null;
  const cooler = coolerFactor(RING_EQUIVALENT / 2, RING_MIN_RATING.values, 1);
  return {
    volts: worst.volts * cooler,
    limit,
    at: worst.at,
    working: `${far} A at the far point and ${(ib - far).toFixed(1)} A evenly, x ${cooler.toFixed(3)} as the legs run below 70 °C`,
  };
}

/** 20 A at the far point and 12 A spread evenly act as this at the far point (OSG 7.2.2). */
export const RING_EQUIVALENT: Amp = RING_FAR_LOAD.values + (32 - RING_FAR_LOAD.values) / 2;

/**
 * Radial and lighting: each load's current along its own line, through its switches, and back by the neutral; cores
 * that several loads share carry the sum. Where the loads are not stated the whole design current is taken at the
 * point furthest by resistance.
 */
export function branchDrop(
  net: Net,
  wiring: Wiring,
  current: DesignCurrent,
  limit: number,
  nominalV: number,
): VoltageDrop | null {
  if (current.amps === null || net.board === null) return null;
  const perAmp: number[] = [];
  for (const e of net.edges) {
    const volts = voltsPerAmp(e.cable?.csa, e.lengthMm);
    if (volts === null) return null;
    perAmp.push(volts);
  }
  const half = (edge: number): number => (perAmp[edge] as number) / 2;
  const loads = new Map<Id, Amp>();
  if (current.how === 'loads') {
    for (const p of net.points) {
      if (takesLoad(p) && p.load !== null && wiring.loads.has(p.id))
        loads.set(p.id, ampsOf(p.load, nominalV));
    }
  } else {
    const tree = treeFrom(net, [net.board.id], () => true);
    const far = [...wiring.loads.keys()]
      .map((id) => ({ id, volts: wayUp(tree, id).reduce((sum, e) => sum + (perAmp[e] as number), 0) }))
      .reduce<{ id: Id; volts: number } | null>((a, b) => (a === null || b.volts > a.volts ? b : a), null);
    if (far !== null) loads.set(far.id, current.amps);
  }
  const carried = new Map<string, Amp>();
  const carry = (key: string, amps: Amp) => carried.set(key, (carried.get(key) ?? 0) + amps);
  for (const [id, amps] of loads) {
    const path = wiring.loads.get(id);
    for (const { edge, core } of path?.line ?? []) carry(`${edge} ${core}`, amps);
    for (const edge of path?.neutral ?? []) carry(`${edge} N`, amps);
  }
  let worst: { volts: number; at: Id } | null = null;
  for (const id of loads.keys()) {
    const path = wiring.loads.get(id);
    const out = (path?.line ?? []).reduce(
      (sum, { edge, core }) => sum + (carried.get(`${edge} ${core}`) ?? 0) * half(edge),
      0,
    );
    const back = (path?.neutral ?? []).reduce((sum, e) => sum + (carried.get(`${e} N`) ?? 0) * half(e), 0);
    if (worst === null || out + back > worst.volts) worst = { volts: out + back, at: id };
  }
  if (worst === null) return null;
  const working =
    current.how === 'loads'
      ? 'each load along its own line, through its switches, and back'
      : `${current.amps.toFixed(1)} A taken at the furthest point`;
  return { ...worst, limit, working };
}

import type { Cable, Id } from '../model/document.ts';
import type { Amp } from '../model/units.ts';
import { ampsOf, takesLoad, type DesignCurrent } from './loads.ts';
import { ringOrder, treeFrom, wayUp, type Net } from './net.ts';
import { POINT_KINDS } from '../model/pointKinds.ts';
import { nodalVolts } from './solve.ts';
import { RING_FAR_LOAD } from './tables/circuits.ts';
import { VOLTAGE_DROP } from './tables/limits.ts';
import { MILLIVOLTS, ratedSize } from './tables/ratings.ts';
import { RING_MIN_RATING } from './tables/circuits.ts';
import type { Wiring } from './wiring.ts';

/** Greatest drop of a circuit: at which point, and how it was worked out. */
export interface VoltageDrop {
  readonly volts: number;
  readonly limit: number;
  readonly at: Id;
  readonly working: string;
}

/** mV for each A and m, summed over cables of any length in mm: V for each A. Null for a cable without a row. */
function voltsPerAmp(cable: Cable | null, mm: number): number | null {
  const size = cable === null ? null : ratedSize(cable);
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

/** Limit at a point, V: 3 % for a light on any circuit and for all of a lighting circuit, 5 % for others. */
export function dropLimit(net: Pick<Net, 'circuit' | 'points'>, point: Id, nominalV: number): number {
  const { lighting, other } = VOLTAGE_DROP.values;
  const kind = net.points.find((p) => p.id === point)?.kind;
  const lit = net.circuit.topology === 'lighting' || (kind !== undefined && POINT_KINDS[kind].isLight);
  return (nominalV * (lit ? lighting : other)) / 100;
}

/** The drop that takes most of its limit. */
function nearestLimit(net: Net, nominalV: number, drops: Iterable<readonly [Id, number]>) {
  let worst: { volts: number; at: Id; limit: number } | null = null;
  for (const [at, volts] of drops) {
    const limit = dropLimit(net, at, nominalV);
    if (worst === null || volts / limit > worst.volts / worst.limit) worst = { volts, at, limit };
  }
  return worst;
}

/** A leg of a ring: what a cable may carry there by its table, A, and the factors of the air and of its neighbours. */
export interface RingLeg {
  readonly it: Amp | null;
  readonly ca: number | null;
  readonly cg: number;
  readonly ci: number;
}

/**
 * The factor for legs of a ring that run below 70 °C: by the leg that runs warmest, in the air and beside the cables it
 * really has. No cable is taken to carry more than the 20 A the rule asks of it; a leg that is not rated eases nothing.
 */
export function ringCooler(ib: Amp, legs: readonly RingLeg[]): number {
  const far = Math.min(RING_FAR_LOAD.values, ib);
  // What acts at the far point, half of it by each way round.
  const inLeg = (far + (ib - far) / 2) / 2;
  const factors = legs.map(({ it, ca, cg, ci }) =>
    it === null || ca === null
      ? 1
      : coolerFactor(inLeg, Math.min(RING_MIN_RATING.values, it * ci), Math.min(1, ca) * cg),
  );
  return factors.length === 0 ? 1 : Math.max(...factors);
}

/**
 * Ring: 20 A at the point where it drops most and the rest of the design current spread evenly over the others, by
 * the nodal equations with the drawn lengths, at the temperature its legs run at (`cooler`).
 */
export function ringDrop(net: Net, ib: Amp, cooler: number, nominalV: number): VoltageDrop | null {
  const order = ringOrder(net);
  const board = net.board?.id;
  if (order.length < 2 || board === undefined) return null;
  const ids = [board, ...net.points.filter((p) => p.id !== board).map((p) => p.id)];
  const resistors = [];
  for (const e of net.edges) {
    const ohm = voltsPerAmp(e.cable, Math.max(e.lengthMm, 1));
    if (ohm === null) return null;
    resistors.push({ a: ids.indexOf(e.a), b: ids.indexOf(e.b), ohm });
  }
  const far = Math.min(RING_FAR_LOAD.values, ib);
  const others = ids.length - 2;
  const drops: (readonly [Id, number])[] = [];
  for (let k = 1; k < ids.length; k++) {
    const even = others > 0 ? (ib - far) / others : 0;
    const drawn = ids.map((_, i) => (i === 0 ? 0 : i === k ? far + (others > 0 ? 0 : ib - far) : even));
    nodalVolts(ids.length, resistors, drawn).forEach((v, i) => {
      if (i > 0) drops.push([ids[i] as Id, -v * cooler]);
    });
  }
  const worst = nearestLimit(net, nominalV, drops);
  if (worst === null) return null;
  const eased = `x ${cooler.toFixed(3)} for legs below 70 °C in this air and beside these cables`;
  return {
    ...worst,
    working: `${far} A at the far point and ${(ib - far).toFixed(1)} A evenly, ${cooler === 1 ? 'no leg taken to run below 70 °C' : eased}`,
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
  nominalV: number,
): VoltageDrop | null {
  if (current.amps === null || net.board === null) return null;
  const perAmp: number[] = [];
  for (const e of net.edges) {
    const volts = voltsPerAmp(e.cable, e.lengthMm);
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
    const far = nearestLimit(
      net,
      nominalV,
      [...wiring.loads.keys()].map((id) => [
        id,
        wayUp(tree, id).reduce((sum, e) => sum + (perAmp[e] as number), 0),
      ]),
    );
    if (far !== null) loads.set(far.at, current.amps);
  }
  const carried = new Map<string, Amp>();
  const carry = (key: string, amps: Amp) => carried.set(key, (carried.get(key) ?? 0) + amps);
  for (const [id, amps] of loads) {
    const path = wiring.loads.get(id);
    for (const { edge, core } of path?.line ?? []) carry(`${edge} ${core}`, amps);
    for (const edge of path?.neutral ?? []) carry(`${edge} N`, amps);
  }
  const drops = [...loads.keys()].map((id): readonly [Id, number] => {
    const path = wiring.loads.get(id);
    const out = (path?.line ?? []).reduce(
      (sum, { edge, core }) => sum + (carried.get(`${edge} ${core}`) ?? 0) * half(edge),
      0,
    );
    const back = (path?.neutral ?? []).reduce((sum, e) => sum + (carried.get(`${e} N`) ?? 0) * half(e), 0);
    return [id, out + back];
  });
  const worst = nearestLimit(net, nominalV, drops);
  if (worst === null) return null;
  const working =
    current.how === 'loads'
      ? 'each load along its own line, through its switches, and back'
      : `${current.amps.toFixed(1)} A taken at the furthest point`;
  return { ...worst, working };
}

import type { Fabric, RoomId } from '../fabric/types.ts';
import { roomAt } from '../fabric/lookup.ts';
import type { Circuit, Id, Point } from '../model/document.ts';
import { ofRecord } from '../memo/ofRecord.ts';
import type { Amp, Ohm } from '../model/units.ts';
import { spotOf } from '../zones/spots.ts';
import { runConditions, type ConditionStretch, type RunConditions } from './conditions.ts';
import { branchDrop, ringCooler, ringDrop, type RingLeg, type VoltageDrop } from './drop.ts';
import { designCurrent, type DesignCurrent } from './loads.ts';
import { indexOf, netOf, scaleIn, ringOrder, treeFrom, type ElectricalInput, type Net } from './net.ts';
import {
  expectedReadings,
  furthestOf,
  loopOhms,
  runReadings,
  type ExpectedReading,
  type Readings,
} from './readings.ts';
import { COLD_SHARE, maxZs, TOUCH_VOLTAGE } from './tables/limits.ts';
import { FACTOR_70, loopImpedance } from './tables/resistance.ts';
import { wiringOf, type Wiring } from './wiring.ts';

/** Earth-fault loop of a circuit at its furthest point. */
export interface LoopFacts {
  readonly at: Id;
  /** R1 + R2 at 20 °C. */
  readonly r1r2: Ohm;
  /** Ze + (R1 + R2) x 1.20, and what the meter should read cold. */
  readonly hot: Ohm;
  readonly cold: Ohm;
  readonly limit: Ohm;
  readonly coldLimit: Ohm;
  /** What the limit comes from: the breaker, or the RCD of a TT supply. */
  readonly by: 'breaker' | 'rcd';
}

/** An unfused branch off a ring: what it feeds. */
export interface Spur {
  readonly from: Id;
  readonly feeds: readonly Id[];
}

/** All that is worked out of one circuit. What cannot be is null, with the reason in `net.problem`. */
export interface CircuitFacts {
  readonly circuit: Circuit;
  readonly net: Net;
  readonly current: DesignCurrent;
  readonly conditions: readonly RunConditions[];
  /** The stretch with the least rating, over all runs. */
  readonly worst: ConditionStretch | null;
  /** Least rating; null when a run has none. */
  readonly iz: Amp | null;
  readonly wiring: Wiring | null;
  readonly drop: VoltageDrop | null;
  readonly loop: LoopFacts | null;
  readonly readings: Readings;
  /** What each cable should read by itself. Empty while metres are refused. */
  readonly runReadings: readonly ExpectedReading[];
  /** mm round the ring with tails; null for others. */
  readonly ringMm: number | null;
  readonly spurs: readonly Spur[];
  /** m² of the rooms its points stand in, by room; null when one stands in no room. */
  readonly area: number | null;
}

/** The room a point stands in or looks into. */
export function roomOfPoint(
  input: ElectricalInput,
  point: Point,
): { readonly fabric: Fabric; readonly room: RoomId } | null {
  const { place } = point;
  if (place.on === 'face') {
    const spot = spotOf(input.doc, input.fabrics, place);
    const fabric = spot === null ? undefined : input.fabrics.get(spot.storey);
    const room = fabric?.faces.get(spot?.face ?? '')?.room;
    return fabric === undefined || room == null ? null : { fabric, room };
  }
  const fabric = input.fabrics.get(place.storey);
  const room = fabric === undefined ? null : roomAt(fabric, place);
  return fabric === undefined || room === null ? null : { fabric, room: room.id };
}

function areaServed(input: ElectricalInput, net: Net): number | null {
  const rooms = new Map<string, number>();
  for (const p of net.points) {
    if (p.kind !== 'socket' && p.kind !== 'fused-spur') continue;
    const at = roomOfPoint(input, p);
    if (at === null) return null;
    rooms.set(`${at.fabric.storey} ${at.room}`, at.fabric.rooms.get(at.room)?.area ?? 0);
  }
  return [...rooms.values()].reduce((sum, a) => sum + a, 0) / 1e6;
}

function spursOf(net: Net): Spur[] {
  const order = ringOrder(net);
  if (net.board === null || order.length === 0) return [];
  const roots = [net.board.id, ...order.slice(0, -1).map((o) => o.to)];
  const tree = treeFrom(net, roots, (i) => !net.loop.has(i));
  const spurs = new Map<string, { from: Id; feeds: Id[] }>();
  for (const id of tree.keys()) {
    let [at, up] = [id, tree.get(id)];
    let first = up?.edge ?? -1;
    while (up !== undefined) {
      first = up.edge;
      at = up.from;
      up = tree.get(at);
    }
    const spur = spurs.get(String(first)) ?? { from: at, feeds: [] };
    spur.feeds.push(id);
    spurs.set(String(first), spur);
  }
  return [...spurs.values()];
}

function loopFacts(input: ElectricalInput, net: Net, wiring: Wiring | null): LoopFacts | null {
  const { supply, testTemperature } = input.doc.job;
  const at20 = loopOhms(net, wiring, 20);
  const cold = loopOhms(net, wiring, testTemperature);
  const far = at20 === null ? null : furthestOf(at20);
  const farCold = far === null ? undefined : cold?.get(far.at);
  if (far === null || farCold === undefined) return null;
  const { device } = net.circuit;
  const r1r2 = far.ohm.line + far.ohm.cpc;
  const breaker = maxZs(device.type, device.rating, supply.nominalV);
  const rcd =
    supply.earthing === 'TT' && device.rcd !== null ? TOUCH_VOLTAGE.values / (device.rcd / 1000) : 0;
  const limit = Math.max(breaker, rcd);
  return {
    at: far.at,
    r1r2,
    hot: loopImpedance(supply.ze, r1r2, FACTOR_70.values),
    cold: loopImpedance(supply.ze, farCold.line + farCold.cpc, 1),
    limit,
    coldLimit: limit * COLD_SHARE.values,
    by: rcd > breaker ? 'rcd' : 'breaker',
  };
}

/** How the cables of the ring itself lie, stretch by stretch; a cable without any counts as not rated. */
function ringLegs(net: Net, conditions: readonly RunConditions[]): RingLeg[] {
  const unrated: RingLeg = { it: null, ca: null, cg: 1, ci: 1 };
  return net.edges.flatMap(({ run }, i): readonly RingLeg[] => {
    if (!net.loop.has(i)) return [];
    const stretches = conditions.find((c) => c.run === run.id)?.stretches ?? [];
    return stretches.length === 0 ? [unrated] : stretches;
  });
}

function work(input: ElectricalInput, circuit: Circuit): CircuitFacts {
  const { doc } = input;
  const net = netOf(input, circuit);
  const current = designCurrent(input, circuit);
  const runs = (indexOf(input).circuitRuns.get(circuit.id) ?? []).flatMap((id) => doc.runs.byId[id] ?? []);
  const conditions = runs.map((run) => runConditions(input, run));
  let worst: ConditionStretch | null = null;
  for (const { worst: w } of conditions)
    if (w?.iz != null && (worst?.iz == null || w.iz < worst.iz)) worst = w;
  const wiring = wiringOf(net);
  const volts = doc.job.supply.nominalV;
  const ring = circuit.topology === 'ring';
  const scale = scaleIn(input);
  const { testTemperature } = doc.job;
  const error = scale.state === 'measured' ? scale.errorPerMetre : 0;
  let drop: VoltageDrop | null = null;
  let readings: Readings | null = null;
  let byRun: readonly ExpectedReading[] | null = null;
  if (net.problem === null && current.amps !== null) {
    drop = ring
      ? ringDrop(net, current.amps, ringCooler(current.amps, ringLegs(net, conditions)), volts)
      : wiring && branchDrop(net, wiring, current, volts);
  }
  return {
    circuit,
    net,
    current,
    conditions,
    worst,
    iz: conditions.length > 0 && conditions.every((c) => c.unknown === null) ? (worst?.iz ?? null) : null,
    wiring,
    drop,
    loop: loopFacts(input, net, wiring),
    // Sheets and panels ask for readings, the rules do not: worked out when asked for.
    get readings() {
      return (readings ??= expectedReadings(net, wiring, testTemperature, error));
    },
    get runReadings() {
      return (byRun ??= scale.state === 'refused' ? [] : runReadings(net, testTemperature, error));
    },
    ringMm:
      ring && net.problem === null
        ? ringOrder(net).reduce((sum, { edge }) => sum + (net.edges[edge]?.lengthMm ?? 0), 0)
        : null,
    spurs: ring ? spursOf(net) : [],
    area: areaServed(input, net),
  };
}

/** The facts of a circuit; worked out once for each input. Never compared: readings are worked out when asked for. */
export const factsOfCircuit = ofRecord('facts of a circuit', 'circuits', work, Object.is);

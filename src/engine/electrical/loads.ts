import { roomAt } from '../fabric/lookup.ts';
import type { Circuit, Id, Point, PointKind } from '../model/document.ts';
import { POINT_KINDS } from '../model/pointKinds.ts';
import { ofRecord } from '../memo/ofRecord.ts';
import type { Amp } from '../model/units.ts';
import { spotOf } from '../zones/spots.ts';
import { indexOf, type ElectricalInput } from './net.ts';
import { COOKER_DIVERSITY, LIGHTING_DIVERSITY } from './tables/circuits.ts';

/** Kinds that take current of their own. Socket-outlets are not among them: what will be plugged in is not known. */
const TAKES: ReadonlySet<PointKind> = new Set([
  'fused-spur',
  'heavy-outlet',
  'ceiling-light',
  'wall-light',
  'extractor',
  'smoke-alarm',
  'heat-alarm',
]);

export const takesLoad = (point: Point): boolean => TAKES.has(point.kind);

/** What current a circuit is designed for, and how that was arrived at. */
export interface DesignCurrent {
  /** Null when it is not given and nothing can be added up. */
  readonly amps: Amp | null;
  readonly how: 'given' | 'sockets' | 'loads' | 'unknown';
  readonly working: string;
  /** Points whose load is not stated and would count. */
  readonly unstated: readonly Id[];
}

/** Current of a load at unity power factor, A. */
export const ampsOf = (watts: number, volts: number): Amp => watts / volts;

/** A cooker with diversity: 10 A, 30 % of the rest, and 5 A for a socket-outlet in its control unit. */
export function cookerAmps(full: Amp, withSocket: boolean): Amp {
  const { full: first, rest, socket } = COOKER_DIVERSITY.values;
  return Math.min(full, first) + rest * Math.max(0, full - first) + (withSocket ? socket : 0);
}

/** Does a point stand in a kitchen, where a heavy outlet may be a cooker's? */
export function inKitchen(input: ElectricalInput, point: Point): boolean {
  const { place } = point;
  if (place.on !== 'face') {
    const fabric = input.fabrics.get(place.storey);
    return fabric !== undefined && roomAt(fabric, place)?.tag?.use === 'kitchen';
  }
  const spot = spotOf(input.doc, input.fabrics, place);
  const fabric = spot === null ? undefined : input.fabrics.get(spot.storey);
  return fabric?.rooms.get(fabric.faces.get(spot?.face ?? '')?.room ?? '')?.tag?.use === 'kitchen';
}

const A = (amps: Amp): string => `${amps.toFixed(1)} A`;

function addedUp(input: ElectricalInput, circuit: Circuit): DesignCurrent {
  const { doc } = input;
  if (circuit.designCurrent !== null) {
    return { amps: circuit.designCurrent, how: 'given', working: 'typed on the circuit', unstated: [] };
  }
  const points = (indexOf(input).circuitPoints.get(circuit.id) ?? []).flatMap(
    (id) => doc.points.byId[id] ?? [],
  );
  if (points.some((p) => p.kind === 'socket')) {
    return {
      amps: circuit.device.rating,
      how: 'sockets',
      working: `socket-outlets: taken as the ${circuit.device.rating} A of its device`,
      unstated: [],
    };
  }
  const takers = points.filter(takesLoad);
  const unstated = takers.filter((p) => p.load === null).map((p) => p.id);
  const stated = takers.filter((p) => p.load !== null);
  if (stated.length === 0) return { amps: null, how: 'unknown', working: 'no load is stated', unstated };
  const volts = doc.job.supply.nominalV;
  const parts: string[] = [];
  let amps = 0;
  const lights = stated.filter((p) => POINT_KINDS[p.kind].isLight);
  if (lights.length > 0) {
    const watts = lights.reduce((sum, p) => sum + (p.load ?? 0), 0);
    const own = ampsOf(watts, volts) * LIGHTING_DIVERSITY.values;
    amps += own;
    parts.push(`lights ${watts} W at ${LIGHTING_DIVERSITY.values * 100} % = ${A(own)}`);
  }
  for (const p of stated.filter((x) => !POINT_KINDS[x.kind].isLight)) {
    const full = ampsOf(p.load ?? 0, volts);
    const cooker = p.loadKind === 'cooker' || p.loadKind === 'cooker-socket';
    const own = cooker ? cookerAmps(full, p.loadKind === 'cooker-socket') : full;
    const as = cooker ? ` as a cooker${p.loadKind === 'cooker-socket' ? ' with a socket-outlet' : ''}` : '';
    amps += own;
    parts.push(`${p.label} ${p.load} W${as} = ${A(own)}`);
  }
  if (unstated.length > 0) parts.push(`${unstated.length} without a stated load, not counted`);
  return { amps, how: 'loads', working: parts.join('; '), unstated };
}

/**
 * Design current with diversity (OSG Table A2). Given: as given. With socket-outlets: the rating of the device, as
 * standard circuits are designed for it. Else the stated loads: lights at 66 %, what is said to be a cooker as one,
 * all else in full: a heavy outlet in a kitchen is no cooker until someone says so.
 */
export const designCurrent = ofRecord('design current', 'circuits', addedUp);

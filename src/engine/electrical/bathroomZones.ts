import type { Mm, PlanPoint } from '../model/units.ts';
import { segmentNearest } from '../geometry/segment.ts';
import { fromOutline } from './apart.ts';
import { BATHROOM } from './tables/siting.ts';

/** A bath or shower tray with its outline, or a fixed shower head with no tray under it, by its middle. */
export type Water =
  | { readonly kind: 'tray'; readonly outline: readonly PlanPoint[]; readonly rim: Mm }
  | { readonly kind: 'head'; readonly at: PlanPoint; readonly z: Mm };

export interface InZone {
  /** Null: in none of them. */
  readonly zone: 0 | 1 | 2 | null;
  /** Level distance from the edge of the nearest zone 1; 0 in it or over it. */
  readonly from: Mm;
  /** The nearest is a shower head with no tray. */
  readonly head: boolean;
}

/**
 * The zone of a level stretch a b, `z` above the floor, round baths and showers of one room (BS 7671 701.32). Zone 0 is
 * inside the bath or tray; zone 1 over it, or 1,200 mm round a head with no tray, up to 2,250 mm (the head's own height
 * where that is more: from memory, the stricter reading); zone 2 is 600 mm beyond a bath or tray, and there is none
 * beyond a head's. Distances are straight, also round a corner of the room, which is the stricter reading.
 */
export function bathroomZone(a: PlanPoint, b: PlanPoint, z: Mm, waters: readonly Water[]): InZone {
  const { zone1Height, zone2Beyond, noTrayRadius } = BATHROOM.values;
  let from = Infinity;
  let head = false;
  let zone: 0 | 1 | 2 | null = null;
  for (const water of waters) {
    const away =
      water.kind === 'tray'
        ? fromOutline(a, b, water.outline)
        : Math.max(0, segmentNearest(water.at, a, b).distance - noTrayRadius);
    if (away < from) [from, head] = [away, water.kind === 'head'];
    const top = water.kind === 'head' ? Math.max(zone1Height, water.z) : zone1Height;
    const here = zoneAt(water, away, z, top, zone2Beyond);
    if (here !== null && (zone === null || here < zone)) zone = here;
  }
  return { zone, from, head };
}

function zoneAt(water: Water, away: Mm, z: Mm, top: Mm, beyond: Mm): 0 | 1 | 2 | null {
  if (z > top) return null;
  if (away === 0) return water.kind === 'tray' && z < water.rim ? 0 : 1;
  return water.kind === 'tray' && away <= beyond ? 2 : null;
}

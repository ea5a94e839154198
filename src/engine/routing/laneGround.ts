import { insideIntervals, isCovered } from './coverage.ts';
import { intervalGaps } from '../geometry/interval.ts';
import type { Thing } from '../model/document.ts';
import { rows } from '../model/tables.ts';
import type { PlanPoint } from '../model/units.ts';
import type { ZoneContext } from '../zones/surfaces.ts';
import { BLOCKS } from './faceLines.ts';
import type { Flat } from './laneSpace.ts';

/** Whether a straight of a surface is free of what no cable may cross. Zones and openings are the zone check's. */
export interface LaneGround {
  isFree(a: Flat, b: Flat): boolean;
}

interface Room {
  readonly outer: readonly (readonly PlanPoint[])[];
  readonly stops: readonly (readonly PlanPoint[])[];
}

const EDGE = 0.01;

/** Voids: within the outer walls and clear of beams and no-cable places. Walls: clear of what stands or hangs there. */
export function laneGround(ctx: ZoneContext): LaneGround {
  const rooms = new Map<string, Room>();
  const rectangles = new Map<string, (Thing['place'] & { readonly on: 'face' })[]>();
  for (const { kind, place } of rows(ctx.doc.things)) {
    if (place.on !== 'face' || !BLOCKS.has(kind)) continue;
    const key = `${place.wall} ${place.side}`;
    rectangles.set(key, [...(rectangles.get(key) ?? []), place]);
  }
  for (const fabric of ctx.fabrics.values()) {
    const outer = fabric.outside.map((loop) => loop.map((id) => fabric.faces.get(id)?.a ?? { x: 0, y: 0 }));
    for (const on of ['ceiling', 'floor']) {
      const stops = rows(ctx.doc.things).flatMap(({ kind, place }) =>
        place.on === 'plan' &&
        place.storey === fabric.storey &&
        place.where === on &&
        (kind === 'no-cable' || kind === 'beam')
          ? [place.outline]
          : [],
      );
      rooms.set(`${fabric.storey} ${on}`, { outer, stops });
    }
  }
  return {
    isFree(a, b) {
      const length = Math.hypot(b.x - a.x, b.y - a.y);
      if (length < EDGE) return true;
      const room = rooms.get(a.surface);
      if (room === undefined) {
        return (rectangles.get(a.surface) ?? []).every((r) => {
          const [u0, u1] = [Math.min(r.along0, r.along1), Math.max(r.along0, r.along1)];
          return (
            Math.max(a.x, b.x) <= u0 + EDGE ||
            Math.min(a.x, b.x) >= u1 - EDGE ||
            Math.max(a.y, b.y) <= r.z0 + EDGE ||
            Math.min(a.y, b.y) >= r.z1 - EDGE
          );
        });
      }
      const blocked = insideIntervals(a, b, room.stops, EDGE);
      const free = insideIntervals(a, b, room.outer, EDGE).flatMap((part) =>
        intervalGaps(part, blocked, EDGE),
      );
      return isCovered(free, EDGE, length - EDGE);
    },
  };
}

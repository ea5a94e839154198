import type { Mm } from '../model/units.ts';

/** A straight of a cable on a surface: heading, distance of its line from the origin, and how far it reaches along it. */
export interface Lane {
  readonly surface: string;
  readonly dx: number;
  readonly dy: number;
  readonly off: Mm;
  readonly from: Mm;
  readonly to: Mm;
  readonly width: Mm;
}

/** Lanes by surface, heading and line. */
export interface LaneIndex {
  add(lane: Lane): void;
  /** Lanes of the same heading whose lines are within `reach` of this one's, and some beyond. */
  near(lane: Lane, reach: Mm): Lane[];
}

/** Lines are kept in strips of this width, mm. */
const STRIP: Mm = 300;

/** An empty index. */
export function laneIndex(): LaneIndex {
  const strips = new Map<string, Lane[]>();
  const heading = (lane: Lane): string =>
    `${lane.surface}|${Math.round(lane.dx * 1e4)}|${Math.round(lane.dy * 1e4)}`;
  return {
    add(lane) {
      const key = `${heading(lane)}|${Math.floor(lane.off / STRIP)}`;
      const list = strips.get(key);
      if (list === undefined) strips.set(key, [lane]);
      else list.push(lane);
    },
    near(lane, reach) {
      const head = heading(lane);
      const found: Lane[] = [];
      for (
        let s = Math.floor((lane.off - reach) / STRIP);
        s <= Math.floor((lane.off + reach) / STRIP);
        s += 1
      )
        found.push(...(strips.get(`${head}|${s}`) ?? []));
      return found;
    },
  };
}

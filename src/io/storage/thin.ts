/** A kept state of a plan as far as thinning looks at it: `whole` ones stand alone, others follow on the one before. */
export interface Thinned {
  readonly seq: number;
  /** When, ms since 1970. */
  readonly at: number;
  readonly whole: boolean;
}

const HOUR = 3_600_000;
const DAY = 24 * HOUR;

/**
 * Which kept states of a plan may go, oldest first in and out: each change of today stays, then one an hour for a week,
 * one a day for a month, and the newest of all. `midnight` is the start of today where the person is, ms.
 */
export function toThinOut(states: readonly Thinned[], midnight: number): number[] {
  const newest = states.at(-1);
  const gone: number[] = [];
  const taken = new Set<string>();
  // A change that stays needs the whole state before it and all between.
  const first = states.find((each) => !each.whole && (each.at >= midnight || each === newest));
  const base = first && states.findLast((each) => each.whole && each.seq < first.seq);
  const needed = base?.seq ?? Infinity;
  for (const each of [...states].reverse()) {
    if (each.at >= midnight || each === newest || each.seq >= needed) continue;
    const age = midnight - each.at;
    const slot =
      age <= 7 * DAY
        ? `hour ${Math.floor((each.at - midnight) / HOUR)}`
        : age <= 31 * DAY
          ? `day ${Math.floor((each.at - midnight) / DAY)}`
          : null;
    if (!each.whole || slot === null || taken.has(slot)) gone.push(each.seq);
    else taken.add(slot);
  }
  return gone.reverse();
}

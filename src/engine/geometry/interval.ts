/** A closed stretch of a line, lo <= hi, in whatever unit the caller uses. */
export interface Interval {
  readonly lo: number;
  readonly hi: number;
}

/** The union as sorted stretches that do not touch. Gaps of at most `tolerance` are closed. Input is not changed. */
export function intervalUnion(list: readonly Interval[], tolerance: number): Interval[] {
  const sorted = list.filter((i) => i.hi >= i.lo).sort((a, b) => a.lo - b.lo || a.hi - b.hi);
  const out: Interval[] = [];
  for (const next of sorted) {
    const last = out[out.length - 1];
    if (last && next.lo <= last.hi + tolerance) {
      if (next.hi > last.hi) out[out.length - 1] = { lo: last.lo, hi: next.hi };
    } else out.push({ lo: next.lo, hi: next.hi });
  }
  return out;
}

/** What two closed stretches have in common, or null. A single shared point counts. */
export function intervalOverlap(a: Interval, b: Interval): Interval | null {
  const lo = Math.max(a.lo, b.lo);
  const hi = Math.min(a.hi, b.hi);
  return lo <= hi ? { lo, hi } : null;
}

/** The parts of `whole` that no stretch of `holes` covers. Parts not longer than `tolerance` are left out. */
export function intervalGaps(whole: Interval, holes: readonly Interval[], tolerance: number): Interval[] {
  const out: Interval[] = [];
  let at = whole.lo;
  for (const hole of intervalUnion(holes, 0)) {
    if (hole.hi <= at) continue;
    if (hole.lo >= whole.hi) break;
    if (hole.lo - at > tolerance) out.push({ lo: at, hi: hole.lo });
    at = Math.max(at, hole.hi);
  }
  if (whole.hi - at > tolerance) out.push({ lo: at, hi: whole.hi });
  return out;
}

/** Sum of lengths of the union. */
export function intervalTotal(list: readonly Interval[]): number {
  return intervalUnion(list, 0).reduce((sum, i) => sum + (i.hi - i.lo), 0);
}

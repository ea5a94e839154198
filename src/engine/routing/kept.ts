import type { DistanceTable, Replaces } from './types.ts';
import type { Circuit, Id, Run } from '../model/document.ts';
import { rows } from '../model/tables.ts';
import type { ZoneContext } from '../zones/surfaces.ts';
import type { Link } from './lighting.ts';
import { replaceableIn } from './trial.ts';

/** Runs of a circuit that a suggestion leaves where they are, between two points each. */
export function keptRuns(ctx: ZoneContext, circuit: Circuit, replaces: Replaces): Run[] {
  const gives = replaceableIn(ctx.doc, replaces);
  return rows(ctx.doc.runs).filter((r) => r.circuit === circuit.id && !gives(r));
}

/** Do the kept runs join all these points to the board already, and back to it where it is a ring? */
export function isWhole(board: Id, points: readonly Id[], kept: readonly Run[], ring: boolean): boolean {
  const joined = new Set<Id>([board]);
  const used = new Set<Id>();
  for (let again = true; again;) {
    again = false;
    for (const { id, from, to } of kept) {
      if (used.has(id) || from === null || to === null || (!joined.has(from) && !joined.has(to))) continue;
      joined.add(from).add(to);
      used.add(id);
      again = true;
    }
  }
  // As many runs as places they join: somewhere they close.
  return points.every((id) => joined.has(id)) && (!ring || used.size >= joined.size);
}

/**
 * Links that the kept runs do not make already. In a ring only a link between the same two points goes; elsewhere any
 * link between places that are joined without it.
 */
export function withoutKept(links: readonly Link[], kept: readonly Run[], ring: boolean): readonly Link[] {
  if (kept.length === 0) return links;
  if (ring) {
    const left = kept.map((r) => pairKey(r.from, r.to));
    return links.filter((link) => {
      const at = left.indexOf(pairKey(link.from, link.to));
      if (at >= 0) left.splice(at, 1);
      return at < 0;
    });
  }
  const parent = new Map<Id, Id>();
  const root = (id: Id): Id => {
    let at = id;
    for (let up = parent.get(at); up !== undefined; up = parent.get(at)) at = up;
    return at;
  };
  const join = (a: Id, b: Id): boolean => {
    const [x, y] = [root(a), root(b)];
    if (x !== y) parent.set(x, y);
    return x !== y;
  };
  for (const run of kept) if (run.from !== null && run.to !== null) join(run.from, run.to);
  return links.filter((link) => join(link.from, link.to));
}

/** Two ids whichever way round. */
export const pairKey = (a: Id | null, b: Id | null): string => [a ?? '', b ?? ''].sort().join(' ');

/** Is there a kept run between these two? */
export const isPulled = (kept: readonly Run[], a: Id, b: Id): boolean =>
  kept.some((r) => pairKey(r.from, r.to) === pairKey(a, b));

/**
 * Distances in which a kept run costs so much less than nothing that every good order goes along it. `pulled`: how much
 * was taken off each. The order is told in the same table.
 */
export function pullKept(
  table: DistanceTable,
  ids: readonly Id[],
  kept: readonly Run[],
): { readonly table: DistanceTable; readonly pulled: number } {
  const pairs = kept.flatMap((r) => {
    const a = r.from === null ? -1 : ids.indexOf(r.from);
    const b = r.to === null ? -1 : ids.indexOf(r.to);
    return a < 0 || b < 0 || a === b ? [] : [[a, b] as const];
  });
  if (pairs.length === 0) return { table, pulled: 0 };
  const d = table.d.slice();
  const pulled = d.reduce((sum, v) => (v < Infinity ? sum + v : sum), 1);
  const done = new Set<number>();
  for (const [a, b] of pairs) {
    for (const at of [a * table.n + b, b * table.n + a]) {
      if (done.has(at)) continue;
      done.add(at);
      const value = d[at] as number;
      d[at] = (value < Infinity ? value : 0) - pulled;
    }
  }
  return { table: { n: table.n, d }, pulled };
}

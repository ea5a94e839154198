import type { Circuit, Id, Point } from '../model/document.ts';
import { find, rows } from '../model/tables.ts';
import { EDITIONS } from '../zones/editions.ts';
import { hasRcd30, type RunFacts, type ZoneContext } from '../zones/surfaces.ts';
import { legalNet, type LegalNet } from './legalNet.ts';
import type { DistanceTable } from './order.ts';
import { costTo, routeTo, searchFrom, whyNotOnLines } from './route.ts';
import { searchSpace, type SearchSpace } from './shortestPath.ts';
import type { Route, Ways } from './types.ts';

/** Searches on one net, remembering which point the last one started from. */
export interface Planner {
  readonly ctx: ZoneContext;
  readonly net: LegalNet;
  readonly space: SearchSpace;
  last: Id | null;
}

/** What of a circuit decides where its cables may be, before a run of it exists. */
export function circuitFacts(ctx: ZoneContext, circuit: Circuit | null): RunFacts {
  const rules = EDITIONS[ctx.doc.job.edition];
  const cable = find(ctx.doc, 'cables', circuit?.cable ?? null);
  return {
    rules,
    circuit: circuit?.id ?? null,
    depth: null,
    p204: cable?.use === 'data',
    rcd30: hasRcd30(rules, circuit ?? undefined),
    ends: circuit?.board == null ? [] : [circuit.board],
  };
}

/** A planner for the cables of a circuit (null: of none). */
export function plannerFor(ctx: ZoneContext, circuit: Circuit | null, ways: Ways): Planner {
  const net = legalNet(ctx, circuitFacts(ctx, circuit), ways);
  return { ctx, net, space: searchSpace(net.graph.nodes), last: null };
}

function lookFrom(planner: Planner, from: Id, to: readonly Id[] | null): boolean {
  if (planner.last === from && to === null) return true;
  planner.last = to === null ? from : null;
  return searchFrom(planner.net, planner.space, from, to);
}

const labelOf = (planner: Planner, id: Id): string => find(planner.ctx.doc, 'points', id)?.label ?? id;

/**
 * The best run between two points on the legal lines, or what stands in the way. It is the optimum for the graph of
 * legal lines and the costs of the job.
 */
export function suggestRun(planner: Planner, from: Id, to: Id): Route {
  for (const id of [from, to]) {
    const why = whyNotOnLines(planner.ctx, planner.net, id);
    if (why !== null) return { ok: false, reason: why };
  }
  lookFrom(planner, from, [to]);
  const found = routeTo(planner.ctx, planner.net, planner.space, to);
  if (found !== null) return found;
  return { ok: false, reason: whyBlocked(planner, from, to) };
}

/** Where the legal lines from each end stop, in the words of the plan. */
function whyBlocked(planner: Planner, from: Id, to: Id): string {
  const reach = [from, to].map((end) => {
    lookFrom(planner, end, null);
    const reached = rows(planner.ctx.doc.points).filter(
      (p) => p.id !== end && costTo(planner.net, planner.space, p.id) < Infinity,
    );
    planner.last = null;
    return reached.length === 0
      ? `no legal line leads away from ${labelOf(planner, end)}`
      : `from ${labelOf(planner, end)} the legal lines reach only ${listed(reached)}`;
  });
  const voids = rows(planner.ctx.doc.storeys).map(
    (s) =>
      `${s.name}: ${s.ceiling.kind === 'void' ? 'ceiling void' : 'solid ceiling'}, ${s.floor.kind === 'void' ? 'floor void' : 'solid floor'}`,
  );
  return `No legal way: ${reach.join('; ')}. An opening, a keep-out or a wall with no permitted zone lies between (${voids.join('; ')}).`;
}

function listed(points: readonly Point[]): string {
  const some = points.slice(0, 4).map((p) => p.label);
  return points.length > 4 ? `${some.join(', ')} and ${points.length - 4} more` : some.join(' and ');
}

/** Routed distances between points, in the points of the job's costs, both ways alike. */
export function routedDistances(planner: Planner, ids: readonly Id[]): DistanceTable {
  const n = ids.length;
  const d = new Float64Array(n * n);
  ids.forEach((from, i) => {
    const on = lookFrom(planner, from, ids);
    ids.forEach((to, j) => {
      if (i !== j) d[i * n + j] = on ? costTo(planner.net, planner.space, to) : Infinity;
    });
  });
  // Equal but for rounding in the order of sums: made equal, as orders are compared.
  for (let i = 0; i < n; i += 1)
    for (let j = 0; j < i; j += 1) {
      const least = Math.min(d[i * n + j] as number, d[j * n + i] as number);
      d[i * n + j] = least;
      d[j * n + i] = least;
    }
  return { n, d };
}

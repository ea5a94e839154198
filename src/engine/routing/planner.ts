import type { Circuit, Id, Point } from '../model/document.ts';
import { find, rows } from '../model/tables.ts';
import { cableFacts, hasRcd30, type RunFacts, type ZoneContext } from '../zones/surfaces.ts';
import { legalNet, type LegalNet } from './legalNet.ts';
import { costTo, routeTo, searchFrom, whyNotOnLines } from './route.ts';
import { searchSpace, type SearchSpace } from './shortestPath.ts';
import type { Route, Ways, DistanceTable } from './types.ts';

/** One net and the buffers of its searches, remembering which point the last full one started from. */
interface NetSearch {
  readonly net: LegalNet;
  readonly space: SearchSpace;
  last: Id | null;
}

/**
 * Searches for one circuit. Where an edition lets only a point's own circuit rely on its strip, the board's strips
 * carry just the runs that end at the board: the others have a net of their own.
 */
export interface Planner {
  readonly ctx: ZoneContext;
  readonly board: Id | null;
  readonly atBoard: NetSearch;
  readonly between: NetSearch;
}

/** What of a circuit decides where its cables may be, before a run of it exists; `ends`: points a run ends at. */
export function circuitFacts(ctx: ZoneContext, circuit: Circuit | null, ends: readonly Id[]): RunFacts {
  const cable = find(ctx.doc, 'cables', circuit?.cable ?? null);
  const facts = cableFacts(ctx.doc, cable);
  return {
    ...facts,
    circuit: circuit?.id ?? null,
    depth: null,
    p204: cable?.use === 'data',
    p204Disputed: false,
    unasked: true,
    rcd30: hasRcd30(facts.rules, circuit ?? undefined),
    ends,
  };
}

/** A planner for the cables of a circuit (null: of none). */
export function plannerFor(ctx: ZoneContext, circuit: Circuit | null, ways: Ways): Planner {
  const made = (ends: readonly Id[]): NetSearch => {
    const net = legalNet(ctx, circuitFacts(ctx, circuit, ends), ways);
    return { net, space: searchSpace(net.graph.nodes), last: null };
  };
  const board = circuit?.board ?? null;
  const atBoard = made(board === null ? [] : [board]);
  const apart = board !== null && !circuitFacts(ctx, circuit, []).otherCircuits;
  return { ctx, board, atBoard, between: apart ? made([]) : atBoard };
}

/** The net a run between two points may use. */
export function netFor(planner: Planner, from: Id, to: Id): NetSearch {
  return from === planner.board || to === planner.board ? planner.atBoard : planner.between;
}

function lookFrom(on: NetSearch, from: Id, to: readonly Id[] | null): boolean {
  if (on.last === from && to === null) return true;
  on.last = to === null ? from : null;
  return searchFrom(on.net, on.space, from, to);
}

const labelOf = (planner: Planner, id: Id): string => find(planner.ctx.doc, 'points', id)?.label ?? id;

/**
 * The best run between two points on the legal lines, or what stands in the way. It is the optimum for the graph of
 * legal lines and the costs of the job.
 */
export function suggestRun(planner: Planner, from: Id, to: Id): Route {
  const on = netFor(planner, from, to);
  for (const id of [from, to]) {
    const why = whyNotOnLines(planner.ctx, on.net, id);
    if (why !== null) return { ok: false, reason: why };
  }
  lookFrom(on, from, [to]);
  const found = routeTo(planner.ctx, on.net, on.space, to);
  if (found !== null) return found;
  return { ok: false, reason: whyBlocked(planner, from, to) };
}

/** Where the legal lines from each end stop, in the words of the plan. */
function whyBlocked(planner: Planner, from: Id, to: Id): string {
  const on = netFor(planner, from, to);
  const reach = [from, to].map((end) => {
    lookFrom(on, end, null);
    const reached = rows(planner.ctx.doc.points).filter(
      (p) => p.id !== end && costTo(on.net, on.space, p.id) < Infinity,
    );
    return reached.length === 0
      ? `no legal line leads away from ${labelOf(planner, end)}`
      : `from ${labelOf(planner, end)} the legal lines reach only ${listed(reached)}`;
  });
  const voids = rows(planner.ctx.doc.storeys).map(
    (s) =>
      `${s.name}: ${s.ceiling.kind === 'void' ? 'ceiling void' : 'solid ceiling'}, ${s.floor.kind === 'void' ? 'floor void' : 'solid floor'}`,
  );
  return `No legal way: ${reach.join('; ')}. An opening, a no-cable place or a wall with no permitted zone lies between (${voids.join('; ')}).`;
}

function listed(points: readonly Point[]): string {
  const some = points.slice(0, 4).map((p) => p.label);
  return points.length > 4 ? `${some.join(', ')} and ${points.length - 4} more` : some.join(' and ');
}

/** Routed distances between points, in the points of the job's costs, both ways alike. */
export function routedDistances(planner: Planner, ids: readonly Id[]): DistanceTable {
  const n = ids.length;
  const d = new Float64Array(n * n);
  const fill = (i: number, on: NetSearch, js: readonly number[]): void => {
    const from = ids[i] as Id;
    const goals = js.map((j) => ids[j] as Id);
    const reached = lookFrom(on, from, goals);
    for (const j of js) {
      d[i * n + j] = reached ? costTo(on.net, on.space, ids[j] as Id) : Infinity;
    }
  };
  const board = ids.findIndex((id) => id === planner.board);
  const others = ids.flatMap((_, j) => (j === board ? [] : [j]));
  for (let i = 0; i < n; i += 1) {
    const rest = others.filter((j) => j !== i);
    fill(i, i === board ? planner.atBoard : planner.between, rest);
    if (i !== board && board >= 0) fill(i, planner.atBoard, [board]);
  }
  // Equal but for rounding in the order of sums: made equal, as orders are compared.
  for (let i = 0; i < n; i += 1)
    for (let j = 0; j < i; j += 1) {
      const least = Math.min(d[i * n + j] as number, d[j * n + i] as number);
      d[i * n + j] = least;
      d[j * n + i] = least;
    }
  return { n, d };
}

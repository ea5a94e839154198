import type { Circuit, Id, Point, Run } from '../model/document.ts';
import { find, rows } from '../model/tables.ts';
import type { ZoneContext } from '../zones/surfaces.ts';
import { isPulled, isWhole, keptRuns, pairKey, pullKept, withoutKept } from './kept.ts';
import { cabledLinks, type Cabled } from './cores.ts';
import { lightingLinks, type Link } from './lighting.ts';
import { bestOrder } from './order.ts';
import { plannerFor, routedDistances, suggestRun, type Planner } from './planner.ts';
import { whyNotOnLines } from './route.ts';
import {
  countCost,
  countSum,
  NOTHING,
  type CircuitPlan,
  type SuggestedRun,
  type Way,
  type Ways,
  type DistanceTable,
  type Replaces,
} from './types.ts';

/** Points a circuit's cables go to, without its board. */
export function circuitPoints(ctx: ZoneContext, circuit: Circuit): Point[] {
  return rows(ctx.doc.points).filter((p) => p.circuit === circuit.id && p.kind !== 'consumer-unit');
}

/** Routes a circuit from its board by the ways allowed: a ring, a chain, or a lighting tree. Runs that stay are kept. */
export function planCircuit(
  ctx: ZoneContext,
  circuit: Circuit,
  ways: Ways,
  replaces: Replaces = 'suggested',
): CircuitPlan {
  return planWith(plannerFor(ctx, circuit, ways), circuit, replaces);
}

/** As `planCircuit`, with a planner already made for this circuit and these ways. */
export function planWith(planner: Planner, circuit: Circuit, replaces: Replaces = 'suggested'): CircuitPlan {
  const { ctx } = planner;
  const blocked: string[] = [];
  const board = circuit.board;
  const kept = keptRuns(ctx, circuit, replaces);
  const drawn = new Set<Id | null>(kept.flatMap((r) => [r.from, r.to]));
  if (board === null) return emptyPlan(circuit, replaces, [`${circuit.name} has no consumer unit chosen.`]);
  const wantedIds = circuitPoints(ctx, circuit).map((p) => p.id);
  if (kept.length > 0 && isWhole(board, wantedIds, kept, circuit.topology === 'ring'))
    return emptyPlan(circuit, replaces, []);
  const points = circuitPoints(ctx, circuit).filter((p) => {
    const why = whyNotOnLines(ctx, planner.atBoard.net, p.id);
    if (why !== null && !drawn.has(p.id)) blocked.push(why);
    return why === null;
  });
  const noBoard = whyNotOnLines(ctx, planner.atBoard.net, board);
  if (noBoard !== null) return emptyPlan(circuit, replaces, [noBoard, ...blocked]);
  const ids = [board, ...points.map((p) => p.id)];
  const table = routedDistances(planner, ids);
  const reachable = points.filter((p, i) => {
    const ok = (table.d[i + 1] as number) < Infinity;
    if (!ok && !drawn.has(p.id)) {
      const route = suggestRun(planner, board, p.id);
      if (!route.ok) blocked.push(route.reason);
    }
    return ok;
  });
  const chain =
    circuit.topology === 'lighting'
      ? {
          links: lightingLinks(circuit, reachable, ids, table, chaseCosts(planner)),
          order: [],
          bound: 0,
          length: 0,
          exact: true,
        }
      : chainLinks(circuit, reachable, ids, table, kept);
  const open = withoutKept(chain.links, kept, circuit.topology === 'ring');
  const cabled = cabledFor(planner, circuit, kept, open, ids, table);
  blocked.push(...cabled.left);
  const runs: SuggestedRun[] = [];
  for (const link of cabled.links) {
    const route = suggestRun(planner, link.from, link.to);
    if (!route.ok) {
      blocked.push(route.reason);
      continue;
    }
    runs.push({
      from: link.from,
      to: link.to,
      cable: link.cable,
      corners: route.corners,
      count: route.count,
      why: link.why,
    });
  }
  const met = new Set<Id | null>([...chain.links, ...kept].flatMap((link) => [link.from, link.to]));
  for (const p of reachable.filter((q) => !met.has(q.id))) {
    const other = reachable.find((q) => q.id !== p.id && met.has(q.id));
    const route = other === undefined ? null : suggestRun(planner, other.id, p.id);
    blocked.push(
      route?.ok === false ? route.reason : `${p.label} has nothing on its circuit to be wired to.`,
    );
  }
  const count = runs.reduce((sum, r) => countSum(sum, r.count), NOTHING);
  return {
    circuit: circuit.id,
    runs,
    count,
    cost: countCost(count, ctx.doc.job.routeCosts),
    order: chain.order,
    exactOrder: chain.exact,
    orderBound: chain.bound,
    orderCost: chain.length,
    blocked,
    replaces,
  };
}

/** What the chases between two points cost by their best way; 0 where there is none. */
function chaseCosts(planner: Planner): (a: Id, b: Id) => number {
  const known = new Map<string, number>();
  return (a, b) => {
    const key = pairKey(a, b);
    let cost = known.get(key);
    if (cost === undefined) {
      const route = suggestRun(planner, a, b);
      cost = route.ok ? route.count.chaseMetres * planner.ctx.doc.job.routeCosts.chaseMetre : 0;
      known.set(key, cost);
    }
    return cost;
  };
}

function emptyPlan(circuit: Circuit, replaces: Replaces, blocked: readonly string[]): CircuitPlan {
  return {
    circuit: circuit.id,
    runs: [],
    count: NOTHING,
    cost: 0,
    order: [],
    exactOrder: true,
    orderBound: 0,
    orderCost: 0,
    blocked,
    replaces,
  };
}

/** The cable of each link: a ring's own, elsewhere with the cores the switching needs beside the runs that stay. */
function cabledFor(
  { ctx }: Planner,
  circuit: Circuit,
  kept: readonly Run[],
  links: readonly Link[],
  ids: readonly Id[],
  table: DistanceTable,
): Cabled {
  const board = find(ctx.doc, 'points', circuit.board);
  if (circuit.topology === 'ring' || board === undefined)
    return { left: [], links: links.map((link) => ({ ...link, cable: circuit.cable })) };
  const at = (a: Id, b: Id): number => {
    const [i, j] = [ids.indexOf(a), ids.indexOf(b)];
    return i < 0 || j < 0 ? Infinity : (table.d[i * table.n + j] as number);
  };
  const joined = kept.filter((r) => r.from !== null && r.to !== null);
  return cabledLinks(
    { doc: ctx.doc, circuit, board, points: circuitPoints(ctx, circuit), kept: joined, at },
    links,
  );
}

function chainLinks(
  circuit: Circuit,
  points: readonly Point[],
  ids: readonly Id[],
  routed: DistanceTable,
  kept: readonly Run[],
): { links: Link[]; order: Id[]; bound: number; length: number; exact: boolean } {
  const board = circuit.board as Id;
  const { table, pulled } = pullKept(routed, ids, kept);
  const here = new Set(points.map((p) => p.id));
  const first = circuit.first.filter((id) => here.has(id));
  const last = circuit.last.filter((id) => here.has(id) && !first.includes(id));
  const free = points.map((p) => p.id).filter((id) => !first.includes(id) && !last.includes(id));
  const ring = circuit.topology === 'ring' && points.length > 1;
  const at = (id: Id): number => ids.indexOf(id);
  const start = first[first.length - 1] ?? board;
  const end = last[0] ?? (ring ? board : null);
  const best = bestOrder(table, at(start), end === null ? null : at(end), free.map(at));
  const order = [...first, ...best.order.map((i) => ids[i] as Id), ...last];
  const path = ring ? [board, ...order, board] : [board, ...order];
  const fixed = (list: readonly Id[]): number =>
    list.reduce(
      (sum, id, i) => (i === 0 ? 0 : sum + (table.d[at(list[i - 1] as Id) * table.n + at(id)] as number)),
      0,
    );
  const pinned = fixed([board, ...first]) + fixed(ring && last.length > 0 ? [...last, board] : last);
  // What the kept runs took off on the way round is no part of the length.
  const back = pulled * path.slice(1).filter((id, i) => isPulled(kept, path[i] as Id, id)).length;
  const links = path.slice(1).map((to, i): Link => {
    const from = path[i] as Id;
    const why = from === board || to === board ? 'to the board' : 'to the next point';
    return { from, to, cores: interlinked(points, from, to) ? 3 : 2, why };
  });
  return {
    links,
    order,
    bound: best.bound + pinned + back,
    length: best.length + pinned + back,
    exact: best.exact,
  };
}

/** Alarms that follow each other need a core more, so that they sound together. */
function interlinked(points: readonly Point[], a: Id, b: Id): boolean {
  const isAlarm = (id: Id): boolean => {
    const kind = points.find((p) => p.id === id)?.kind;
    return kind === 'smoke-alarm' || kind === 'heat-alarm';
  };
  return isAlarm(a) && isAlarm(b);
}

/** The ways a plan's storeys have: walls always, voids where some storey has one. */
export function waysOf(ctx: ZoneContext): Way[] {
  const storeys = rows(ctx.doc.storeys);
  const found: Way[] = [];
  if (storeys.some((s) => s.ceiling.kind === 'void')) found.push('ceiling');
  found.push('walls');
  if (storeys.some((s) => s.floor.kind === 'void')) found.push('floor');
  return found;
}

/** Only that way (walls stay usable as the last resort beside a void, at a price). */
export function onlyWay(way: Way): Ways {
  return { ceiling: way === 'ceiling', walls: way === 'walls', floor: way === 'floor' };
}

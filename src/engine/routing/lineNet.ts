import type { RouteCosts } from '../model/document.ts';
import type { CostEdge, CostGraph } from './shortestPath.ts';
import { buildGraph } from './shortestPath.ts';
import type { NodeSpot, RouteCount } from './types.ts';
import { countCost, countSum, NOTHING } from './types.ts';

/** The two directions of legal lines on one surface: level and plumb on a face, two square ones in a void. */
export type Heading = 0 | 1;

interface NetEdge {
  readonly a: number;
  readonly b: number;
  readonly count: RouteCount;
  /** Cost on top of the count's, in points: steers a search without being part of what a route is made of. */
  readonly extra: number;
}

/**
 * Collects legal lines as a graph. Each crossing is two nodes, one per heading, joined by a bend, so that a bend has a
 * cost and the graph stays a plain one.
 */
export interface LineNet {
  readonly spots: NodeSpot[];
  readonly edges: NetEdge[];
}

/** An empty net. */
export function lineNet(): LineNet {
  return { spots: [], edges: [] };
}

/** Adds a crossing; returns its number. Its nodes are `2 * number + heading`. */
export function addCrossing(net: LineNet, spot: NodeSpot): number {
  net.spots.push(spot);
  return net.spots.length - 1;
}

/** A straight stretch between two crossings of one line. */
export function addStraight(
  net: LineNet,
  a: number,
  b: number,
  heading: Heading,
  count: Partial<RouteCount>,
  extra = 0,
): void {
  net.edges.push({ a: 2 * a + heading, b: 2 * b + heading, count: { ...NOTHING, ...count }, extra });
}

/** A link between surfaces, from a heading of one crossing to a heading of another. */
export function addLink(
  net: LineNet,
  a: number,
  headingA: Heading,
  b: number,
  headingB: Heading,
  count: Partial<RouteCount>,
  extra = 0,
): void {
  net.edges.push({ a: 2 * a + headingA, b: 2 * b + headingB, count: { ...NOTHING, ...count }, extra });
}

/** A net with its costs worked out: what searches run on. */
export interface PricedNet {
  readonly graph: CostGraph;
  readonly spots: readonly NodeSpot[];
  readonly counts: readonly RouteCount[];
  /** Count between two neighbouring nodes of a path: the cheapest of their edges. */
  readonly between: (a: number, b: number) => RouteCount;
}

/** Prices a net. */
export function priceNet(net: LineNet, costs: RouteCosts): PricedNet {
  const bend: RouteCount = { ...NOTHING, bends: 1 };
  const bendCost = countCost(bend, costs);
  const edges: CostEdge[] = [];
  const counts: RouteCount[] = [];
  for (let i = 0; i < net.spots.length; i += 1) {
    edges.push({ a: 2 * i, b: 2 * i + 1, cost: bendCost });
    counts.push(bend);
  }
  for (const e of net.edges) {
    edges.push({ a: e.a, b: e.b, cost: countCost(e.count, costs) + e.extra });
    counts.push(e.count);
  }
  const byNode = new Map<number, number[]>();
  const index = (): Map<number, number[]> => {
    if (byNode.size === 0) {
      edges.forEach((e, i) => {
        for (const n of [e.a, e.b]) {
          const list = byNode.get(n);
          if (list === undefined) byNode.set(n, [i]);
          else list.push(i);
        }
      });
    }
    return byNode;
  };
  return {
    graph: buildGraph(net.spots.length * 2, edges),
    spots: net.spots,
    counts,
    between: (a, b) => {
      let best = -1;
      for (const i of index().get(a) ?? []) {
        const e = edges[i] as CostEdge;
        if ((e.a === b || e.b === b) && (best < 0 || e.cost < (edges[best] as CostEdge).cost)) best = i;
      }
      if (best < 0) throw new Error(`nodes ${a} and ${b} are not neighbours`);
      return counts[best] as RouteCount;
    },
  };
}

/** Sum of the counts along a path of nodes. */
export function pathCount(net: PricedNet, path: readonly number[]): RouteCount {
  let sum = NOTHING;
  for (let i = 1; i < path.length; i += 1)
    sum = countSum(sum, net.between(path[i - 1] as number, path[i] as number));
  return sum;
}

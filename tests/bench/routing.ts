import createGraph from 'ngraph.graph';
import ngraphPath from 'ngraph.path';
import { makeStudio } from '../samples/studio.ts';
import { generateLarge } from '../samples/generate.ts';
import { rows } from '../../src/engine/model/tables.ts';
import { routingContext } from '../../src/engine/routing/context.ts';
import { plannerFor } from '../../src/engine/routing/planner.ts';
import { distanceTo, search, type CostGraph } from '../../src/engine/routing/shortestPath.ts';
import { ALL_WAYS } from '../../src/engine/routing/types.ts';
import { planCircuits, unroutedCircuits } from '../../src/engine/routing/wholePlan.ts';
import { median, timed, type Row } from './rows.ts';

/** Searches compared, and the largest fraction of the reference's time, the same graph and the same cost. */
const SEARCHES = 15;
const THIRD = 1 / 3;

/** ngraph keeps one link between two nodes here: the cheaper, which is all a shortest path asks for. */
function referenceOf({ nodes, start, target, cost }: CostGraph): ReturnType<typeof createGraph> {
  const graph = createGraph();
  for (let n = 0; n < nodes; n += 1) graph.addNode(n);
  const least = new Map<number, number>();
  for (let n = 0; n < nodes; n += 1) {
    for (let e = start[n] as number; e < (start[n + 1] as number); e += 1) {
      const to = target[e] as number;
      const key = Math.min(n, to) * nodes + Math.max(n, to);
      const known = least.get(key);
      if (known === undefined || (cost[e] as number) < known) least.set(key, cost[e] as number);
    }
  }
  for (const [key, c] of least) graph.addLink(Math.floor(key / nodes), key % nodes, c);
  return graph;
}

function shortestPathRow(): Row {
  const doc = { ...generateLarge(7, 1000, 3000), runs: { order: [], byId: {} } };
  const circuit = rows(doc.circuits)[0] ?? null;
  const { net, space } = plannerFor(routingContext(doc), circuit, ALL_WAYS).atBoard;
  const reference = referenceOf(net.graph);
  // With no heuristic of its own, A* is Dijkstra's method.
  const finder = ngraphPath.aStar(reference, { distance: (_a, _b, link) => link.data as number });
  const ends = [...net.terminals.values()].map((t) => 2 * t);
  const pairs = Array.from({ length: SEARCHES }, (_, i) => [
    ends[(i * 197) % ends.length] as number,
    ends[(i * 613 + 1000) % ends.length] as number,
  ]) as [number, number][];
  const mine: number[] = [];
  const theirs: number[] = [];
  let worst = 0;
  for (const [from, to] of pairs) {
    let path: ReturnType<typeof finder.find> = [];
    mine.push(timed(() => search(net.graph, space, from, [to])));
    const cost = distanceTo(space, to);
    theirs.push(timed(() => void (path = finder.find(from, to))));
    const sum = path.slice(1).reduce((total, node, i) => {
      const before = path[i];
      const link = before && (reference.getLink(before.id, node.id) ?? reference.getLink(node.id, before.id));
      return total + (link?.data as number);
    }, 0);
    worst = Math.max(worst, Math.abs(sum - cost));
  }
  if (!(worst < 1e-6)) throw new Error(`a path costs ${worst} more or less than the reference's`);
  const [a, b] = [median(mine), median(theirs)];
  return {
    what: 'one shortest path on the large plan, against ngraph.path (Dijkstra) on the same graph',
    ratio: a / b,
    atMost: THIRD,
    detail: `${net.graph.nodes} nodes, ${net.graph.target.length / 2} edges; median of ${SEARCHES}: ${a.toFixed(2)} ms against ${b.toFixed(2)} ms; costs equal to ${worst.toExponential(1)}`,
  };
}

function studioRow(): Row {
  const studio = makeStudio().doc;
  const doc = { ...studio, runs: { order: [], byId: {} } };
  const times: number[] = [];
  let circuits = 0;
  for (let round = 0; round < 5; round += 1) {
    times.push(
      timed(() => {
        const steps = planCircuits(routingContext(doc), unroutedCircuits(doc));
        let step = steps.next();
        while (step.done !== true) step = steps.next();
        circuits = step.value.length;
      }),
    );
  }
  const each = median(times) / circuits / 1000;
  return {
    what: 'the whole studio from nothing, seconds of worker time per circuit',
    ratio: each,
    atMost: 0.1,
    detail: `${circuits} circuits, ${(each * 1000).toFixed(1)} ms each (first round ${((times[0] ?? 0) / circuits).toFixed(1)} ms)`,
  };
}

/** Shortest paths against a general graph library, and the studio routed from nothing. */
export function routingBench(): Row[] {
  return [shortestPathRow(), studioRow()];
}

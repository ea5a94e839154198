import createGraph from 'ngraph.graph';
import ngraphPath from 'ngraph.path';
import { describe, expect, it } from 'vitest';
import type { CostEdge } from '../../../src/engine/routing/shortestPath.ts';
import {
  buildGraph,
  distanceTo,
  pathTo,
  search,
  searchSpace,
} from '../../../src/engine/routing/shortestPath.ts';
import { freshSeed, seeded } from '../../random.ts';

/** Multi-edges, self-loops, zero and equal costs, and parts that cannot be reached. */
function randomEdges(random: () => number, nodes: number): CostEdge[] {
  const count = Math.floor(random() * nodes * 3);
  return Array.from({ length: count }, () => ({
    a: Math.floor(random() * nodes),
    b: Math.floor(random() * nodes),
    cost: random() < 0.2 ? 0 : random() < 0.3 ? 5 : random() * 10,
  }));
}

describe('shortest path', () => {
  it('costs the same as ngraph.path on 1,000 random graphs, and the path adds up to its cost', () => {
    const random = seeded(freshSeed('shortest paths'));
    for (let round = 0; round < 1000; round += 1) {
      const nodes = 2 + Math.floor(random() * 40);
      const edges = randomEdges(random, nodes);
      const reference = createGraph({ multigraph: true });
      for (let i = 0; i < nodes; i += 1) reference.addNode(i);
      for (const e of edges) reference.addLink(e.a, e.b, e.cost);
      const finder = ngraphPath.aStar(reference, { distance: (_a, _b, link) => link.data as number });
      const graph = buildGraph(nodes, edges);
      const space = searchSpace(nodes);
      const goal = nodes - 1;
      search(graph, space, 0, [goal]);
      const theirs = finder.find(0, goal);
      const mine = pathTo(space, goal);
      if (theirs.length === 0) {
        expect(mine).toBeNull();
        expect(distanceTo(space, goal)).toBe(Infinity);
        continue;
      }
      const best = (a: number, b: number): number =>
        Math.min(
          ...edges.filter((e) => (e.a === a && e.b === b) || (e.a === b && e.b === a)).map((e) => e.cost),
        );
      const sum = (path: number[]): number =>
        path.slice(1).reduce((total, node, i) => total + best(path[i] as number, node), 0);
      const reached = theirs.map((node) => Number(node.id)).reverse();
      expect(distanceTo(space, goal)).toBeCloseTo(sum(reached), 9);
      expect(sum(mine as number[])).toBeCloseTo(distanceTo(space, goal), 9);
      expect((mine as number[])[0]).toBe(0);
    }
  });

  it('refuses costs that are negative or not finite, and edges out of range', () => {
    expect(() => buildGraph(2, [{ a: 0, b: 1, cost: -1 }])).toThrow(/cost/);
    expect(() => buildGraph(2, [{ a: 0, b: 1, cost: NaN }])).toThrow(/cost/);
    expect(() => buildGraph(2, [{ a: 0, b: 2, cost: 1 }])).toThrow(/leaves/);
  });

  it('forgets the search before', () => {
    const graph = buildGraph(4, [
      { a: 0, b: 1, cost: 1 },
      { a: 2, b: 3, cost: 1 },
    ]);
    const space = searchSpace(4);
    search(graph, space, 0, null);
    expect(distanceTo(space, 1)).toBe(1);
    search(graph, space, 2, null);
    expect(distanceTo(space, 1)).toBe(Infinity);
    expect(pathTo(space, 3)).toEqual([2, 3]);
  });
});

/**
 * A weighted directed graph in compressed rows: the edges of node n are `target[start[n] .. start[n + 1])`.
 * Costs are finite and not negative.
 */
export interface CostGraph {
  readonly nodes: number;
  readonly start: Uint32Array;
  readonly target: Uint32Array;
  readonly cost: Float64Array;
}

/** One edge; `buildGraph` adds its reverse too. */
export interface CostEdge {
  readonly a: number;
  readonly b: number;
  readonly cost: number;
}

/** Packs undirected edges. Throws on a node out of range or a cost that is negative or not finite. */
export function buildGraph(nodes: number, edges: readonly CostEdge[]): CostGraph {
  const start = new Uint32Array(nodes + 1);
  for (const { a, b, cost } of edges) {
    if (!(cost >= 0 && cost < Infinity)) throw new Error(`edge ${a}-${b} has cost ${cost}`);
    if (!(a >= 0 && a < nodes && b >= 0 && b < nodes)) throw new Error(`edge ${a}-${b} leaves the graph`);
    start[a + 1] = (start[a + 1] as number) + 1;
    start[b + 1] = (start[b + 1] as number) + 1;
  }
  for (let i = 0; i < nodes; i += 1) start[i + 1] = (start[i + 1] as number) + (start[i] as number);
  const next = start.slice();
  const target = new Uint32Array(edges.length * 2);
  const cost = new Float64Array(edges.length * 2);
  const put = (from: number, to: number, c: number): void => {
    const at = next[from] as number;
    next[from] = at + 1;
    target[at] = to;
    cost[at] = c;
  };
  for (const { a, b, cost: c } of edges) {
    put(a, b, c);
    put(b, a, c);
  }
  return { nodes, start, target, cost };
}

/** Buffers of a search, kept between searches of one graph size so that a search allocates nothing. */
export interface SearchSpace {
  readonly dist: Float64Array;
  readonly prev: Int32Array;
  /** Search number at which a node's entries were last written. */
  readonly seen: Uint32Array;
  readonly done: Uint32Array;
  readonly heap: Int32Array;
  readonly place: Int32Array;
  round: number;
}

/** Buffers for a graph of that many nodes. */
export function searchSpace(nodes: number): SearchSpace {
  return {
    dist: new Float64Array(nodes),
    prev: new Int32Array(nodes),
    seen: new Uint32Array(nodes),
    done: new Uint32Array(nodes),
    heap: new Int32Array(nodes),
    place: new Int32Array(nodes),
    round: 0,
  };
}

/**
 * Dijkstra's method from one node until every goal is settled (or everything that can be reached, with no goals).
 * Read the answer with `distanceTo` and `pathTo` before the next search of the same space.
 */
export function search(
  graph: CostGraph,
  space: SearchSpace,
  source: number,
  goals: readonly number[] | null,
): void {
  const { start, target, cost } = graph;
  const { dist, prev, seen, done, heap, place } = space;
  space.round += 1;
  const round = space.round;
  const wanted = goals === null ? null : new Set(goals);
  let size = 1;
  dist[source] = 0;
  prev[source] = -1;
  seen[source] = round;
  heap[0] = source;
  place[source] = 0;
  while (size > 0) {
    const node = heap[0] as number;
    size -= 1;
    if (size > 0) {
      // Sift the last entry down from the root of the four-way heap.
      const last = heap[size] as number;
      const key = dist[last] as number;
      let hole = 0;
      for (;;) {
        const first = hole * 4 + 1;
        if (first >= size) break;
        const end = first + 4 < size ? first + 4 : size;
        let best = first;
        let bestKey = dist[heap[first] as number] as number;
        for (let child = first + 1; child < end; child += 1) {
          const k = dist[heap[child] as number] as number;
          if (k < bestKey) {
            bestKey = k;
            best = child;
          }
        }
        if (bestKey >= key) break;
        const up = heap[best] as number;
        heap[hole] = up;
        place[up] = hole;
        hole = best;
      }
      heap[hole] = last;
      place[last] = hole;
    }
    done[node] = round;
    if (wanted !== null && wanted.delete(node) && wanted.size === 0) return;
    const base = dist[node] as number;
    const end = start[node + 1] as number;
    for (let e = start[node] as number; e < end; e += 1) {
      const to = target[e] as number;
      if (done[to] === round) continue;
      const d = base + (cost[e] as number);
      let at: number;
      if (seen[to] !== round) {
        seen[to] = round;
        at = size;
        size += 1;
      } else if (d < (dist[to] as number)) at = place[to] as number;
      else continue;
      dist[to] = d;
      prev[to] = node;
      while (at > 0) {
        const parent = (at - 1) >> 2;
        const above = heap[parent] as number;
        if ((dist[above] as number) <= d) break;
        heap[at] = above;
        place[above] = at;
        at = parent;
      }
      heap[at] = to;
      place[to] = at;
    }
  }
}

/** Cost of the last search to a settled node; Infinity when it was not reached. */
export function distanceTo(space: SearchSpace, node: number): number {
  return space.done[node] === space.round ? (space.dist[node] as number) : Infinity;
}

/** Nodes from the source to a settled node, both included; null when it was not reached. */
export function pathTo(space: SearchSpace, node: number): number[] | null {
  if (space.done[node] !== space.round) return null;
  const path: number[] = [];
  for (let n = node; n !== -1; n = space.prev[n] as number) path.push(n);
  return path.reverse();
}

import { angleWrapped, TURN, vectorAngle } from '../geometry/angle.ts';
import { polygonArea } from '../geometry/polygon.ts';
import { vectorScale } from '../geometry/vector.ts';
import type { PlanPoint, Radians } from '../model/units.ts';
import type { Edge, WallGraph } from './graph.ts';
import { capStrip, sideStrip } from './strips.ts';
import type { Joint, Strip } from './strips.ts';

/** One walk round with the room on the right: strips, and the joint after each. */
export interface Loop {
  readonly strips: readonly Strip[];
  readonly joints: readonly Joint[];
  /** Area within the centre lines walked, mm²: positive round a room, zero or negative round walls from outside. */
  readonly centreArea: number;
  /** A point of the centre line. */
  readonly start: PlanPoint;
}

const SAME_DIRECTION: Radians = 1e-9;

interface Out {
  readonly half: number;
  readonly angle: Radians;
  readonly key: string;
}

// Half-edge 2k goes edge k from its first vertex to its second (the wall's right side), 2k + 1 comes back (its left).
const edgeOf = (graph: WallGraph, half: number): Edge => graph.edges[half >> 1] as Edge;

/**
 * Every half-edge of the graph in exactly one loop. At a vertex the walk takes the next wall counter-clockwise on
 * screen, which keeps the room on its right; at a vertex with one wall it goes round the end over a cap.
 */
export function traceLoops(graph: WallGraph): Loop[] {
  const out = new Map<number, Out[]>();
  const put = (vertex: number, o: Out): void => {
    const list = out.get(vertex);
    if (list) list.push(o);
    else out.set(vertex, [o]);
  };
  graph.edges.forEach((edge, k) => {
    const { dir, id } = edge.frame;
    put(edge.v0, { half: 2 * k, angle: angleWrapped(vectorAngle(dir)), key: id });
    put(edge.v1, { half: 2 * k + 1, angle: angleWrapped(vectorAngle(vectorScale(dir, -1))), key: id });
  });
  const rank = new Map<number, { readonly list: readonly Out[]; readonly at: number }>();
  for (const list of out.values()) {
    list.sort((a, b) => a.angle - b.angle || (a.key < b.key ? -1 : 1));
    list.forEach((o, at) => rank.set(o.half, { list, at }));
  }
  const seen = new Set<number>();
  const loops: Loop[] = [];
  for (let h = 0; h < 2 * graph.edges.length; h++) {
    if (seen.has(h)) continue;
    loops.push(traceFrom(graph, h, rank, seen));
  }
  return loops;
}

function traceFrom(
  graph: WallGraph,
  first: number,
  rank: ReadonlyMap<number, { readonly list: readonly Out[]; readonly at: number }>,
  seen: Set<number>,
): Loop {
  const strips: Strip[] = [];
  const joints: Joint[] = [];
  const ring: PlanPoint[] = [];
  for (let h = first; !seen.has(h);) {
    seen.add(h);
    const edge = edgeOf(graph, h);
    const back = (h & 1) === 1;
    strips.push(sideStrip(edge.frame, back ? 'left' : 'right', edge.along0, edge.along1));
    ring.push(graph.vertices[back ? edge.v1 : edge.v0] as PlanPoint);
    const { list, at } = rank.get(h ^ 1) as { readonly list: readonly Out[]; readonly at: number };
    const here = list[at] as Out;
    const next = list[(at + list.length - 1) % list.length] as Out;
    if (next.half === here.half) {
      joints.push({ angle: 1.5 * Math.PI, free: true }, { angle: 1.5 * Math.PI, free: true });
      strips.push(capStrip(edge.frame, back ? 'from' : 'to'));
    } else {
      const angle = angleWrapped(here.angle - next.angle);
      const full = angle < SAME_DIRECTION && at === 0;
      joints.push({ angle: full ? TURN : angle, free: false });
    }
    h = next.half;
  }
  return { strips, joints, centreArea: polygonArea(ring), start: ring[0] as PlanPoint };
}

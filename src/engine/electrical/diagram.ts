import type { Id, PointKind } from '../model/document.ts';
import type { Mm } from '../model/units.ts';
import { ringOrder, treeFrom, type Net } from './net.ts';
import type { Wiring } from './wiring.ts';

export interface DiagramNode {
  readonly point: Id;
  readonly label: string;
  readonly kind: PointKind;
  /** Place on the ring from the board (0), for points of a ring; null for others. */
  readonly onRing: number | null;
  /** Runs from the board, or from the ring for spurs. */
  readonly depth: number;
  /** The point before it, nearer the board; null for the board and for points of the ring. */
  readonly parent: Id | null;
}

export interface DiagramEdge {
  readonly run: Id;
  readonly label: string;
  readonly from: Id;
  readonly to: Id;
  readonly cable: string;
  readonly lengthMm: Mm;
  readonly part: 'ring' | 'spur' | 'chain' | 'branch';
  /** What its cores do; empty for rings. */
  readonly cores: string;
}

/** A circuit to be drawn, without any places on paper: a ring as a ring, a radial as a chain, lighting as a tree. */
export interface CircuitDiagram {
  readonly shape: 'ring' | 'chain' | 'tree' | 'unjoined';
  readonly nodes: readonly DiagramNode[];
  readonly edges: readonly DiagramEdge[];
}

/** The diagram of a circuit, from the board outwards. Where it does not hang together: its parts, `unjoined`. */
export function diagramOf(net: Net, wiring: Wiring | null): CircuitDiagram {
  const why = new Map((wiring?.runs ?? []).map((r) => [r.run, r.why]));
  const order = ringOrder(net);
  const place = new Map<Id, number>();
  if (net.board !== null) place.set(net.board.id, 0);
  order.slice(0, -1).forEach(({ to }, i) => place.set(to, i + 1));
  const isRing = order.length > 0;
  const roots = isRing ? [...place.keys()] : net.board === null ? [] : [net.board.id];
  const tree = treeFrom(net, roots, (i) => !isRing || !net.loop.has(i));
  const depthOf = (id: Id): number => {
    let depth = 0;
    for (let at = tree.get(id); at !== undefined; at = tree.get(at.from)) depth++;
    return depth;
  };
  const nodes = net.points
    .map((p): DiagramNode => ({
      point: p.id,
      label: p.label,
      kind: p.kind,
      onRing: isRing ? (place.get(p.id) ?? null) : null,
      depth: depthOf(p.id),
      parent: tree.get(p.id)?.from ?? null,
    }))
    .sort((a, b) => (a.onRing ?? Infinity) - (b.onRing ?? Infinity) || a.depth - b.depth || 0);
  const children = new Map<Id, number>();
  for (const { from } of tree.values()) children.set(from, (children.get(from) ?? 0) + 1);
  const chain = [...children.values()].every((n) => n === 1);
  const reached = new Map([...tree].map(([to, { edge, from }]) => [edge, { from, to }]));
  const around = new Map<number, { from: Id; to: Id }>();
  let at = net.board?.id ?? '';
  for (const { edge, to } of order) {
    around.set(edge, { from: at, to });
    at = to;
  }
  const ringEdges = order.map((o) => o.edge);
  const rest = net.edges.map((_, i) => i).filter((i) => !ringEdges.includes(i));
  const edges = [...ringEdges, ...rest].flatMap((i): DiagramEdge[] => {
    const e = net.edges[i];
    if (e === undefined) return [];
    const ends = around.get(i) ?? reached.get(i) ?? { from: e.a, to: e.b };
    const part = around.has(i) ? 'ring' : isRing ? 'spur' : chain ? 'chain' : 'branch';
    return [
      {
        run: e.run.id,
        label: e.run.label,
        ...ends,
        cable: e.cable?.name ?? '',
        lengthMm: e.lengthMm,
        part,
        cores: why.get(e.run.id) ?? '',
      },
    ];
  });
  const shape = net.problem !== null ? 'unjoined' : isRing ? 'ring' : chain ? 'chain' : 'tree';
  return { shape, nodes, edges };
}

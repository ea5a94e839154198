import type { CircuitDiagram, DiagramEdge, DiagramNode } from '../../engine/electrical/diagram.ts';
import type { Id } from '../../engine/model/document.ts';

type Anchor = 'start' | 'middle' | 'end';

/** A piece of text of a diagram; x and y in units of the drawing, y down to the baseline. */
export interface PlacedText {
  readonly x: number;
  readonly y: number;
  readonly anchor: Anchor;
  readonly lines: readonly string[];
}

export interface PlacedNode {
  readonly node: DiagramNode;
  /** Middle of its symbol. */
  readonly x: number;
  readonly y: number;
  readonly text: PlacedText;
}

export interface PlacedEdge {
  readonly edge: DiagramEdge;
  /** SVG path data. */
  readonly path: string;
  readonly text: PlacedText;
}

/** A diagram with places on paper. Not to scale: the metres stand beside the lines. */
export interface DrawnDiagram {
  readonly width: number;
  readonly height: number;
  readonly nodes: readonly PlacedNode[];
  readonly edges: readonly PlacedEdge[];
  /** Runs that could not be drawn between two places: they close a loop that should not be, or hang loose. */
  readonly rest: readonly DiagramEdge[];
}

/** What stands beside the symbols and lines of a chain or tree; a ring has room for labels alone. */
export interface DiagramWords {
  readonly nameOf: (node: DiagramNode) => string;
  readonly aboutRun: (edge: DiagramEdge) => string;
}

/** Half the side of a symbol. */
export const HALF = 12;
const LINE = 14;
/** Width of a letter of the small text and of the names, on average and with some to spare. */
const LETTER = 6.4;
const NAME_LETTER = 8;
const STEP = 34;
const ROW = 60;
/** How far inside the ring its spurs stand. */
const SPUR = 46;
const BEND = 12;

/** Words broken into lines of at most so many letters; a longer word stands alone. */
export function wrapWords(text: string, letters: number): string[] {
  const lines: string[] = [];
  for (const word of text.split(' ').filter((w) => w !== '')) {
    const last = lines.at(-1);
    if (last !== undefined && last.length + 1 + word.length <= letters)
      lines[lines.length - 1] = `${last} ${word}`;
    else lines.push(word);
  }
  return lines;
}

const runText = (edge: DiagramEdge): string => `${edge.label} ${(edge.lengthMm / 1000).toFixed(2)} m`;

/** Ring as a ring, everything else as a chain that branches. `width` in the drawing's units, 300 or more. */
export function drawDiagram(diagram: CircuitDiagram, width: number, words: DiagramWords): DrawnDiagram {
  return diagram.shape === 'ring' ? drawRing(diagram, width) : drawTree(diagram, width, words);
}

function drawTree(
  { nodes, edges }: CircuitDiagram,
  width: number,
  { nameOf, aboutRun }: DiagramWords,
): DrawnDiagram {
  const byId = new Map(nodes.map((n) => [n.point, n]));
  const children = new Map<Id, DiagramNode[]>();
  for (const n of nodes)
    if (n.parent !== null) children.set(n.parent, [...(children.get(n.parent) ?? []), n]);
  const size = (n: DiagramNode): number => (children.get(n.point) ?? []).reduce((sum, c) => sum + size(c), 1);
  const edgeTo = (n: DiagramNode): DiagramEdge | undefined =>
    edges.find((e) => n.parent !== null && ends(e, n.parent, n.point));
  const placedNodes: PlacedNode[] = [];
  const placedEdges: PlacedEdge[] = [];
  let y = 4;
  const place = (n: DiagramNode, column: number, from: { x: number; y: number } | null): void => {
    const x = 20 + column * STEP;
    const textX = x + HALF + 7;
    const letters = Math.max(12, Math.floor((width - textX) / LETTER));
    const edge = edgeTo(n);
    const top = y;
    if (edge !== undefined && from !== null) {
      const lines = [runText(edge), ...wrapWords(aboutRun(edge), letters)];
      const at = { x: x + 8, y: top + LINE, anchor: 'start' as const, lines };
      y += lines.length * LINE + 8;
      const middle = y + HALF;
      const path =
        from.x === x
          ? `M${x} ${from.y + HALF}V${middle}`
          : `M${from.x} ${from.y + HALF}V${top - 2}Q${from.x} ${top + 4} ${from.x + 6} ${top + 4}H${x - 6}Q${x} ${top + 4} ${x} ${top + 10}V${middle}`;
      placedEdges.push({ edge, path, text: at });
    }
    const name = wrapWords(nameOf(n), Math.floor((width - textX) / NAME_LETTER)).slice(0, 2);
    // Two lines of a name need more room than the symbol.
    if (name.length > 1) y += 4;
    const middle = y + HALF;
    placedNodes.push({
      node: n,
      x,
      y: middle,
      text: { x: textX, y: middle + (name.length > 1 ? -3 : 4), anchor: 'start', lines: name },
    });
    y = middle + HALF + (name.length > 1 ? 10 : 4);
    // Branches to the side first, the longest way straight on: so no line crosses another.
    const next = (children.get(n.point) ?? []).toSorted((a, b) => size(a) - size(b));
    next.forEach((child, i) => place(child, i === next.length - 1 ? column : column + 1, { x, y: middle }));
  };
  for (const n of nodes) {
    if (n.parent !== null && byId.has(n.parent)) continue;
    place(n, 0, null);
    y += 10;
  }
  const drawn = new Set(placedEdges.map((e) => e.edge));
  const most = Math.max(0, ...placedNodes.map((n) => n.x));
  return {
    width: Math.max(width, most + 130),
    height: y,
    nodes: placedNodes,
    edges: placedEdges,
    rest: edges.filter((e) => !drawn.has(e)),
  };
}

const ends = (e: DiagramEdge, a: Id, b: Id): boolean =>
  (e.from === a && e.to === b) || (e.from === b && e.to === a);

type Side = 'top' | 'right' | 'left';

function drawRing({ nodes, edges }: CircuitDiagram, width: number): DrawnDiagram {
  const around = nodes.filter((n) => n.onRing !== null);
  const [board, ...onRing] = around;
  if (board === undefined) return { width, height: 0, nodes: [], edges: [], rest: edges };
  const spurs = new Map<Id, DiagramNode[]>();
  const root = (n: DiagramNode): Id => {
    let at = n;
    while (at.parent !== null) {
      const up = nodes.find((o) => o.point === at.parent);
      if (up === undefined || up.onRing !== null) return at.parent;
      at = up;
    }
    return at.point;
  };
  for (const n of nodes) if (n.onRing === null) spurs.set(root(n), [...(spurs.get(root(n)) ?? []), n]);
  const rowsOf = (n: DiagramNode): number => Math.max(1, spurs.get(n.point)?.length ?? 0);
  const half = Math.ceil(onRing.length / 2);
  const right = onRing.slice(0, half);
  const left = onRing.slice(half).toReversed();
  const total = (list: readonly DiagramNode[]): number => list.reduce((sum, n) => sum + rowsOf(n), 0);
  const [xl, xr, mid] = [88, width - 88, width / 2];
  const top = 26;
  const tall = ROW * Math.max(total(right), total(left), 1);
  const bottom = top + 24 + tall + 10;
  const spots = new Map<Id, { x: number; y: number; side: Side }>([
    [board.point, { x: mid, y: top, side: 'top' }],
  ]);
  for (const [list, x, side] of [
    [right, xr, 'right'],
    [left, xl, 'left'],
  ] as const) {
    let before = 0;
    for (const n of list) {
      spots.set(n.point, { x, y: top + 24 + ((before + 0.5) * tall) / total(list), side });
      before += rowsOf(n);
    }
  }
  const placedNodes: PlacedNode[] = around.flatMap((node): PlacedNode[] => {
    const at = spots.get(node.point);
    if (at === undefined) return [];
    const text: PlacedText =
      at.side === 'top'
        ? { x: mid, y: top + HALF + 14, anchor: 'middle', lines: [node.label] }
        : {
            x: at.side === 'right' ? at.x + HALF + 5 : at.x - HALF - 5,
            y: at.y + 4,
            anchor: at.side === 'right' ? 'start' : 'end',
            lines: [node.label],
          };
    return [{ node, x: at.x, y: at.y, text }];
  });
  const placedEdges: PlacedEdge[] = [];
  for (const edge of edges) {
    const [a, b] = [spots.get(edge.from), spots.get(edge.to)];
    if (edge.part !== 'ring' || a === undefined || b === undefined) continue;
    placedEdges.push({ edge, ...ringLine(edge, a, b, { xl, xr, mid, top, bottom }) });
  }
  for (const [from, list] of spurs) {
    const base = spots.get(from);
    if (base === undefined) continue;
    // Inwards from the ring; the top of the ring has its room below it.
    const inwards = base.side === 'left' ? 1 : -1;
    list.forEach((node, i) => {
      const edge = edges.find((e) => node.parent !== null && ends(e, node.parent, node.point));
      const before = spots.get(node.parent ?? '') ?? base;
      const y = base.y + i * ROW + (base.side === 'top' ? 70 : 0);
      const x = base.side === 'top' ? mid : base.x + inwards * SPUR;
      spots.set(node.point, { x, y, side: base.side });
      placedNodes.push({
        node,
        x,
        y,
        text: { x, y: y - HALF - 3, anchor: 'middle', lines: [node.label] },
      });
      if (edge === undefined) return;
      const level = Math.abs(before.y - y) < 1;
      const path = level
        ? `M${before.x + inwards * HALF} ${y}H${x - inwards * HALF}`
        : before.x === x
          ? `M${x} ${before.y + HALF}V${y - HALF}`
          : `M${before.x + inwards * HALF} ${before.y}H${(before.x + x) / 2}V${y}H${x - inwards * HALF}`;
      placedEdges.push({
        edge,
        path,
        text: { x, y: y + HALF + 11, anchor: 'middle', lines: runText(edge).split(/ (?=[\d.]+ m$)/) },
      });
    });
  }
  const drawn = new Set(placedEdges.map((e) => e.edge));
  return {
    width,
    height: bottom + 18,
    nodes: placedNodes,
    edges: placedEdges,
    rest: edges.filter((e) => !drawn.has(e)),
  };
}

interface Frame {
  readonly xl: number;
  readonly xr: number;
  readonly mid: number;
  readonly top: number;
  readonly bottom: number;
}

interface Spot {
  readonly x: number;
  readonly y: number;
  readonly side: Side;
}

/** One stretch of the ring, clockwise along its rounded outline. */
function ringLine(edge: DiagramEdge, a: Spot, b: Spot, f: Frame): Omit<PlacedEdge, 'edge'> {
  const lines = [runText(edge)];
  const upRight = `H${f.xr - BEND}Q${f.xr} ${f.top} ${f.xr} ${f.top + BEND}`;
  const under = `V${f.bottom - BEND}Q${f.xr} ${f.bottom} ${f.xr - BEND} ${f.bottom}H${f.xl + BEND}Q${f.xl} ${f.bottom} ${f.xl} ${f.bottom - BEND}`;
  const home = `V${f.top + BEND}Q${f.xl} ${f.top} ${f.xl + BEND} ${f.top}H${f.mid - HALF}`;
  const beside = (x: number, y: number, right: boolean): PlacedText => ({
    x: right ? x + 7 : x - 7,
    y: y + 4,
    anchor: right ? 'start' : 'end',
    lines,
  });
  const along: PlacedText = { x: f.mid, y: f.bottom - 6, anchor: 'middle', lines };
  if (a.side === 'top')
    return {
      path: `M${f.mid + HALF} ${f.top}${upRight}V${b.y - HALF}`,
      text: { x: f.mid + HALF + 8, y: f.top - 8, anchor: 'start', lines },
    };
  if (b.side === 'top' && a.side === 'left')
    return {
      path: `M${f.xl} ${a.y - HALF}${home}`,
      text: { x: f.mid - HALF - 8, y: f.top - 8, anchor: 'end', lines },
    };
  if (b.side === 'top') return { path: `M${f.xr} ${a.y + HALF}${under}${home}`, text: along };
  if (a.side === 'right' && b.side === 'right')
    return { path: `M${f.xr} ${a.y + HALF}V${b.y - HALF}`, text: beside(f.xr, (a.y + b.y) / 2, true) };
  if (a.side === 'left')
    return { path: `M${f.xl} ${a.y - HALF}V${b.y + HALF}`, text: beside(f.xl, (a.y + b.y) / 2, false) };
  return { path: `M${f.xr} ${a.y + HALF}${under}V${b.y + HALF}`, text: along };
}

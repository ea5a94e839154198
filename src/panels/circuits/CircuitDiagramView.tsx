import type { KeyboardEvent, ReactNode } from 'react';
import type { CircuitDiagram, DiagramEdge, DiagramNode } from '../../engine/electrical/diagram.ts';
import type { Id, PlanDocument } from '../../engine/model/document.ts';
import { POINT_KINDS } from '../../engine/model/pointKinds.ts';
import type { Ref } from '../../tools/types.ts';
import { SYMBOLS, symbolFor, type SymbolDrawing } from '../../view/shared/symbols.ts';
import { pick } from '../../app/program.ts';
import { useDoc, useProgram, useSession } from '../ui/hooks.ts';
import { showPoint, showRun } from '../../app/show.ts';
import { HALF, drawDiagram, type PlacedEdge, type PlacedNode, type PlacedText } from './diagramLayout.ts';

const SHAPES: Readonly<Record<CircuitDiagram['shape'], string>> = {
  ring: 'drawn as a ring from the board round and back to it',
  chain: 'drawn as a chain from the board',
  tree: 'drawn as a tree from the board',
  unjoined: 'which does not hang together yet',
};

/** A circuit as a diagram, linked both ways with the plan. Not to scale. */
export function CircuitDiagramView(props: {
  readonly diagram: CircuitDiagram;
  readonly name: string;
  /** Units across; text keeps its size in them. */
  readonly width?: number;
}): ReactNode {
  const doc = useDoc();
  const { diagram } = props;
  const drawn = drawDiagram(diagram, props.width ?? 330, {
    nameOf: (node) => nameOf(doc, node),
    aboutRun: (edge) => aboutRun(doc, edge),
  });
  return (
    <figure className="diagram">
      <svg
        viewBox={`0 0 ${drawn.width} ${drawn.height}`}
        width={drawn.width}
        height={drawn.height}
        role="group"
        aria-label={`${props.name}, ${SHAPES[diagram.shape]}`}
      >
        {drawn.edges.map((each) => (
          <Run key={each.edge.run} placed={each} />
        ))}
        {drawn.nodes.map((each) => (
          <Symbol key={each.node.point} placed={each} />
        ))}
      </svg>
      {drawn.rest.length > 0 && (
        <p className="help bad">
          Not in the drawing above:{' '}
          {drawn.rest.map((edge) => `${edge.label} ${endsOf(doc, edge)}`).join('; ')}.
        </p>
      )}
    </figure>
  );
}

const label = (doc: PlanDocument, id: Id): string => doc.points.byId[id]?.label ?? 'no point';
const endsOf = (doc: PlanDocument, edge: DiagramEdge): string =>
  `${label(doc, edge.from)} to ${label(doc, edge.to)}`;

function nameOf(doc: PlanDocument, node: DiagramNode): string {
  const name = doc.points.byId[node.point]?.name ?? '';
  return `${node.label} ${name === '' ? POINT_KINDS[node.kind].name : name}`;
}

/** Pixels for each unit of a symbol. */
const SCALE = 1.25;

/** How far the middle of a symbol lies above its origin: symbols of walls stand on it. */
function middleOf(node: DiagramNode, symbol: SymbolDrawing): number {
  if (node.kind === 'consumer-unit') return 5;
  return symbol.viewBox === SYMBOLS['ceiling-light'].viewBox ? 0 : 8;
}

/** What each core of a run does where switches or alarms need more than a feed; else what cable it is. */
function aboutRun(doc: PlanDocument, edge: DiagramEdge): string {
  const run = doc.runs.byId[edge.run];
  const cores = doc.cables.byId[run?.cable ?? '']?.cores ?? 0;
  const lighting = doc.circuits.byId[run?.circuit ?? '']?.topology === 'lighting';
  if (edge.cores === '' || (!lighting && edge.cores === 'permanent line, neutral')) return edge.cable;
  return `${cores > 2 ? `${cores} cores: ` : ''}${edge.cores}`;
}

/** What makes a part of the diagram answer to the pointer and the keyboard, and light with the plan. */
function useLink(
  ref: Ref,
  show: () => void,
): {
  readonly className: string;
  readonly tabIndex: 0;
  readonly role: 'button';
  readonly onClick: () => void;
  readonly onKeyDown: (event: KeyboardEvent) => void;
  readonly onPointerEnter: () => void;
  readonly onPointerLeave: () => void;
} {
  const program = useProgram();
  const is = (other: Ref): boolean => other.table === ref.table && other.id === ref.id;
  const hovered = useSession(({ hover }) => hover !== null && is(hover));
  const selected = useSession(({ selection }) => selection.some(is));
  const lit = useSession((state) => state.lit.has(`${ref.table.slice(0, -1)}:${ref.id}`));
  const go = (): void => {
    pick(program, ref.table, ref.id);
    show();
  };
  return {
    className: `${ref.table}${hovered || lit ? ' lit' : ''}${selected ? ' on' : ''}`,
    tabIndex: 0,
    role: 'button',
    onClick: go,
    onKeyDown(event) {
      if (event.key !== 'Enter' && event.key !== ' ') return;
      event.preventDefault();
      event.stopPropagation();
      go();
    },
    onPointerEnter: () => program.session.set({ hover: ref }),
    onPointerLeave: () => program.session.set({ hover: null }),
  };
}

function Words(props: { readonly text: PlacedText; readonly className: string }): ReactNode {
  const { x, y, anchor, lines } = props.text;
  return (
    <text className={props.className} textAnchor={anchor}>
      {lines.map((line, i) => (
        <tspan key={i} x={x} y={y + i * 14}>
          {line}
        </tspan>
      ))}
    </text>
  );
}

function Run(props: { readonly placed: PlacedEdge }): ReactNode {
  const program = useProgram();
  const doc = useDoc();
  const { edge, path, text } = props.placed;
  const link = useLink({ table: 'runs', id: edge.run, part: null }, () => showRun(program, edge.run));
  const said = `Run ${edge.label}, ${endsOf(doc, edge)}, ${(edge.lengthMm / 1000).toFixed(2)} metres of ${edge.cable}${edge.cores === '' ? '' : `: ${edge.cores}`}`;
  return (
    <g {...link} aria-label={said}>
      <title>{said}</title>
      <path d={path} className="reach" />
      <path d={path} className="line" />
      <Words text={text} className="run-text" />
    </g>
  );
}

function Symbol(props: { readonly placed: PlacedNode }): ReactNode {
  const program = useProgram();
  const doc = useDoc();
  const { node, x, y, text } = props.placed;
  const point = doc.points.byId[node.point];
  const link = useLink({ table: 'points', id: node.point, part: null }, () => {
    if (point) showPoint(program, point);
  });
  const symbol = symbolFor({ kind: node.kind, gangs: point?.gangs ?? 1 });
  const said = nameOf(doc, node);
  return (
    <g {...link} aria-label={said}>
      <title>{said}</title>
      <rect x={x - HALF} y={y - HALF} width={2 * HALF} height={2 * HALF} className="back" />
      <g transform={`translate(${x} ${y}) scale(${SCALE}) translate(0 ${middleOf(node, symbol)})`}>
        {symbol.strokes.map((d) => (
          <path key={d} d={d} className="ink" />
        ))}
        {symbol.fills.map((d) => (
          <path key={d} d={d} className="solid" />
        ))}
        {symbol.letters.map((each) => (
          <text key={`${each.text}${each.x}`} x={each.x} y={each.y} className="letter">
            {each.text}
          </text>
        ))}
      </g>
      <Words text={text} className="point-text" />
    </g>
  );
}

import type { Circuit, Id, Point } from '../../model/document.ts';
import { find } from '../../model/tables.ts';
import { circuitGraph, groupsOf, loopEdges, type CircuitGraph } from '../../electrical/circuitGraph.ts';
import { COMMON_PRACTICE, type CheckContext, type Draft, type Rule } from '../rule.ts';
import { list, placeOfPoint, plural, pointName } from '../words.ts';
import { agreed } from '../../model/evidence.ts';

const boardOf = (ctx: CheckContext, circuit: Circuit): Point | undefined => {
  const point = find(ctx.doc, 'points', circuit.board);
  return point?.kind === 'consumer-unit' ? point : undefined;
};

const names = (ctx: CheckContext, ids: readonly Id[]): string => {
  const labels = ids.flatMap((id) => ctx.doc.points.byId[id]?.label ?? []);
  return labels.length > 6 ? `${labels.slice(0, 5).join(', ')} and ${labels.length - 5} more` : list(labels);
};

const title = (circuit: Circuit): string =>
  circuit.name === '' ? `Circuit ${circuit.label}` : `Circuit ${circuit.label} (${circuit.name})`;

export const circuitNoBoard: Rule<'circuit'> = {
  id: 'circuit-no-board',
  title: 'Circuit fed from no consumer unit',
  looksAt: 'circuit',
  severity: 'warning',
  stage: 'circuits',
  source: COMMON_PRACTICE,
  find: (ctx, circuit) =>
    boardOf(ctx, circuit) !== undefined
      ? []
      : [
          {
            about: circuit.id,
            circuit: circuit.id,
            message: `${title(circuit)} is fed from no consumer unit.`,
            fix: 'Place a consumer unit and choose it for the circuit.',
          },
        ],
};

/** Points of the circuit at which no run ends. A loose end of the circuit accounts for one of them. */
export const pointUnreached: Rule<'circuit'> = {
  id: 'point-unreached',
  title: 'Point that no run reaches',
  looksAt: 'circuit',
  severity: 'warning',
  stage: 'runs',
  source: COMMON_PRACTICE,
  find: (ctx, circuit) => {
    const graph = circuitGraph(ctx, circuit);
    const bare = (ctx.circuitPoints.get(circuit.id) ?? [])
      .flatMap((id) => ctx.doc.points.byId[id] ?? [])
      .filter((p) => p.kind !== 'consumer-unit' && p.kind !== 'blank-plate')
      // A run of another circuit that ends here is told as that.
      .filter((p) => (ctx.pointRuns.get(p.id) ?? []).length === 0);
    if (bare.length <= graph.parked) return [];
    return bare.map((p) => ({
      about: `${circuit.id}:${p.id}`,
      circuit: circuit.id,
      point: p.id,
      at: placeOfPoint(ctx, p),
      message: `No run reaches the ${pointName(p)} of circuit ${circuit.label}.`,
      fix: 'Draw a run to it, or take it off the circuit.',
    }));
  },
};

function unjoined(ctx: CheckContext, circuit: Circuit, graph: CircuitGraph, board: Point): Draft[] {
  if (graph.nodes.length === 0 || graph.parked > 0) return [];
  const groups = groupsOf(graph).filter((g) => !g.includes(board.id));
  const reaches = graph.nodes.includes(board.id);
  return groups.map((group) => {
    const first = ctx.doc.points.byId[group[0] as Id];
    return {
      about: `${circuit.id}:${group.toSorted()[0]}`,
      circuit: circuit.id,
      point: group[0] as Id,
      at: first ? placeOfPoint(ctx, first) : null,
      message: reaches
        ? `${title(circuit)}: ${names(ctx, group)} ${group.length === 1 ? 'is' : 'are joined to each other but'} not joined to the consumer unit ${board.label}.`
        : `${title(circuit)} never gets back to its consumer unit ${board.label}: no run of it ends there.`,
      fix: `Draw the run that joins ${names(ctx, group.slice(0, 1))} to ${reaches ? 'the rest' : board.label}.`,
    };
  });
}

export const circuitNotReachingBoard: Rule<'circuit'> = {
  id: 'circuit-not-reaching-board',
  title: 'Circuit not joined to its consumer unit',
  looksAt: 'circuit',
  severity: 'error',
  stage: 'circuits',
  source: COMMON_PRACTICE,
  find: (ctx, circuit) => {
    const board = boardOf(ctx, circuit);
    return board === undefined ? [] : unjoined(ctx, circuit, circuitGraph(ctx, circuit), board);
  },
};

/** What is wrong with a ring that hangs together; null when it goes out from the board and comes back to it. */
function ringFault(
  ctx: CheckContext,
  graph: CircuitGraph,
  board: Point,
): { message: string; fix: string } | null {
  const atBoard = graph.degree.get(board.id) ?? 0;
  if (atBoard === 0) return null;
  const loop = loopEdges(graph);
  const around = new Map<Id, number>();
  graph.edges.forEach(({ a, b }, i) => {
    if (!loop.has(i)) return;
    around.set(a, (around.get(a) ?? 0) + 1);
    around.set(b, (around.get(b) ?? 0) + 1);
  });
  if ((around.get(board.id) ?? 0) === 0) {
    const ends = graph.nodes.filter((id) => id !== board.id && graph.degree.get(id) === 1);
    return {
      message: `does not come back to ${board.label}: it is open${ends.length > 0 ? `, and ends at ${names(ctx, ends)}` : ''}`,
      fix:
        atBoard === 1
          ? `Draw the run back from the last point to ${board.label}.`
          : `Draw the run that closes the gap${ends.length === 2 ? ` between ${names(ctx, ends)}` : ''}.`,
    };
  }
  const crowded = graph.nodes.filter((id) => id !== board.id && (around.get(id) ?? 0) > 2);
  if (atBoard > 2 || crowded.length > 0) {
    return {
      message:
        atBoard > 2
          ? `has ${plural(atBoard, 'end')} at ${board.label}; a ring has two`
          : `is bridged: ${names(ctx, crowded)} ${crowded.length === 1 ? 'has' : 'have'} more than two ring cables`,
      fix: 'Take out the run that makes the second loop, or make it a spur that ends at one point.',
    };
  }
  return null;
}

export const ringOpen: Rule<'circuit'> = {
  id: 'ring-open',
  title: 'Ring that does not close',
  looksAt: 'circuit',
  severity: 'error',
  stage: 'circuits',
  source: (rules) => agreed(`${rules.name} Appendix 15 and 433.1.204 (ring final circuits)`),
  find: (ctx, circuit) => {
    const board = boardOf(ctx, circuit);
    if (circuit.topology !== 'ring' || board === undefined) return [];
    const graph = circuitGraph(ctx, circuit);
    if (graph.parked > 0) return [];
    // Parts that do not reach the board are told as that.
    if (groupsOf(graph).length > 1) return [];
    const fault = ringFault(ctx, graph, board);
    return fault === null
      ? []
      : [
          {
            about: circuit.id,
            circuit: circuit.id,
            point: board.id,
            at: placeOfPoint(ctx, board),
            message: `${title(circuit)} ${fault.message}.`,
            fix: fault.fix,
          },
        ];
  },
};

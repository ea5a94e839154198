import { circuitGraph, groupsOf, loopEdges, type GraphContext } from './circuitGraph.ts';
import type { Fabric } from '../fabric/types.ts';
import type { Cable, Circuit, Id, PlanDocument, Point, Run } from '../model/document.ts';
import { ask, type Derivation } from '../memo/derivation.ts';
import { ofRecord } from '../memo/ofRecord.ts';
import { find, rows } from '../model/tables.ts';
import type { Mm } from '../model/units.ts';
import { scaleOf } from '../takeoff/calibration.ts';
import { tailsOf } from '../takeoff/tails.ts';
import type { Scale } from '../takeoff/types.ts';
import type { Lookup } from '../zones/surfaces.ts';
import type { RunCheck } from '../zones/types.ts';

/** What circuits are worked out from: a plan and its resolved runs. Nothing else is looked at. */
export interface ElectricalInput {
  readonly doc: PlanDocument;
  readonly fabrics: ReadonlyMap<Id, Fabric>;
  readonly checks: Lookup<Id, RunCheck>;
  /** Look-ups that whoever follows changes keeps at hand; made from the plan where they are left out. */
  readonly circuitRuns?: Lookup<Id, readonly Id[]>;
  readonly circuitPoints?: Lookup<Id, readonly Id[]>;
  readonly pointRuns?: Lookup<Id, readonly Id[]>;
  /** Runs by the squares their legs lie in (`squaresOfLeg`). */
  readonly squareRuns?: Lookup<string, readonly Id[]>;
}

/** One run between two points of a circuit. `drawnMm` without its tails, `lengthMm` with them. */
export interface NetEdge {
  readonly run: Run;
  readonly a: Id;
  readonly b: Id;
  readonly cable: Cable | null;
  readonly drawnMm: Mm;
  readonly lengthMm: Mm;
}

/** A circuit as it is joined up. `problem` says why nothing can be worked out along it; null when it hangs together. */
export interface Net {
  readonly circuit: Circuit;
  readonly board: Point | null;
  readonly points: readonly Point[];
  readonly edges: readonly NetEdge[];
  /** Edges that lie on a loop. */
  readonly loop: ReadonlySet<number>;
  readonly problem: string | null;
}

const lists = (pairs: readonly (readonly [Id | null, Id])[]): Map<Id, Id[]> => {
  const map = new Map<Id, Id[]>();
  for (const [key, id] of pairs) {
    if (key === null) continue;
    const list = map.get(key);
    if (list === undefined) map.set(key, [id]);
    else if (!list.includes(id)) list.push(id);
  }
  return map;
};

const INDEX: Derivation<ElectricalInput, GraphContext> = {
  name: 'look-ups of circuits',
  work: (input) => {
    const { doc } = input;
    return {
      doc,
      circuitRuns: input.circuitRuns ?? lists(rows(doc.runs).map((r) => [r.circuit, r.id])),
      circuitPoints: input.circuitPoints ?? lists(rows(doc.points).map((p) => [p.circuit, p.id])),
      pointRuns:
        input.pointRuns ??
        lists(
          rows(doc.runs).flatMap((r): [Id | null, Id][] => [
            [r.from, r.id],
            [r.to, r.id],
          ]),
        ),
    };
  },
  equal: () => false,
};

/** The look-ups of an input. */
export function indexOf(input: ElectricalInput): GraphContext {
  return ask(input, INDEX);
}

const SCALE: Derivation<PlanDocument, Scale> = { name: 'scale', work: scaleOf };

/** How far the plan's metres can be believed: see `scaleOf`. */
export function scaleIn(input: ElectricalInput): Scale {
  return ask(input.doc, SCALE);
}

/** Metres of a run as drawn, and with its tails, mm. */
export function runMm(input: ElectricalInput, run: Run): { readonly drawn: Mm; readonly whole: Mm } {
  const drawn = (input.checks.get(run.id)?.legs ?? []).reduce((sum, l) => sum + l.leg.length, 0);
  const tails = tailsOf(input.doc, run);
  return { drawn, whole: drawn + tails.from.length + tails.to.length };
}

/** Points joined by the edges that are kept. */
export function reach(net: Pick<Net, 'edges'>, from: Id, keep: (edge: number) => boolean): ReadonlySet<Id> {
  const seen = new Set([from]);
  for (const node of seen) {
    net.edges.forEach((e, i) => {
      if (!keep(i)) return;
      if (e.a === node) seen.add(e.b);
      else if (e.b === node) seen.add(e.a);
    });
  }
  return seen;
}

function joinedUp(input: ElectricalInput, circuit: Circuit): Net {
  const { doc } = input;
  const graph = circuitGraph(indexOf(input), circuit);
  const at = find(doc, 'points', circuit.board);
  const board = at?.kind === 'consumer-unit' ? at : null;
  const edges = graph.edges.map(({ run: id, a, b }): NetEdge => {
    const run = doc.runs.byId[id] as Run;
    const { drawn, whole } = runMm(input, run);
    return { run, a, b, cable: find(doc, 'cables', run.cable) ?? null, drawnMm: drawn, lengthMm: whole };
  });
  const loop = loopEdges(graph);
  const points = graph.nodes.flatMap((id) => doc.points.byId[id] ?? []);
  const problem = problemOf(input, circuit, board, graph, edges, loop);
  return { circuit, board, points, edges, loop, problem };
}

/** The circuit as it is joined up; the same object for the same input. */
export const netOf = ofRecord('net', 'circuits', joinedUp);

function problemOf(
  input: ElectricalInput,
  circuit: Circuit,
  board: Point | null,
  graph: ReturnType<typeof circuitGraph>,
  edges: readonly NetEdge[],
  loop: ReadonlySet<number>,
): string | null {
  const scale = scaleIn(input);
  if (scale.state === 'refused') return scale.why;
  if (board === null) return 'It is fed from no consumer unit.';
  if (edges.length === 0) return 'None of its runs joins two points.';
  if (graph.parked > 0) return 'A run of it has an end on no point.';
  if (groupsOf(graph).length > 1 || !graph.nodes.includes(board.id))
    return 'Its runs are not all joined to the consumer unit.';
  for (const { run, cable } of edges) {
    const check = input.checks.get(run.id);
    if (check === undefined || check.missing !== null) return `${run.label} could not be followed whole.`;
    if (check.legs.some((l) => l.leg.kind === 'loose')) return `${run.label} leaves the walls and voids.`;
    if (cable === null || cable.use === 'data') return `${run.label} has no mains cable.`;
  }
  if (circuit.topology === 'ring' ? !isOneRing(edges, loop, board.id) : loop.size > 0) {
    return circuit.topology === 'ring' ? 'It is not one closed ring.' : 'Its runs make a loop.';
  }
  return null;
}

/** Do the looped edges make one ring through the board, each point of it with two ring cables? */
function isOneRing(edges: readonly NetEdge[], loop: ReadonlySet<number>, board: Id): boolean {
  const ends = new Map<Id, number>();
  edges.forEach((e, i) => {
    if (!loop.has(i)) return;
    for (const p of [e.a, e.b]) ends.set(p, (ends.get(p) ?? 0) + 1);
  });
  if (ends.get(board) !== 2 || [...ends.values()].some((n) => n !== 2)) return false;
  return reach({ edges }, board, (i) => loop.has(i)).size === ends.size;
}

/** Ring edges in order from the board round to the board, each with the point it leads to. */
export function ringOrder(net: Net): readonly { readonly edge: number; readonly to: Id }[] {
  const board = net.board?.id;
  if (board === undefined || net.problem !== null) return [];
  const order: { edge: number; to: Id }[] = [];
  const used = new Set<number>();
  let at = board;
  for (;;) {
    const next = net.edges.findIndex((e, i) => net.loop.has(i) && !used.has(i) && (e.a === at || e.b === at));
    if (next < 0) return order;
    used.add(next);
    const edge = net.edges[next] as NetEdge;
    at = edge.a === at ? edge.b : edge.a;
    order.push({ edge: next, to: at });
    if (at === board) return order;
  }
}

/** A tree hanging from `roots` by the edges kept: for each point the edge that leads to it and the point it leads from. */
export function treeFrom(
  net: Pick<Net, 'edges'>,
  roots: readonly Id[],
  keep: (edge: number) => boolean,
): ReadonlyMap<Id, { readonly edge: number; readonly from: Id }> {
  const parent = new Map<Id, { edge: number; from: Id }>();
  const seen = new Set(roots);
  for (const node of seen) {
    net.edges.forEach((e, i) => {
      if (!keep(i)) return;
      const to = e.a === node ? e.b : e.b === node ? e.a : null;
      if (to === null || seen.has(to)) return;
      seen.add(to);
      parent.set(to, { edge: i, from: node });
    });
  }
  return parent;
}

/** Edges on the way up from a point to the root of its tree, nearest first. */
export function wayUp(
  tree: ReadonlyMap<Id, { readonly edge: number; readonly from: Id }>,
  point: Id,
): readonly number[] {
  const edges: number[] = [];
  for (let at = tree.get(point); at !== undefined; at = tree.get(at.from)) edges.push(at.edge);
  return edges;
}

/** Edges of the one way between two points of a tree. */
export function wayBetween(
  tree: ReadonlyMap<Id, { readonly edge: number; readonly from: Id }>,
  a: Id,
  b: Id,
): readonly number[] {
  const [up, down] = [wayUp(tree, a), wayUp(tree, b)];
  const shared = new Set(down.filter((e) => up.includes(e)));
  return [...up.filter((e) => !shared.has(e)), ...down.filter((e) => !shared.has(e)).reverse()];
}

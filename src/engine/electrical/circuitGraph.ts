import type { Circuit, Id, PlanDocument, Run } from '../model/document.ts';
import { find } from '../model/tables.ts';
import type { Lookup } from '../zones/surfaces.ts';

/** What of a context a circuit is followed by. Ids are in the document's order. */
export interface GraphContext {
  readonly doc: PlanDocument;
  readonly circuitRuns: Lookup<Id, readonly Id[]>;
  readonly circuitPoints: Lookup<Id, readonly Id[]>;
  readonly pointRuns: Lookup<Id, readonly Id[]>;
}

/** A circuit as points joined by runs. */
export interface CircuitGraph {
  /** Points that any run of it reaches, and the board, in the order they are met. */
  readonly nodes: readonly Id[];
  readonly edges: readonly { readonly run: Id; readonly a: Id; readonly b: Id }[];
  /** Ends of runs at each point. */
  readonly degree: ReadonlyMap<Id, number>;
  /** Ends of its runs that are on no point. */
  readonly parked: number;
}

/**
 * Runs of the circuit, and runs between its own points (or its board) that are on another circuit or none: those have
 * findings of their own, and are not to be told again as a break in this one.
 */
function runsOf(ctx: GraphContext, circuit: Circuit): Run[] {
  const ids = new Set(ctx.circuitRuns.get(circuit.id) ?? []);
  const own = new Set(ctx.circuitPoints.get(circuit.id) ?? []);
  const joins = (run: Run) => {
    const ends = [run.from, run.to];
    return (
      ends.some((e) => e !== null && own.has(e)) &&
      ends.every((e) => e !== null && (own.has(e) || e === circuit.board))
    );
  };
  for (const point of own) {
    for (const id of ctx.pointRuns.get(point) ?? []) {
      const run = ctx.doc.runs.byId[id];
      if (run !== undefined && run.circuit !== circuit.id && joins(run)) ids.add(id);
    }
  }
  return [...ids].flatMap((id) => ctx.doc.runs.byId[id] ?? []);
}

/** The graph of a circuit. Runs with a parked end are no edge. */
export function circuitGraph(ctx: GraphContext, circuit: Circuit): CircuitGraph {
  const nodes = new Set<Id>();
  const edges: { run: Id; a: Id; b: Id }[] = [];
  const degree = new Map<Id, number>();
  let parked = 0;
  for (const run of runsOf(ctx, circuit)) {
    const ends = [run.from, run.to].flatMap((id) => (find(ctx.doc, 'points', id) ? [id as Id] : []));
    parked += 2 - ends.length;
    for (const id of ends) nodes.add(id);
    const [a, b] = ends;
    if (a === undefined || b === undefined) continue;
    edges.push({ run: run.id, a, b });
    degree.set(a, (degree.get(a) ?? 0) + 1);
    degree.set(b, (degree.get(b) ?? 0) + 1);
  }
  return { nodes: [...nodes], edges, degree, parked };
}

/** Points joined to each other, group by group. `without` leaves one edge out. */
export function groupsOf(graph: CircuitGraph, without: number = -1): Id[][] {
  const beside = new Map<Id, Id[]>(graph.nodes.map((n) => [n, []]));
  graph.edges.forEach(({ a, b }, i) => {
    if (i === without) return;
    beside.get(a)?.push(b);
    beside.get(b)?.push(a);
  });
  const seen = new Set<Id>();
  return graph.nodes.flatMap((start) => {
    if (seen.has(start)) return [];
    seen.add(start);
    const group = [start];
    for (const node of group) {
      for (const next of beside.get(node) ?? []) {
        if (seen.has(next)) continue;
        seen.add(next);
        group.push(next);
      }
    }
    return [group];
  });
}

/** Edges that lie on some loop: all that can be left out without parting what they join (bridges are not). */
export function loopEdges(graph: CircuitGraph): ReadonlySet<number> {
  const beside = new Map<Id, { to: Id; edge: number }[]>(graph.nodes.map((n) => [n, []]));
  graph.edges.forEach(({ a, b }, edge) => {
    beside.get(a)?.push({ to: b, edge });
    beside.get(b)?.push({ to: a, edge });
  });
  const entered = new Map<Id, number>();
  const low = new Map<Id, number>();
  const bridges = new Set<number>();
  for (const root of graph.nodes) {
    if (entered.has(root)) continue;
    // Depth-first without recursion: a chain of points may be long.
    const stack = [{ node: root, by: -1, next: 0 }];
    entered.set(root, entered.size);
    low.set(root, entered.get(root) as number);
    while (stack.length > 0) {
      const top = stack[stack.length - 1] as (typeof stack)[number];
      const step = beside.get(top.node)?.[top.next++];
      if (step === undefined) {
        stack.pop();
        const parent = stack.at(-1);
        if (parent === undefined) continue;
        const reach = low.get(top.node) as number;
        low.set(parent.node, Math.min(low.get(parent.node) as number, reach));
        if (reach > (entered.get(parent.node) as number)) bridges.add(top.by);
      } else if (step.edge !== top.by) {
        const known = entered.get(step.to);
        if (known === undefined) {
          entered.set(step.to, entered.size);
          low.set(step.to, entered.get(step.to) as number);
          stack.push({ node: step.to, by: step.edge, next: 0 });
        } else {
          low.set(top.node, Math.min(low.get(top.node) as number, known));
        }
      }
    }
  }
  return new Set(graph.edges.flatMap((e, i) => (bridges.has(i) || e.a === e.b ? [] : [i])));
}

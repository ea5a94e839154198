import { wiringOf } from '../electrical/wiring.ts';
import type { Net, NetEdge } from '../electrical/net.ts';
import { BLANK_RUN } from '../model/blankRun.ts';
import type { Cable, Circuit, Id, PlanDocument, Point, Run } from '../model/document.ts';
import { find, rows } from '../model/tables.ts';
import type { Link } from './lighting.ts';

/** A link with the cable its switching needs. */
export interface CabledLink extends Link {
  readonly cable: Id;
}

/** Links that can be laid, each in its cable, and what is left out, in plain words. */
export interface Cabled {
  readonly links: readonly CabledLink[];
  readonly left: readonly string[];
}

interface Task {
  readonly doc: PlanDocument;
  readonly circuit: Circuit;
  readonly board: Point;
  readonly points: readonly Point[];
  readonly kept: readonly Run[];
  readonly at: (a: Id, b: Id) => number;
}

/** The cable of a circuit with at least so many cores: its own two, else of the same size in the catalogue. */
function cableFor({ doc, circuit }: Pick<Task, 'doc' | 'circuit'>, cores: number): Cable | null {
  const own = [circuit.cable, circuit.cable3].flatMap((id) => find(doc, 'cables', id) ?? []);
  const csa = own[0]?.csa;
  const same = rows(doc.cables)
    .filter((c) => c.csa === csa && c.use !== 'data')
    .sort((a, b) => a.cores - b.cores);
  return [...own, ...same].find((c) => c.cores >= cores) ?? null;
}

/** How many cores each of these needs, the kept runs first, as far as they are joined to the board. */
function needs(task: Task, links: readonly Link[]): readonly number[] {
  const { circuit, board, kept, doc } = task;
  const edge = (id: string, a: Id, b: Id, cable: Cable | null): NetEdge => ({
    run: { ...BLANK_RUN, id, label: id, circuit: circuit.id, cable: circuit.cable, from: a, to: b } as Run,
    a,
    b,
    cable,
    drawnMm: 0,
    lengthMm: 0,
  });
  const most = mostCores(task);
  const edges = [
    ...kept.map((r) => edge(r.id, r.from ?? '', r.to ?? '', find(doc, 'cables', r.cable) ?? null)),
    ...links.map((l, i) => edge(`link ${i}`, l.from, l.to, most)),
  ];
  const there = reached(task, links);
  const points = task.points.filter((p) => there.has(p.id));
  const net: Net = { circuit, board, points, edges, loop: new Set(), problem: null };
  return (wiringOf(net)?.runs ?? []).map((r) => r.cores.length);
}

function mostCores(task: Pick<Task, 'doc' | 'circuit'>): Cable | null {
  for (let n = 8; n > 0; n--) {
    const cable = cableFor(task, n);
    if (cable !== null) return cable;
  }
  return null;
}

/** Cores that are wanted beyond those there are, over kept runs and links. */
function shortage(task: Task, links: readonly Link[]): number {
  const most = mostCores(task)?.cores ?? 2;
  return needs(task, links).reduce((sum, cores, i) => {
    const has =
      i < task.kept.length ? (find(task.doc, 'cables', task.kept[i]?.cable ?? null)?.cores ?? 0) : most;
    return sum + Math.max(0, cores - has);
  }, 0);
}

/** Points joined to the board by these. */
function reached(task: Task, links: readonly Pick<Link, 'from' | 'to'>[]): ReadonlySet<Id> {
  const found = new Set<Id | null>([task.board.id]);
  const all: readonly { readonly from: Id | null; readonly to: Id | null }[] = [...task.kept, ...links];
  for (let before = -1; before !== found.size;) {
    before = found.size;
    for (const { from, to } of all) if (found.has(from) || found.has(to)) found.add(from).add(to);
  }
  return found as Set<Id>;
}

/** Pairs worth trying between two parts of a circuit: the nearest, and switches with what they work. */
const NEAREST = 12;

function pairsBetween(task: Task, inside: ReadonlySet<Id>): { from: Id; to: Id }[] {
  const ids = [task.board.id, ...task.points.map((p) => p.id)];
  return ids
    .filter((id) => inside.has(id))
    .flatMap((from) =>
      ids.filter((id) => !inside.has(id)).map((to) => ({ from, to, cost: task.at(from, to) })),
    )
    .filter((pair) => pair.cost < Infinity)
    .sort((a, b) => a.cost - b.cost)
    .slice(0, NEAREST);
}

/** The links as one comes to them from the board. */
function fromBoard(task: Task, links: readonly Link[]): Link[] {
  const rest = [...links];
  const found: Link[] = [];
  for (;;) {
    const there = reached(task, found);
    const next = rest.findIndex((l) => there.has(l.from) || there.has(l.to));
    if (next < 0) return [...found, ...rest];
    found.push(...rest.splice(next, 1));
  }
}

/** The links changed one by one while fewer cores are short: the way to it least longer first. */
function lessShort(task: Task, links: readonly Link[]): readonly Link[] {
  let now = links;
  let short = shortage(task, now);
  while (short > 0) {
    let best: { links: readonly Link[]; short: number; cost: number } | null = null;
    for (const [i, link] of now.entries()) {
      const rest = now.toSpliced(i, 1);
      for (const { from, to } of pairsBetween(task, reached(task, rest))) {
        const next = [...rest, { ...link, from, to }];
        const [s, cost] = [shortage(task, next), task.at(from, to) - task.at(link.from, link.to)];
        if (s < short && (best === null || s < best.short || (s === best.short && cost < best.cost)))
          best = { links: next, short: s, cost };
      }
    }
    if (best === null) return now;
    [now, short] = [best.links, best.short];
  }
  return now;
}

/**
 * The links of a circuit without a loop, each in a cable with the cores its switching needs beside the runs that are
 * kept. Links are changed where that saves cores that no cable has; what would still need more than there are is left
 * out and named, so that nothing is laid that the checks then call wrong.
 */
export function cabledLinks(task: Task, wanted: readonly Link[]): Cabled {
  const links = lessShort(task, wanted);
  const laid: Link[] = [];
  const left: string[] = [];
  const label = (id: Id): string => task.doc.points.byId[id]?.label ?? id;
  for (const link of fromBoard(task, links)) {
    if (shortage(task, [...laid, link]) <= shortage(task, laid)) laid.push(link);
    else {
      const drawn = task.kept.map((r) => r.label).join(', ');
      left.push(
        `${label(link.to)} is left: a cable between ${label(link.from)} and it would ask more cores of the switching than the cables have${drawn === '' ? '' : `, with ${drawn} as drawn`}. Choose a cable with more cores, or let those runs be laid anew.`,
      );
    }
  }
  const cores = needs(task, laid);
  return {
    left,
    links: laid.map((link, i): CabledLink => {
      const asked = Math.max(link.cores, cores[task.kept.length + i] ?? 0);
      return { ...link, cable: cableFor(task, asked)?.id ?? task.circuit.cable };
    }),
  };
}

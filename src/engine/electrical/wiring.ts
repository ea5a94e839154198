import type { Id, Point } from '../model/document.ts';
import { POINT_KINDS } from '../model/pointKinds.ts';
import { treeFrom, wayBetween, wayUp, type Net } from './net.ts';

/** What one core does. `group` names the lights or fans a switched line feeds, by the switches that work them. */
export interface Core {
  readonly does: 'permanent line' | 'switched line' | 'strapper' | 'neutral' | 'interlink';
  readonly group: string | null;
}

/** What a run must carry besides its protective conductor. */
export interface RunWiring {
  readonly run: Id;
  readonly cores: readonly Core[];
  readonly available: number;
  /** More than two cores are needed. */
  readonly threeCore: boolean;
  readonly why: string;
}

/** A set of switches that work the same points together. */
export interface SwitchGroup {
  readonly key: string;
  /** In the order the line goes through them. */
  readonly switches: readonly Id[];
  /** Which gang of each of them, counted from 0. */
  readonly gangs: readonly number[];
  readonly loads: readonly Id[];
  readonly how: 'one-way' | 'two-way' | 'intermediate';
}

/** The way the current of a load goes: edges its line goes along (some twice) and those its neutral comes back by. */
export interface LoadPath {
  readonly line: readonly { readonly edge: number; readonly core: string }[];
  readonly neutral: readonly number[];
}

export interface Wiring {
  readonly runs: readonly RunWiring[];
  readonly groups: readonly SwitchGroup[];
  readonly loads: ReadonlyMap<Id, LoadPath>;
  /** The line as it reaches each point: with the switch on, for points behind a switch. */
  readonly lineTo: ReadonlyMap<Id, readonly number[]>;
  /** Points that stand for nothing here: a switch that works nothing of this circuit. */
  readonly idle: readonly Id[];
}

const isAlarm = (p: Point): boolean => p.kind === 'smoke-alarm' || p.kind === 'heat-alarm';
const isLoad = (p: Point): boolean =>
  !POINT_KINDS[p.kind].isSwitch &&
  !['consumer-unit', 'joint', 'isolator', 'blank-plate', 'data'].includes(p.kind);

type Tree = ReturnType<typeof treeFrom>;

/** One gang of a switch: it has lights and partners of its own, whatever else is on its plate. */
export interface SwitchGang {
  readonly id: Id;
  /** From 0. */
  readonly gang: number;
}

/** The gangs of some switches that work a point. */
export function gangsWorking(switches: readonly Point[], load: Id): SwitchGang[] {
  return switches.flatMap(({ id, controls }) =>
    controls.flatMap((works, gang) => (works.includes(load) ? [{ id, gang }] : [])),
  );
}

/** Gangs that work the same points are one set, by this name. */
export const gangsKey = (gangs: readonly SwitchGang[]): string =>
  gangs.map(({ id, gang }) => `${id}.${gang}`).join(' ');

function groupsOf(points: readonly Point[]): {
  groups: Map<string, { switches: SwitchGang[]; loads: Id[] }>;
  bare: Id[];
} {
  const switches = points.filter((p) => POINT_KINDS[p.kind].isSwitch);
  const groups = new Map<string, { switches: SwitchGang[]; loads: Id[] }>();
  const bare: Id[] = [];
  for (const load of points.filter(isLoad)) {
    const by = gangsWorking(switches, load.id);
    if (by.length === 0) {
      bare.push(load.id);
      continue;
    }
    const key = gangsKey(by);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, { switches: by, loads: [load.id] });
    else group.loads.push(load.id);
  }
  return { groups, bare };
}

function permutations<T>(items: readonly T[]): T[][] {
  if (items.length <= 1) return [[...items]];
  return items.flatMap((item, i) =>
    permutations([...items.slice(0, i), ...items.slice(i + 1)]).map((rest) => [item, ...rest]),
  );
}

/** Orders the line may go through switches: intermediates between. More than six are taken as they come. */
function orders(
  switches: readonly SwitchGang[],
  kind: (id: Id) => Point['kind'] | undefined,
): SwitchGang[][] {
  if (switches.length > 6) return [[...switches]];
  const all = permutations(switches);
  const proper = all.filter((order) =>
    order.every(({ id }, i) => (kind(id) === 'switch-intermediate') === (i > 0 && i < order.length - 1)),
  );
  return proper.length > 0 ? proper : all;
}

/** Cores on each edge: name of the core to what it does. */
class Sheaf {
  readonly edges: Map<string, Core>[];
  constructor(count: number) {
    this.edges = Array.from({ length: count }, () => new Map<string, Core>());
  }
  add(edges: readonly number[], name: string, core: Core): void {
    for (const e of edges) this.edges[e]?.set(name, core);
  }
  /** Cores beyond those there are, and all cores: what an order is judged by. */
  cost(net: Net): number {
    return this.edges.reduce((sum, cores, i) => {
      const over = Math.max(0, cores.size - (net.edges[i]?.cable?.cores ?? 2));
      return sum + over * 1000 + cores.size;
    }, 0);
  }
  copy(): Sheaf {
    const next = new Sheaf(0);
    next.edges.push(...this.edges.map((m) => new Map(m)));
    return next;
  }
}

interface Placed {
  readonly order: readonly Id[];
  readonly sheaf: Sheaf;
  readonly line: (load: Id) => { edge: number; core: string }[];
}

/** The cores of one group with its switches in one order: line to the first, strappers between, switched line on. */
function place(
  tree: Tree,
  base: Sheaf,
  group: { readonly key: string; readonly loads: readonly Id[]; readonly permanent: readonly Id[] },
  order: readonly Id[],
): Placed {
  const sheaf = base.copy();
  const key = group.key;
  const feed = wayUp(tree, order[0] as Id);
  sheaf.add(feed, 'L', { does: 'permanent line', group: null });
  const between = order.slice(1).flatMap((id, i) => wayBetween(tree, order[i] as Id, id));
  sheaf.add(between, `T1 ${key}`, { does: 'strapper', group: key });
  sheaf.add(between, `T2 ${key}`, { does: 'strapper', group: key });
  const last = order.at(-1) as Id;
  for (const load of group.loads) {
    sheaf.add(wayBetween(tree, last, load), `S ${key}`, { does: 'switched line', group: key });
    sheaf.add(wayUp(tree, load), 'N', { does: 'neutral', group: null });
  }
  for (const load of group.permanent)
    sheaf.add(wayUp(tree, load), 'L', { does: 'permanent line', group: null });
  const line = (load: Id) => [
    ...feed.map((edge) => ({ edge, core: 'L' })),
    ...between.map((edge) => ({ edge, core: `T1 ${key}` })),
    ...wayBetween(tree, last, load).map((edge) => ({ edge, core: `S ${key}` })),
  ];
  return { order, sheaf, line };
}

/**
 * Which core of each run does what, from which switch works which point. Neutrals go to every light; the permanent line
 * to the first switch of each set and to what has no switch; strappers from switch to switch; the switched line from
 * the last one to its lights. A fan worked together with a light has a permanent line too (for its run-on timer); alarms
 * on one circuit are linked. Of the orders of several switches the one that needs fewest cores stands. For circuits
 * without a loop; null where the circuit does not hang together.
 */
export function wiringOf(net: Net): Wiring | null {
  const { board, problem } = net;
  if (problem !== null || board === null || net.loop.size > 0) return null;
  const tree = treeFrom(net, [board.id], () => true);
  const kind = (id: Id) => net.points.find((p) => p.id === id)?.kind;
  const { groups, bare } = groupsOf(net.points);
  let sheaf = new Sheaf(net.edges.length);
  for (const id of bare) {
    sheaf.add(wayUp(tree, id), 'L', { does: 'permanent line', group: null });
    sheaf.add(wayUp(tree, id), 'N', { does: 'neutral', group: null });
  }
  const alarms = net.points.filter(isAlarm).map((p) => p.id);
  alarms.slice(1).forEach((id) => {
    sheaf.add(wayBetween(tree, alarms[0] as Id, id), 'X', { does: 'interlink', group: null });
  });
  // An isolator that ends its branch is fed as a load is.
  const passed = new Set([...tree.values()].map((t) => t.from));
  for (const p of net.points) {
    if (p.kind === 'isolator' && !passed.has(p.id)) {
      sheaf.add(wayUp(tree, p.id), 'L', { does: 'permanent line', group: null });
      sheaf.add(wayUp(tree, p.id), 'N', { does: 'neutral', group: null });
    }
  }
  const lines = new Map<Id, { edge: number; core: string }[]>();
  const found: SwitchGroup[] = [];
  for (const [key, { switches, loads }] of groups) {
    const lit = loads.some((id) => POINT_KINDS[kind(id) ?? 'joint'].isLight);
    const permanent = lit ? loads.filter((id) => kind(id) === 'extractor') : [];
    const choices = orders(switches, kind).map((gangs) => ({
      gangs: gangs.map((g) => g.gang),
      ...place(
        tree,
        sheaf,
        { key, loads, permanent },
        gangs.map((g) => g.id),
      ),
    }));
    const best = choices.reduce((a, b) => (b.sheaf.cost(net) < a.sheaf.cost(net) ? b : a));
    sheaf = best.sheaf;
    for (const load of loads) lines.set(load, best.line(load));
    best.order.forEach((id, i) => {
      const on = best.order.slice(1, i + 1).flatMap((s, j) => wayBetween(tree, best.order[j] as Id, s));
      const feed = wayUp(tree, best.order[0] as Id).map((edge) => ({ edge, core: 'L' }));
      if (!lines.has(id)) lines.set(id, [...feed, ...on.map((edge) => ({ edge, core: `T1 ${key}` }))]);
    });
    const how = switches.length === 1 ? 'one-way' : switches.length === 2 ? 'two-way' : 'intermediate';
    found.push({ key, switches: best.order, gangs: best.gangs, loads, how });
  }
  const straight = (id: Id) => wayUp(tree, id).map((edge) => ({ edge, core: 'L' }));
  const loads = new Map(
    net.points
      .filter(isLoad)
      .map((p): [Id, LoadPath] => [
        p.id,
        { line: lines.get(p.id) ?? straight(p.id), neutral: wayUp(tree, p.id) },
      ]),
  );
  const lineTo = new Map(
    net.points
      .filter((p) => p.id !== board.id)
      .map((p): [Id, readonly number[]] => [p.id, (lines.get(p.id) ?? straight(p.id)).map((l) => l.edge)]),
  );
  const working = new Set(found.flatMap((g) => g.switches));
  const idle = net.points.filter((p) => POINT_KINDS[p.kind].isSwitch && !working.has(p.id)).map((p) => p.id);
  return { runs: runsWiring(net, sheaf, found), groups: found, loads, lineTo, idle };
}

const labels = (net: Net, ids: readonly Id[]): string =>
  ids.map((id) => net.points.find((p) => p.id === id)?.label ?? id).join(', ');

/** The switches of a group; of a plate of several gangs, which gang. */
function gangLabels(net: Net, { switches, gangs }: SwitchGroup): string {
  return switches
    .map((id, i) => {
      const point = net.points.find((p) => p.id === id);
      const gang = (point?.gangs ?? 1) > 1 ? ` gang ${(gangs[i] ?? 0) + 1}` : '';
      return `${point?.label ?? id}${gang}`;
    })
    .join(', ');
}

function runsWiring(net: Net, sheaf: Sheaf, groups: readonly SwitchGroup[]): RunWiring[] {
  return net.edges.map(({ run, cable }, i) => {
    const cores = [...(sheaf.edges[i]?.values() ?? [])];
    const said = cores.map((core) => {
      const group = groups.find((g) => g.key === core.group);
      if (group === undefined) return core.does;
      return core.does === 'strapper'
        ? `strapper between ${gangLabels(net, group)}`
        : `switched line of ${labels(net, group.loads)}`;
    });
    const counted = [...new Set(said)].map((s) => {
      const n = said.filter((x) => x === s).length;
      return n > 1 ? `${n} x ${s}` : s;
    });
    return {
      run: run.id,
      cores,
      available: cable?.cores ?? 0,
      threeCore: cores.length > 2,
      why: cores.length === 0 ? 'carries nothing that is known' : counted.join(', '),
    };
  });
}

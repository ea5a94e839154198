import type { DistanceTable } from './types.ts';
import type { Circuit, Id, Point } from '../model/document.ts';
import { POINT_KINDS } from '../model/pointKinds.ts';
import { gangsKey, gangsWorking } from '../electrical/wiring.ts';

/** One cable of a circuit before it has a way: between which points, and why. */
export interface Link {
  readonly from: Id;
  readonly to: Id;
  readonly cores: 2 | 3;
  readonly why: string;
}

interface Group {
  readonly key: string;
  readonly switches: Id[];
  readonly loads: Id[];
}

/** How one group is wired: which of its lights has the feed, and the order of its switches from there. */
interface Wiring {
  readonly head: Id;
  readonly order: readonly Id[];
  readonly cost: number;
}

type Distance = (a: Id, b: Id) => number;

/**
 * The cables of a lighting circuit, looped in at the lights: permanent feed from light to light as the least tree, a
 * drop from one light of each group to its first switch, three-core from switch to switch where there are several, and
 * the other lights of the group from the first one. An alarm or a fan without a switch hangs on the permanent feed; a
 * fan worked with a light takes three-core from it, for its permanent feed and its switched one, through its isolator
 * where there is one. Which light of a group has the feed is chosen for the least of the whole circuit. `chase`: what
 * the chases on the way between two points cost, within their distance; two cables at one switch share its chase.
 */
export function lightingLinks(
  circuit: Circuit,
  points: readonly Point[],
  ids: readonly Id[],
  table: DistanceTable,
  chase: (a: Id, b: Id) => number,
): Link[] {
  const number = new Map(ids.map((id, i) => [id, i]));
  const plain: Distance = (a, b) => table.d[(number.get(a) ?? 0) * table.n + (number.get(b) ?? 0)] as number;
  const byId = new Map(points.map((p) => [p.id, p]));
  const kindOf = (id: Id): Point => byId.get(id) as Point;
  const switches = points.filter((p) => POINT_KINDS[p.kind].isSwitch);
  const others = points.filter((p) => !POINT_KINDS[p.kind].isSwitch && p.kind !== 'consumer-unit');
  const isolators = isolatorsOf(others, plain);
  const through = new Set(isolators.values());
  // To a fan with an isolator one goes by the isolator, from wherever.
  const at: Distance = (a, b) => {
    const [ia, ib] = [isolators.get(a), isolators.get(b)];
    const extra = (ia === undefined ? 0 : plain(ia, a)) + (ib === undefined ? 0 : plain(ib, b));
    return plain(ia ?? a, ib ?? b) + extra;
  };
  const groups = groupsOf(
    switches,
    others.filter((p) => !through.has(p.id)),
  );
  const isLight = (id: Id): boolean => POINT_KINDS[kindOf(id).kind].isLight;
  const choices = groups.map((group) => wiringsOf(group, kindOf, isLight, at, chase));
  const wired = leastWiring(circuit.board, choices, at);
  const links: Link[] = [];
  const add = (link: Link): void => {
    const by = isolators.get(link.to);
    if (by === undefined) links.push(link);
    else
      links.push(
        { ...link, to: by, why: `${link.why}, to the isolator` },
        { ...link, from: by, why: `${link.why}, from the isolator` },
      );
  };
  groups.forEach((group, g) => {
    const { head, order } = wired[g] as Wiring;
    order.forEach((id, i) => {
      add(
        i === 0
          ? { from: head, to: id, cores: 2, why: 'switch drop: permanent line down, switched line back' }
          : {
              from: order[i - 1] as Id,
              to: id,
              cores: 3,
              why: 'between switches that work the same light: two strappers and the common line',
            },
      );
    });
    for (const { from, to } of leastTree([head], group.loads, at)) {
      const both = !isLight(to) && group.switches.length > 0;
      add({
        from,
        to,
        cores: both ? 3 : 2,
        why: both ? 'permanent and switched feed' : 'switched with the light before it',
      });
    }
  });
  const alarms = (id: Id): boolean => ['smoke-alarm', 'heat-alarm'].includes(kindOf(id).kind);
  const heads = wired.map((w) => w.head);
  const board = circuit.board;
  if (board === null || heads.length === 0) return links;
  const first = nearestTo(board, heads, at);
  add({ from: board, to: first, cores: 2, why: 'feed from the board' });
  for (const { from, to } of leastTree([first], heads, at)) {
    const linked = alarms(from) && alarms(to);
    add({
      from,
      to,
      cores: linked ? 3 : 2,
      why: linked ? 'permanent feed, and a core that links the alarms' : 'permanent feed to the next light',
    });
  }
  return links;
}

/** The isolator of each fan: the nearest that no other fan has. */
function isolatorsOf(points: readonly Point[], at: Distance): Map<Id, Id> {
  const free = new Set(points.filter((p) => p.kind === 'isolator').map((p) => p.id));
  const found = new Map<Id, Id>();
  for (const fan of points.filter((p) => p.kind === 'extractor')) {
    const near = nearestTo(fan.id, [...free], at);
    if (near === undefined || at(fan.id, near) === Infinity) continue;
    found.set(fan.id, near);
    free.delete(near);
  }
  return found;
}

function nearestTo(from: Id, ids: readonly Id[], at: Distance): Id {
  return ids.reduce((a, b) => (at(from, b) < at(from, a) ? b : a), ids[0] as Id);
}

/** Loads by the switches that work them; a load that none works is a group of its own. */
function groupsOf(switches: readonly Point[], loads: readonly Point[]): Group[] {
  const groups = new Map<string, Group>();
  for (const load of loads) {
    const gangs = gangsWorking(switches, load.id);
    const by = [...new Set(gangs.map((g) => g.id))];
    const key = by.length === 0 ? `alone ${load.id}` : gangsKey(gangs);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, { key, switches: by, loads: [load.id] });
    else group.loads.push(load.id);
  }
  return [...groups.values()];
}

/** Every light of a group as the one with the feed, each with its least order of switches. */
function wiringsOf(
  group: Group,
  kindOf: (id: Id) => Point,
  isLight: (id: Id) => boolean,
  at: Distance,
  chase: Distance,
): Wiring[] {
  const lights = group.loads.filter(isLight);
  const orders = switchOrders(group.switches, kindOf);
  return (lights.length > 0 ? lights : group.loads).map((head) => {
    const costs = orders.map((order) => {
      const path = [head, ...order];
      return order.reduce((sum, id, i) => {
        const from = path[i] as Id;
        const onward = order[i + 1];
        const shared = onward === undefined ? 0 : Math.min(chase(from, id), chase(id, onward));
        return sum + at(from, id) - shared;
      }, 0);
    });
    const least = costs.reduce((best, cost, i) => (cost < (costs[best] as number) ? i : best), 0);
    return { head, order: orders[least] as readonly Id[], cost: costs[least] as number };
  });
}

/**
 * One wiring per group so that drops and feed together cost least: from the least of each group by itself, and from
 * each light of each group forced in turn, changed group by group while that helps. (The tree within a group costs the
 * same whichever of its lights has the feed.)
 */
function leastWiring(board: Id | null, choices: readonly (readonly Wiring[])[], at: Distance): Wiring[] {
  const total = (wired: readonly Wiring[]): number => {
    const heads = wired.map((w) => w.head);
    const drops = wired.reduce((sum, w) => sum + w.cost, 0);
    if (heads.length === 0) return drops;
    const first = board === null ? (heads[0] as Id) : nearestTo(board, heads, at);
    const feed = board === null ? 0 : at(board, first);
    return leastTree([first], heads, at).reduce((sum, link) => sum + at(link.from, link.to), drops + feed);
  };
  const improved = (start: readonly Wiring[]): { wired: Wiring[]; cost: number } => {
    let wired = [...start];
    let cost = total(wired);
    for (let again = true; again;) {
      again = false;
      choices.forEach((options, g) => {
        for (const option of options) {
          const next = wired.with(g, option);
          const c = total(next);
          if (c < cost - 1e-9) {
            wired = next;
            cost = c;
            again = true;
          }
        }
      });
    }
    return { wired, cost };
  };
  const alone = choices.map((options) => options.reduce((a, b) => (b.cost < a.cost ? b : a)));
  let best = improved(alone);
  choices.forEach((options, g) => {
    for (const option of options) {
      if (option === alone[g]) continue;
      const other = improved(alone.with(g, option));
      if (other.cost < best.cost - 1e-9) best = other;
    }
  });
  return best.wired;
}

/** Orders in which several switches may follow each other: two-way switches at the ends, intermediates between. */
function switchOrders(switches: readonly Id[], kindOf: (id: Id) => Point): (readonly Id[])[] {
  if (switches.length <= 1) return [switches];
  const all = permutations(switches.slice(0, 7));
  const proper = all.filter((order) =>
    order.every((id, i) => (kindOf(id).kind === 'switch-intermediate') === (i > 0 && i < order.length - 1)),
  );
  return proper.length > 0 ? proper : all;
}

function permutations(items: readonly Id[]): Id[][] {
  if (items.length === 0) return [[]];
  return items.flatMap((item, i) =>
    permutations([...items.slice(0, i), ...items.slice(i + 1)]).map((rest) => [item, ...rest]),
  );
}

/** Least links that join every wanted place to those already there (Prim's method). Unreachable ones are left out. */
export function leastTree(
  there: readonly Id[],
  wanted: readonly Id[],
  at: (a: Id, b: Id) => number,
): { from: Id; to: Id }[] {
  const inside = [...there];
  const left = new Set(wanted.filter((id) => !there.includes(id)));
  const found: { from: Id; to: Id }[] = [];
  while (left.size > 0) {
    let best: { from: Id; to: Id; cost: number } | null = null;
    for (const to of left) {
      for (const from of inside) {
        const cost = at(from, to);
        if (cost < Infinity && (best === null || cost < best.cost)) best = { from, to, cost };
      }
    }
    if (best === null) break;
    found.push({ from: best.from, to: best.to });
    inside.push(best.to);
    left.delete(best.to);
  }
  return found;
}

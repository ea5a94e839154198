import type { Circuit, Id, Point } from '../model/document.ts';
import { POINT_KINDS } from '../model/pointKinds.ts';
import type { DistanceTable } from './order.ts';

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

/**
 * The cables of a lighting circuit, looped in at the lights: permanent feed from light to light as the least tree, a
 * drop from one light of each group to its first switch, three-core from switch to switch where there are several, and
 * the other lights of the group from the first one. An alarm or a fan without a switch hangs on the permanent feed; a
 * fan worked with a light takes three-core from it, for its permanent feed and its switched one.
 */
export function lightingLinks(
  circuit: Circuit,
  points: readonly Point[],
  ids: readonly Id[],
  table: DistanceTable,
): Link[] {
  const at = (a: Id, b: Id): number => table.d[ids.indexOf(a) * table.n + ids.indexOf(b)] as number;
  const switches = points.filter((p) => POINT_KINDS[p.kind].isSwitch);
  const others = points.filter((p) => !POINT_KINDS[p.kind].isSwitch && p.kind !== 'consumer-unit');
  const groups = new Map<string, Group>();
  for (const load of others) {
    const by = switches.filter((s) => s.controls.includes(load.id)).map((s) => s.id);
    const key = by.length === 0 ? `alone ${load.id}` : by.join(' ');
    const group = groups.get(key);
    if (group === undefined) groups.set(key, { key, switches: by, loads: [load.id] });
    else group.loads.push(load.id);
  }
  const kindOf = (id: Id): Point => points.find((p) => p.id === id) as Point;
  const heads: Id[] = [];
  const links: Link[] = [];
  for (const group of groups.values()) {
    const lights = group.loads.filter((id) => POINT_KINDS[kindOf(id).kind].isLight);
    const choices = lights.length > 0 ? lights : group.loads;
    const orders = switchOrders(group.switches, kindOf);
    let best = { head: choices[0] as Id, order: [] as readonly Id[], cost: Infinity };
    for (const head of choices) {
      for (const order of orders) {
        const cost = [head, ...order].reduce(
          (sum, id, i, path) => (i === 0 ? 0 : sum + at(path[i - 1] as Id, id)),
          0,
        );
        if (cost < best.cost) best = { head, order, cost };
      }
    }
    heads.push(best.head);
    best.order.forEach((id, i) => {
      links.push(
        i === 0
          ? { from: best.head, to: id, cores: 2, why: 'switch drop: permanent line down, switched line back' }
          : {
              from: best.order[i - 1] as Id,
              to: id,
              cores: 3,
              why: 'between switches that work the same light: two strappers and the common line',
            },
      );
    });
    for (const { from, to } of leastTree([best.head], group.loads, at)) {
      const light = POINT_KINDS[kindOf(to).kind].isLight;
      const both = !light && group.switches.length > 0;
      links.push({
        from,
        to,
        cores: both ? 3 : 2,
        why: both ? 'permanent and switched feed' : 'switched with the light before it',
      });
    }
  }
  const alarms = (id: Id): boolean => ['smoke-alarm', 'heat-alarm'].includes(kindOf(id).kind);
  const board = circuit.board;
  if (board === null) return links;
  const first = heads.reduce((a, b) => (at(board, b) < at(board, a) ? b : a), heads[0] as Id);
  if (heads.length > 0) {
    links.push({ from: board, to: first, cores: 2, why: 'feed from the board' });
    for (const { from, to } of leastTree([first], heads, at)) {
      const linked = alarms(from) && alarms(to);
      links.push({
        from,
        to,
        cores: linked ? 3 : 2,
        why: linked ? 'permanent feed, and a core that links the alarms' : 'permanent feed to the next light',
      });
    }
  }
  return links;
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

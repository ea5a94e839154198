import type { Id, PlanDocument, Wall } from '../../engine/model/document.ts';
import type { Mm, PlanPoint } from '../../engine/model/units.ts';
import type { PlanDraft } from '../transact.ts';
import { command, drop, patch, refuse } from '../transact.ts';
import type { Command, Refusal } from '../types.ts';
import { hostsOf, nodeAt, nodesOn, relation, wallsAt } from './joints.ts';
import type { Line } from './plane.ts';
import { centreLine, crossing, direction, distance, SHORTEST_WALL, sound } from './plane.ts';
import type { Moves } from './relocate.ts';
import { relocate } from './relocate.ts';

/** Moves a joint of walls; dropped on another joint of the storey, the two become one. */
export function moveNode(id: Id, to: PlanPoint): Command {
  return command('Move corner of walls', (draft, step) => {
    const { doc } = step;
    const node = doc.nodes.byId[id];
    if (!node) return refuse('That corner is no longer in the plan.');
    if (!sound(to.x, to.y)) return refuse('That spot is not on the plan.');
    const others = { ...doc, nodes: without(doc.nodes, id) };
    const onto = nodeAt(others, node.storey, to);
    if (onto === null) return relocate(draft, doc, new Map([[id, to]])) ?? undefined;
    const target = doc.nodes.byId[onto] ?? to;
    return merge(draft, doc, id, onto, target) ?? undefined;
  });
}

function without(table: PlanDocument['nodes'], id: Id): PlanDocument['nodes'] {
  return { ...table, order: table.order.filter((other) => other !== id) };
}

function merge(draft: PlanDraft, doc: PlanDocument, id: Id, onto: Id, at: PlanPoint): Refusal | null {
  const mine = wallsAt(doc, id);
  const farEnds = mine.map((w) => (w.from === id ? w.to : w.from));
  if (farEnds.includes(onto)) return refuse('The wall between the two corners would be left with no length.');
  const theirs = wallsAt(doc, onto).map((w) => (w.from === onto ? w.to : w.from));
  if (farEnds.some((far) => theirs.includes(far))) return refuse('Two walls would lie on top of each other.');
  const wrong = relocate(draft, doc, new Map([[id, { x: at.x, y: at.y }]]));
  if (wrong) return wrong;
  for (const wall of mine) patch(draft, 'walls', wall.id, wall.from === id ? { from: onto } : { to: onto });
  drop(draft, 'nodes', id);
  return null;
}

/**
 * Moves a wall sideways by `offset` mm, positive towards its left. Its ends slide along the walls they join or stand on,
 * and partitions that stand on it follow.
 */
export function moveWall(id: Id, offset: Mm): Command {
  return command('Move wall', (draft, step) => {
    const { doc } = step;
    const wall = doc.walls.byId[id];
    if (!wall) return refuse('That wall is no longer in the plan.');
    if (!sound(offset)) return refuse('That distance is not a usable length.');
    const line = centreLine(doc, id);
    const d = direction(line);
    if (d === null) return refuse('That wall has no length.');
    const by = { x: d.y * offset, y: -d.x * offset };
    const shiftedLine: Line = { a: plus(line.a, by), b: plus(line.b, by) };
    const moves: Moves = new Map([
      [wall.from, slide(doc, wall, wall.from, shiftedLine, plus(line.a, by))],
      [wall.to, slide(doc, wall, wall.to, shiftedLine, plus(line.b, by))],
    ]);
    return relocate(draft, doc, moves) ?? undefined;
  });
}

const plus = (p: PlanPoint, by: PlanPoint): PlanPoint => ({ x: p.x + by.x, y: p.y + by.y });

/** Where an end of a shifted wall goes: along the one wall it joins or stands on, else straight over. */
function slide(doc: PlanDocument, wall: Wall, node: Id, line: Line, straight: PlanPoint): PlanPoint {
  const joined = [...wallsAt(doc, node), ...hostsOf(doc, node)].filter(
    (w) => w.id !== wall.id && relation(doc, w.id, wall.id) !== 'parallel',
  );
  const first = joined[0];
  if (!first || joined.some((w) => relation(doc, w.id, first.id) !== 'parallel')) return straight;
  return crossing(line, centreLine(doc, first.id)) ?? straight;
}

/**
 * Sets the length of a wall's centre line, keeping one end where it is. Walls square to it at the other end move with that
 * end, so that a rectangular room stays one.
 */
export function setWallLength(id: Id, length: Mm, keep: 'from' | 'to' = 'from'): Command {
  return command('Set wall length', (draft, step) => {
    const { doc } = step;
    const wall = doc.walls.byId[id];
    if (!wall) return refuse('That wall is no longer in the plan.');
    if (!sound(length) || length < SHORTEST_WALL)
      return refuse(`A wall is at least ${SHORTEST_WALL} mm long.`);
    const line = centreLine(doc, id);
    const d = direction(line);
    if (d === null) return refuse('That wall has no length.');
    const more = (length - distance(line.a, line.b)) * (keep === 'from' ? 1 : -1);
    const by = { x: d.x * more, y: d.y * more };
    const moves: Moves = new Map();
    for (const node of squareGroup(doc, wall, keep === 'from' ? wall.to : wall.from)) {
      const at = doc.nodes.byId[node];
      if (at) moves.set(node, plus(at, by));
    }
    return relocate(draft, doc, moves) ?? undefined;
  });
}

/** The node, and every node reached from it over walls square to the given one, standing on walls included. */
function squareGroup(doc: PlanDocument, wall: Wall, start: Id): Id[] {
  const group = new Set<Id>([start]);
  const queue = [start];
  for (let node = queue.shift(); node !== undefined; node = queue.shift()) {
    const walls = [...wallsAt(doc, node), ...hostsOf(doc, node)].filter(
      (w) => w.id !== wall.id && relation(doc, w.id, wall.id) === 'square',
    );
    for (const next of walls.flatMap((w) => [w.from, w.to])) {
      if (group.has(next)) continue;
      group.add(next);
      queue.push(next);
    }
  }
  return [...group];
}

/** Nodes that go along when a wall is moved, for showing what a drag will take with it. */
export function nodesMovedWith(doc: PlanDocument, wall: Id): Id[] {
  const record = doc.walls.byId[wall];
  return record ? [record.from, record.to, ...nodesOn(doc, record)] : [];
}

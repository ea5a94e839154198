import type { Id, PlanDocument, Point, Thing, Wall } from '../../engine/model/document.ts';
import { rows } from '../../engine/model/tables.ts';
import type { FaceTracing, WallSpot } from '../../engine/model/tracing.ts';
import type { Mm, PlanPoint } from '../../engine/model/units.ts';
import type { PlanDraft } from '../transact.ts';
import { patch, refuse } from '../transact.ts';
import type { Refusal } from '../types.ts';
import { followWalls } from './followWalls.ts';
import { nodesOn, wallsAt } from './joints.ts';
import type { Line } from './plane.ts';
import {
  centreLine,
  crossing,
  direction,
  distance,
  project,
  SHORTEST_WALL,
  sound,
  wallLength,
} from './plane.ts';

/** New positions of nodes, by id. */
export type Moves = Map<Id, PlanPoint>;

/** How a place along a wall moves when the wall's nodes do. */
export type AlongMap = (along: Mm) => Mm;

/**
 * Puts nodes in new positions and everything that hangs on their walls with them: partitions that stand on a moved wall
 * slide along their own line to stay on it, openings, points and things keep their place as seen from the end that stays,
 * and runs stay joined. Refused where a wall would vanish or something would fall off its end.
 */
export function relocate(draft: PlanDraft, doc: PlanDocument, moves: Moves): Refusal | null {
  const all = withPartitions(doc, moves);
  if (!(all instanceof Map)) return all;
  for (const p of all.values()) if (!sound(p.x, p.y)) return refuse('That spot is not on the plan.');
  for (const [id, p] of all) patch(draft, 'nodes', id, { x: p.x, y: p.y });
  const maps = new Map<Id, AlongMap>();
  for (const wall of rows(doc.walls)) {
    if (!all.has(wall.from) && !all.has(wall.to)) continue;
    const now = lineAfter(doc, wall, all);
    if (distance(now.a, now.b) < SHORTEST_WALL) return refuse('A wall would be left with no length.');
    const map = alongMap(centreLine(doc, wall.id), now);
    maps.set(wall.id, map);
    const wrong = rehang(draft, doc, wall, map, distance(now.a, now.b));
    if (wrong) return wrong;
  }
  followWalls(draft, doc, maps);
  return null;
}

function lineAfter(doc: PlanDocument, wall: Wall, moves: Moves): Line {
  const { a, b } = centreLine(doc, wall.id);
  return { a: moves.get(wall.from) ?? a, b: moves.get(wall.to) ?? b };
}

/** The moves, and those of every node that stands on a moved wall, and so on. */
function withPartitions(doc: PlanDocument, given: Moves): Moves | Refusal {
  const moves: Moves = new Map(given);
  const queue = [...moves.keys()];
  // Walls that stand on each other in a ring could pass a move round for ever.
  let rounds = 20 * (doc.nodes.order.length + 1);
  for (let node = queue.shift(); node !== undefined; node = queue.shift()) {
    if (rounds-- === 0) return refuse('These walls hold each other: move one of their corners instead.');
    for (const wall of wallsAt(doc, node)) {
      for (const tee of nodesOn(doc, wall)) {
        if (given.has(tee)) continue;
        const at = teeAfter(doc, wall, tee, lineAfter(doc, wall, moves));
        if (at === null) return refuse('A partition would no longer meet this wall.');
        const before = moves.get(tee) ?? doc.nodes.byId[tee];
        if (before && distance(before, at) < 1e-9) continue;
        moves.set(tee, at);
        queue.push(tee);
      }
    }
  }
  return moves;
}

/** Where a partition's end goes when the wall it stands on moves: along the partition's own line. */
function teeAfter(doc: PlanDocument, host: Wall, tee: Id, now: Line): PlanPoint | null {
  const at = doc.nodes.byId[tee];
  const old = centreLine(doc, host.id);
  const d = direction(now);
  if (!at || d === null) return null;
  const was = project(old, at);
  const e = direction(old) ?? d;
  const side = (at.x - old.a.x) * e.y - (at.y - old.a.y) * e.x;
  const offset: Line = {
    a: { x: now.a.x + d.y * side, y: now.a.y - d.x * side },
    b: { x: now.b.x + d.y * side, y: now.b.y - d.x * side },
  };
  const own = wallsAt(doc, tee)[0];
  const met = own ? crossing(centreLine(doc, own.id), offset) : null;
  const spot = met ?? {
    x: offset.a.x + d.x * alongMap(old, now)(was.along),
    y: offset.a.y + d.y * alongMap(old, now)(was.along),
  };
  const { along } = project(now, spot);
  return along > -0.5 && along < distance(now.a, now.b) + 0.5 ? spot : null;
}

/** Places keep their distance from the end that stays; where both ends move, their place in the plan along the wall. */
function alongMap(old: Line, now: Line): AlongMap {
  const fromMoved = distance(old.a, now.a) > 1e-9;
  const toMoved = distance(old.b, now.b) > 1e-9;
  const ax = now.a.x - old.a.x;
  const ay = now.a.y - old.a.y;
  const together = Math.hypot(now.b.x - old.b.x - ax, now.b.y - old.b.y - ay) < 1e-6;
  if (!fromMoved || together) return (along) => along;
  if (!toMoved) {
    const longer = distance(now.a, now.b) - distance(old.a, old.b);
    return (along) => along + longer;
  }
  const d = direction(old) ?? { x: 0, y: 0 };
  const slid = ax * d.x + ay * d.y;
  return (along) => along - slid;
}

/** A tracing on a wall with its corners elsewhere along it, or along another. */
export function movedAlong(lies: FaceTracing['lies'], wall: Id, map: AlongMap): FaceTracing['lies'] {
  const [a, b, c, d] = lies.corners;
  const spot = (s: WallSpot): WallSpot => ({ ...s, along: map(s.along) });
  return { ...lies, wall, corners: [spot(a), spot(b), spot(c), spot(d)] };
}

function rehang(draft: PlanDraft, doc: PlanDocument, wall: Wall, map: AlongMap, length: Mm): Refusal | null {
  const was = wallLength(doc, wall.id);
  for (const o of rows(doc.openings)) {
    if (o.wall !== wall.id) continue;
    const along = map(o.along);
    if (along < -0.5 || along + o.width > length + 0.5)
      return refuse(`The ${o.kind} in that wall would no longer fit.`);
    patch(draft, 'openings', o.id, { along });
  }
  for (const p of rows(doc.points)) {
    if (p.place.on !== 'face' || p.place.wall !== wall.id) continue;
    const along = map(p.place.along);
    const held = p.place.along >= 0 && p.place.along <= was;
    if (held && (along < -0.5 || along > length + 0.5))
      return refuse(`${p.label} would be past the end of its wall.`);
    patch(draft, 'points', p.id, { place: { ...p.place, along } } satisfies Partial<Point>);
  }
  for (const t of rows(doc.things)) {
    if (t.place.on !== 'face' || t.place.wall !== wall.id) continue;
    const place = { ...t.place, along0: map(t.place.along0), along1: map(t.place.along1) };
    patch(draft, 'things', t.id, { place } satisfies Partial<Thing>);
  }
  for (const { id, lies } of rows(doc.tracings)) {
    if (lies.on === 'face' && lies.wall === wall.id)
      patch(draft, 'tracings', id, { lies: movedAlong(lies, wall.id, map) });
  }
  return null;
}

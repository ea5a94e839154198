import type { Id, Place, PlanDocument, Side, Wall, WallTop } from '../../engine/model/document.ts';
import { rows } from '../../engine/model/tables.ts';
import type { Mm, PlanPoint } from '../../engine/model/units.ts';
import type { PlanDraft } from '../transact.ts';
import { command, drop, nextId, patch, put, refuse, together } from '../transact.ts';
import type { Command, Refusal } from '../types.ts';
import { listed } from './catalogue.ts';
import { turnOuterWalls } from './turnOuterWalls.ts';
import { hostsOf, nodeAt, standsOn } from './joints.ts';
import { centreLine, crossing, distance, JOIN_TOLERANCE, pointAlong, project } from './plane.ts';
import { SHORTEST_WALL, sound, topAt, wallLength } from './plane.ts';
import { takePointsOut } from './points.ts';
import { movedAlong } from './relocate.ts';

/**
 * A chain of walls through points of the plan (centre lines). A point within 1 mm of a joint joins it; an end of the
 * chain that lies within another wall is brought to that wall's centre line. Where that closes a room, outer walls whose
 * weather side would look into it are turned round.
 */
export function addWallChain(storey: Id, points: readonly PlanPoint[], buildUp: Id): Command {
  return command(points.length > 2 ? 'Draw walls' : 'Draw wall', (draft, step) => {
    const { doc } = step;
    if (!doc.storeys.byId[storey]) return refuse('That storey is no longer in the plan.');
    if (!doc.buildUps.byId[buildUp]) return refuse('That build-up is no longer in the list.');
    if (!points.every((p) => sound(p.x, p.y))) return refuse('That spot is not on the plan.');
    const chain = points.filter(
      (p, i) => i === 0 || distance(p, points[i - 1] as PlanPoint) > JOIN_TOLERANCE,
    );
    if (chain.length < 2) return refuse('A wall needs two different ends.');
    const made: { id: Id; at: PlanPoint }[] = [];
    const nodes = chain.map((p, i) => {
      const isEnd = i === 0 || i === chain.length - 1;
      const next = chain[i === 0 ? 1 : i - 1] as PlanPoint;
      const at = isEnd ? ontoWall(doc, storey, p, next) : p;
      const there = nodeAt(doc, storey, at) ?? made.find((m) => distance(m.at, at) <= JOIN_TOLERANCE)?.id;
      if (there) return { id: there, at: doc.nodes.byId[there] ?? at };
      const id = nextId(draft, 'nodes');
      put(draft, 'nodes', { id, storey, x: at.x, y: at.y });
      made.push({ id, at });
      return { id, at };
    });
    const pairs = rows(doc.walls).map((w) => [w.from, w.to] as const);
    for (let i = 1; i < nodes.length; i++) {
      const a = nodes[i - 1];
      const b = nodes[i];
      if (!a || !b || a.id === b.id || distance(a.at, b.at) < SHORTEST_WALL)
        return refuse(`A wall is at least ${SHORTEST_WALL} mm long.`);
      if (pairs.some(([f, t]) => (f === a.id && t === b.id) || (f === b.id && t === a.id)))
        return refuse('There is a wall there already.');
      if (liesOnWall(doc, storey, a.at, b.at)) return refuse('There is a wall there already.');
      pairs.push([a.id, b.id]);
      const id = nextId(draft, 'walls');
      put(draft, 'walls', {
        id,
        storey,
        from: a.id,
        to: b.id,
        buildUp,
        flipped: false,
        top: { kind: 'ceiling' },
        toldFromBehind: { left: null, right: null },
      });
      step.made(id);
    }
    turnOuterWalls(draft, step, storey);
  });
}

/** An end of a chain that lies within a wall: carried along its own line to the wall's centre line. */
function ontoWall(doc: PlanDocument, storey: Id, p: PlanPoint, next: PlanPoint): PlanPoint {
  if (nodeAt(doc, storey, p) !== null) return p;
  const hosts = rows(doc.walls).filter((w) => w.storey === storey && standsOn(doc, w, p));
  const [first, second] = hosts;
  if (!first) return p;
  const corner = second && [second.from, second.to].find((n) => n === first.from || n === first.to);
  const joint = corner ? doc.nodes.byId[corner] : undefined;
  if (joint) return { x: joint.x, y: joint.y };
  const line = centreLine(doc, first.id);
  const met = crossing({ a: next, b: p }, line);
  return met !== null && distance(met, p) <= distance(next, p) + 500 && standsOn(doc, first, met)
    ? met
    : pointAlong(line, project(line, p).along);
}

/** True when a stretch lies along an existing wall's centre line for more than the joining tolerance. */
function liesOnWall(doc: PlanDocument, storey: Id, a: PlanPoint, b: PlanPoint): boolean {
  return rows(doc.walls).some((w) => {
    if (w.storey !== storey) return false;
    const line = centreLine(doc, w.id);
    const p = project(line, a);
    const q = project(line, b);
    if (p.off > JOIN_TOLERANCE || q.off > JOIN_TOLERANCE) return false;
    const length = distance(line.a, line.b);
    const overlap = Math.min(length, Math.max(p.along, q.along)) - Math.max(0, Math.min(p.along, q.along));
    return overlap > JOIN_TOLERANCE;
  });
}

/** Makes walls of another build-up. */
export function setWallBuildUp(ids: readonly Id[], buildUp: Id): Command {
  return eachWall('Set build-up', ids, (draft, doc, wall) => {
    if (!doc.buildUps.byId[buildUp]) return refuse('That build-up is no longer in the list.');
    patch(draft, 'walls', wall.id, { buildUp });
  });
}

/** Turns the layers of walls round: what was on the left is on the right. */
export function flipWalls(ids: readonly Id[]): Command {
  return eachWall('Flip wall', ids, (draft, _doc, wall) => {
    patch(draft, 'walls', wall.id, { flipped: !wall.flipped });
  });
}

/** Sets how high walls go: to the ceiling, to a level, or sloped from their first end to their second. */
export function setWallTop(ids: readonly Id[], top: WallTop): Command {
  return eachWall('Set wall height', ids, (draft, _doc, wall) => {
    const heights = top.kind === 'ceiling' ? [] : top.kind === 'level' ? [top.z] : [top.zFrom, top.zTo];
    if (heights.some((z) => !sound(z) || z <= 0)) return refuse('A wall is higher than 0 mm.');
    patch(draft, 'walls', wall.id, { top });
  });
}

/** Says whether the points on a side of walls can be told from the other side; null takes the answer back. */
export function sayToldFromBehind(ids: readonly Id[], side: Side, said: boolean | null): Command {
  return eachWall('Answer for wall', ids, (draft, _doc, wall) => {
    patch(draft, 'walls', wall.id, { toldFromBehind: { ...wall.toldFromBehind, [side]: said } });
  });
}

/** Changes build-up, flip and height of walls in one step. */
export function editWalls(
  ids: readonly Id[],
  fields: Partial<Pick<Wall, 'buildUp' | 'flipped' | 'top'>>,
): Command {
  const { buildUp, flipped, top } = fields;
  return together(ids.length === 1 ? 'Edit wall' : 'Edit walls', [
    ...(buildUp === undefined ? [] : [setWallBuildUp(ids, buildUp)]),
    ...(top === undefined ? [] : [setWallTop(ids, top)]),
    ...(flipped === undefined
      ? []
      : [eachWall('Flip wall', ids, (draft, _doc, wall) => patch(draft, 'walls', wall.id, { flipped }))]),
  ]);
}

function eachWall(
  name: string,
  ids: readonly Id[],
  recipe: (draft: PlanDraft, doc: PlanDocument, wall: Wall) => Refusal | void,
): Command {
  return command(name, (draft, step) => {
    for (const id of ids) {
      const wall = step.doc.walls.byId[id];
      if (!wall) return refuse('That wall is no longer in the plan.');
      const wrong = recipe(draft, step.doc, wall);
      if (wrong) return wrong;
    }
  });
}

/** Splits a wall in two at a distance along its centre line. What hangs on it stays where it is. */
export function splitWall(id: Id, along: Mm): Command {
  return command('Split wall', (draft, step) => {
    const { doc } = step;
    const wall = doc.walls.byId[id];
    if (!wall) return refuse('That wall is no longer in the plan.');
    const length = wallLength(doc, id);
    if (!(along >= SHORTEST_WALL && along <= length - SHORTEST_WALL))
      return refuse('Split the wall at a place between its ends.');
    const cut = rows(doc.openings).find((o) => o.wall === id && o.along < along && along < o.along + o.width);
    if (cut) return refuse(`There is a ${cut.kind} there.`);
    const spans = rows(doc.things).find(
      (t) => t.place.on === 'face' && t.place.wall === id && t.place.along0 < along && along < t.place.along1,
    );
    if (spans) return refuse(`"${spans.name || spans.kind}" spans that place.`);
    const at = pointAlong(centreLine(doc, id), along);
    const standing = nodeAt(doc, wall.storey, at);
    const node = standing ?? nextId(draft, 'nodes');
    if (standing === null) put(draft, 'nodes', { id: node, storey: wall.storey, x: at.x, y: at.y });
    const second = nextId(draft, 'walls');
    const z = topAt(doc, wall, along);
    const sloped = wall.top.kind === 'sloped' ? wall.top : null;
    put(draft, 'walls', {
      ...wall,
      id: second,
      from: node,
      top: sloped ? { ...sloped, zFrom: z } : wall.top,
    });
    patch(draft, 'walls', id, { to: node, top: sloped ? { ...sloped, zTo: z } : wall.top });
    step.made(second);
    rehangBeyond(draft, doc, id, second, along);
  });
}

function rehangBeyond(draft: PlanDraft, doc: PlanDocument, first: Id, second: Id, cut: Mm): void {
  const over = (place: Place): Place =>
    place.on === 'face' && place.wall === first && place.along > cut
      ? { ...place, wall: second, along: place.along - cut }
      : place;
  for (const o of rows(doc.openings)) {
    if (o.wall === first && o.along >= cut)
      patch(draft, 'openings', o.id, { wall: second, along: o.along - cut });
  }
  const hangs = (place: Place): boolean => place.on === 'face' && place.wall === first;
  for (const p of rows(doc.points))
    if (hangs(p.place)) patch(draft, 'points', p.id, { place: over(p.place) });
  for (const r of rows(doc.runs))
    if (r.corners.some(hangs)) patch(draft, 'runs', r.id, { corners: r.corners.map(over) });
  for (const t of rows(doc.things)) {
    const { place } = t;
    if (place.on !== 'face' || place.wall !== first || place.along0 < cut) continue;
    const moved = { ...place, wall: second, along0: place.along0 - cut, along1: place.along1 - cut };
    patch(draft, 'things', t.id, { place: moved });
  }
  for (const { id, lies } of rows(doc.tracings)) {
    // One that spans the cut stays whole, with the part its left end is on.
    if (lies.on === 'face' && lies.wall === first && Math.min(...lies.corners.map((c) => c.along)) >= cut)
      patch(draft, 'tracings', id, { lies: movedAlong(lies, second, (along) => along - cut) });
  }
}

/**
 * Takes walls away, with their openings, things and tracings. Refused while points or runs are on them, unless `withContents`: then
 * the points go, runs that pass over the walls go, and runs that only ended there are parked.
 */
export function removeWalls(ids: readonly Id[], withContents = false): Command {
  return command(ids.length === 1 ? 'Remove wall' : 'Remove walls', (draft, step) => {
    const { doc } = step;
    const gone = new Set(ids);
    if (ids.some((id) => !doc.walls.byId[id])) return refuse('That wall is no longer in the plan.');
    const on = (place: Place): boolean => place.on === 'face' && gone.has(place.wall);
    const points = rows(doc.points).filter((p) => on(p.place));
    const runs = rows(doc.runs).filter((r) => r.corners.some(on));
    const labels = [...points, ...runs].map((r) => r.label);
    if (labels.length > 0 && !withContents)
      return refuse(`Still on ${ids.length === 1 ? 'it' : 'them'}: ${listed(labels)}.`);
    const read = rows(doc.readings).filter(
      (m) => points.some((p) => p.id === m.point) || runs.some((r) => r.id === m.run),
    );
    if (read.length > 0) return refuse('Readings are recorded for something on it: remove those first.');
    for (const run of runs) drop(draft, 'runs', run.id);
    takePointsOut(
      draft,
      { ...doc, runs: remaining(doc, new Set(runs.map((r) => r.id))) },
      new Set(points.map((p) => p.id)),
    );
    parkOnFace(draft, doc, on);
    for (const o of rows(doc.openings)) if (gone.has(o.wall)) drop(draft, 'openings', o.id);
    for (const t of rows(doc.things))
      if (t.place.on === 'face' && gone.has(t.place.wall)) drop(draft, 'things', t.id);
    for (const { id, lies } of rows(doc.tracings))
      if (lies.on === 'face' && gone.has(lies.wall)) drop(draft, 'tracings', id);
    for (const id of ids) drop(draft, 'walls', id);
    const used = new Set(Object.values(draft.walls.byId).flatMap((w) => [w.from, w.to]));
    for (const wall of ids.map((id) => doc.walls.byId[id] as Wall))
      for (const node of [wall.from, wall.to]) if (!used.has(node)) drop(draft, 'nodes', node);
    if (labels.length > 0) step.note(`Removed with it: ${listed(labels)}.`);
  });
}

function remaining(doc: PlanDocument, gone: ReadonlySet<Id>): PlanDocument['runs'] {
  return { ...doc.runs, order: doc.runs.order.filter((id) => !gone.has(id)) };
}

/** Runs parked by the removal keep no corner on a wall that is gone; one with too little left goes as well. */
function parkOnFace(draft: PlanDraft, doc: PlanDocument, on: (place: Place) => boolean): void {
  for (const run of rows(doc.runs)) {
    const now = draft.runs.byId[run.id];
    if (!now || !now.corners.some((c) => on(c as Place))) continue;
    const corners = (now.corners as readonly Place[]).filter((c) => !on(c));
    const ends = (now.from === null ? 0 : 1) + (now.to === null ? 0 : 1);
    if (corners.length + ends < 2) drop(draft, 'runs', run.id);
    else patch(draft, 'runs', run.id, { corners });
  }
}

/** Walls a node stands on, for telling where a partition meets. */
export function wallsUnder(doc: PlanDocument, node: Id): Id[] {
  return hostsOf(doc, node).map((w) => w.id);
}

import type { Id, PlanDocument } from '../../engine/model/document.ts';
import type { ProposedWall } from '../../engine/model/proposedWall.ts';
import { rows } from '../../engine/model/tables.ts';
import type { Mm, PlanPoint } from '../../engine/model/units.ts';
import { centreLine, crossing, distance, JOIN_TOLERANCE, pointAlong, project } from './plane.ts';
import { SHORTEST_WALL, wallThickness } from './plane.ts';
import type { Line } from './plane.ts';

/** A proposed wall and what it is to be built as. */
export interface WallToBuild extends ProposedWall {
  readonly buildUp: Id;
}

/** Where walls meet: a node of the plan, or one to be made. */
export interface Joint {
  readonly node: Id | null;
  readonly at: PlanPoint;
}

/** A wall between two joints, cut from a proposed one. */
export interface JoinedWall {
  readonly of: WallToBuild;
  readonly from: Joint;
  readonly to: Joint;
}

/** Ends that miss one another by as much are taken to meet, besides half a wall. Own choice: what a picture reads to. */
const NEAR: Mm = 30;
/** A wall that lies over another for this share of its length is the same wall. Own choice. */
const SAME_SHARE = 0.8;

interface Body extends Line {
  readonly thickness: Mm;
}

interface OpenJoint {
  readonly node: Id | null;
  at: PlanPoint;
  /** Stands on a wall or is a node of the plan: it may not be moved. */
  readonly fixed: boolean;
  readonly lines: Line[];
}

/** True where a wall stands already: along one of the bodies, within its thickness, for nearly all of its length. */
function standsIn(bodies: readonly Body[], wall: Line): boolean {
  return bodies.some((body) => {
    const [p, q] = [project(body, wall.a), project(body, wall.b)];
    if (Math.max(p.off, q.off) > body.thickness / 2) return false;
    const over =
      Math.min(distance(body.a, body.b), Math.max(p.along, q.along)) -
      Math.max(0, Math.min(p.along, q.along));
    return over >= SAME_SHARE * distance(wall.a, wall.b);
  });
}

/** How far from `p` another wall may be and still be met by one of this thickness. */
const reachOf = (own: Mm, other: Mm): Mm => Math.max(own, other) / 2 + NEAR;

/** Cut where the wall passes right through a body, so that its pieces meet there. */
function cutAt(wall: Line, thickness: Mm, bodies: readonly Body[]): Line[] {
  const length = distance(wall.a, wall.b);
  const cuts = bodies
    .map((body) => {
      const at = crossing(wall, body);
      if (!at) return null;
      const reach = reachOf(thickness, body.thickness);
      const [own, other] = [project(wall, at), project(body, at)];
      const through = own.along > reach && own.along < length - reach;
      const within = other.along > reach && other.along < distance(body.a, body.b) - reach;
      return through && within ? own.along : null;
    })
    .filter((along) => along !== null)
    .sort((a, b) => a - b);
  const stops = [0, ...cuts, length];
  return stops.slice(1).map((to, i) => ({
    a: pointAlong(wall, stops[i] as Mm),
    b: pointAlong(wall, to),
  }));
}

/**
 * Proposed walls joined to one another and to those of the plan: ends that all but meet share a joint where their lines
 * cross, an end within a wall goes on to its centre line, a wall that passes through another is cut there. Walls that stand
 * already are left out. No wall is turned by more than a joint of three asks.
 */
export function joinProposed(doc: PlanDocument, storey: Id, walls: readonly WallToBuild[]): JoinedWall[] {
  const standing = rows(doc.walls)
    .filter((w) => w.storey === storey)
    .map((w): Body => ({ ...centreLine(doc, w.id), thickness: wallThickness(doc, w) }));
  const bodies = [...standing];
  const pieces: { readonly of: WallToBuild; readonly line: Line }[] = [];
  for (const of of walls) {
    if (standsIn(bodies, of)) continue;
    for (const line of cutAt(of, of.thickness, bodies))
      if (distance(line.a, line.b) >= SHORTEST_WALL) pieces.push({ of, line });
    bodies.push({ a: of.a, b: of.b, thickness: of.thickness });
  }
  const joints = rows(doc.nodes)
    .filter((n) => n.storey === storey)
    .map((n): OpenJoint => ({ node: n.id, at: { x: n.x, y: n.y }, fixed: true, lines: [] }));
  const joined = pieces.map(({ of, line }) => ({
    of,
    from: jointFor(joints, bodies, line.a, line, of),
    to: jointFor(joints, bodies, line.b, line, of),
  }));
  const pairs = new Set<string>();
  return joined.filter(({ from, to }) => {
    if (from === to || distance(from.at, to.at) < SHORTEST_WALL) return false;
    const pair = [joints.indexOf(from), joints.indexOf(to)].sort((a, b) => a - b).join();
    if (pairs.has(pair)) return false;
    pairs.add(pair);
    return true;
  });
}

/** The joint at an end: one that is there, one on the wall the end runs into, or a new one. */
function jointFor(
  joints: OpenJoint[],
  bodies: readonly Body[],
  end: PlanPoint,
  line: Line,
  own: WallToBuild,
): OpenJoint {
  const reach = reachOf(own.thickness, 0);
  const near = joints
    .filter((j) => distance(j.at, end) <= reach)
    .sort((a, b) => distance(a.at, end) - distance(b.at, end));
  for (const joint of near) {
    const met = joint.fixed || joint.lines.length !== 1 ? null : crossing(line, joint.lines[0] as Line);
    if (met && distance(met, end) <= 2 * reach) joint.at = met;
    else if (project(line, joint.at).off > asideAt(joint)) continue;
    joint.lines.push(line);
    return joint;
  }
  const on = hostOf(bodies, end, line, own);
  // Walls in line that differ in thickness meet a little aside of one another.
  const aside = on ? undefined : near[0];
  if (aside) {
    aside.lines.push(line);
    return aside;
  }
  const made = { node: null, at: on ?? end, fixed: on !== null, lines: [line] };
  const there = on && joints.find((j) => distance(j.at, on) <= JOIN_TOLERANCE);
  if (there) return there;
  joints.push(made);
  return made;
}

/** How far aside of a wall's line a joint may lie and be its end: partitions from two sides of a wall stay two. */
const asideAt = (joint: OpenJoint): Mm =>
  joint.node !== null || (!joint.fixed && joint.lines.length > 1) ? NEAR : JOIN_TOLERANCE;

/** Where the line meets the centre of a wall that its end runs into, clear of that wall's own ends; null where none. */
function hostOf(bodies: readonly Body[], end: PlanPoint, line: Line, own: ProposedWall): PlanPoint | null {
  for (const body of bodies) {
    if (body.a === own.a && body.b === own.b) continue;
    const { along, off } = project(body, end);
    const length = distance(body.a, body.b);
    if (off > body.thickness / 2 + NEAR || along < JOIN_TOLERANCE || along > length - JOIN_TOLERANCE)
      continue;
    const met = crossing(line, body);
    if (met && distance(met, end) <= reachOf(own.thickness, body.thickness)) return met;
  }
  return null;
}

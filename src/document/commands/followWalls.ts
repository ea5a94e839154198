import { current } from 'immer';
import { runPath } from '../../engine/fabric/path.ts';
import type { Id, Place, PlanDocument, Run } from '../../engine/model/document.ts';
import { rows } from '../../engine/model/tables.ts';
import type { Mm, PlanPoint } from '../../engine/model/units.ts';
import type { PlanDraft } from '../transact.ts';
import { patch } from '../transact.ts';
import { hostsOf, nodesOn, wallsAt } from './joints.ts';
import { centreLine, project, wallLength, wallThickness } from './plane.ts';
import { placeInSpace } from './places.ts';

/** A corner of a run this near an angle (half the wall that makes it, plus the cable's offset) belongs to the angle. */
const AT_ANGLE: Mm = 60;
/** A corner in a void this near the plumb line of a face place stands over it. */
const PLUMB: Mm = 2;

/**
 * After walls moved: corners at an angle stay at that angle, other corners keep their place on the wall, corners in a void
 * stay plumb over the wall they drop down, and level stretches between void corners stay the way they ran.
 */
export function followWalls(
  draft: PlanDraft,
  before: PlanDocument,
  maps: ReadonlyMap<Id, (along: Mm) => Mm>,
): void {
  const now = current(draft) as PlanDocument;
  const along = new Map([...maps].map(([wall, map]) => [wall, cornerMap(before, now, wall, map)]));
  for (const host of hostsOfMoved(before, maps)) {
    if (!along.has(host))
      along.set(
        host,
        cornerMap(before, now, host, (a) => a),
      );
  }
  const midway: PlanDocument = now;
  for (const run of rows(before.runs)) {
    const old = runPath(before, run);
    if (!old.some((place) => place?.on === 'face' && along.has(place.wall))) continue;
    const moved = runPath(midway, run).map((place, i) => {
      const isCorner = i > 0 && i < old.length - 1;
      const map = isCorner && place?.on === 'face' ? along.get(place.wall) : undefined;
      return place?.on === 'face' && map ? { ...place, along: map(place.along) } : place;
    });
    const corners = inVoids(before, midway, old, moved);
    if (corners !== null) patch(draft, 'runs', run.id, { corners } satisfies Partial<Run>);
  }
}

/** Walls that did not move themselves but on which a moved partition stands. */
function hostsOfMoved(doc: PlanDocument, maps: ReadonlyMap<Id, unknown>): Id[] {
  const ends = new Set([...maps.keys()].flatMap((id) => [doc.walls.byId[id]?.from, doc.walls.byId[id]?.to]));
  return [...ends].flatMap((node) => (node === undefined ? [] : hostsOf(doc, node).map((w) => w.id)));
}

/** How corners of runs move along one wall: those at its ends and at its partitions go with them. */
function cornerMap(
  before: PlanDocument,
  now: PlanDocument,
  wall: Id,
  map: (along: Mm) => Mm,
): (along: Mm) => Mm {
  const was = wallLength(before, wall);
  const longer = wallLength(now, wall) - was;
  const record = before.walls.byId[wall];
  if (!record) return map;
  const reachAt = (node: Id) =>
    AT_ANGLE +
    Math.max(
      0,
      ...wallsAt(before, node)
        .filter((w) => w.id !== wall)
        .map((w) => wallThickness(before, w) / 2),
    );
  const angles = [
    { at: 0, reach: reachAt(record.from), by: 0 },
    { at: was, reach: reachAt(record.to), by: longer },
    ...nodesOn(before, record).flatMap((id) => {
      const a = before.nodes.byId[id];
      const b = now.nodes.byId[id];
      if (!a || !b) return [];
      const at = project(centreLine(before, wall), a).along;
      return [{ at, reach: reachAt(id), by: project(centreLine(now, wall), b).along - at }];
    }),
  ];
  return (along) => {
    const near = angles
      .filter((angle) => Math.abs(along - angle.at) <= angle.reach)
      .sort((p, q) => Math.abs(along - p.at) - Math.abs(along - q.at))[0];
    return near ? along + near.by : map(along);
  };
}

/**
 * The corners of a moved path with those in voids still plumb over the wall they drop down; null when nothing of the run
 * moved. `carried` is where the move as a whole has already taken a spot of the plan, for corners in voids.
 */
export function inVoids(
  before: PlanDocument,
  now: PlanDocument,
  old: readonly (Place | null)[],
  moved: readonly (Place | null)[],
  carried: (p: PlanPoint) => PlanPoint = (p) => p,
): Place[] | null {
  const shifts = old.map((place, i) => {
    const to = moved[i];
    if (place?.on !== 'face' || !to) return null;
    const a = carried(placeInSpace(before, place));
    const b = placeInSpace(now, to);
    return { x: b.x - a.x, y: b.y - a.y };
  });
  const shiftOf = new Map<number, { x: Mm; y: Mm }>();
  const queue: number[] = [];
  const settle = (i: number, shift: { x: Mm; y: Mm }) => {
    if (shiftOf.has(i) || Math.hypot(shift.x, shift.y) < 1e-9) return;
    shiftOf.set(i, shift);
    queue.push(i);
  };
  const tied = new Set<number>();
  for (let i = 1; i < old.length - 1; i++) {
    for (const j of [i - 1, i + 1]) {
      const shift = shifts[j];
      if (!shift || !isVoid(old[i]) || !plumb(before, old[i], old[j])) continue;
      tied.add(i);
      settle(i, shift);
    }
  }
  const elbows = new Map<number, Place[]>();
  for (let i = queue.shift(); i !== undefined; i = queue.shift()) {
    const a = old[i];
    const shift = shiftOf.get(i);
    for (const j of [i - 1, i + 1]) {
      const b = old[j];
      if (!a || !b || !shift || !isVoid(a) || !isVoid(b) || shiftOf.has(j)) continue;
      const across = offLine(a, b, shift);
      if (Math.hypot(across.x, across.y) < 1e-6) continue;
      if (tied.has(j) || j === 0 || j === old.length - 1)
        elbows.set(Math.min(i, j), [{ ...a, ...carried({ x: a.x, y: a.y }) }]);
      else settle(j, across);
    }
  }
  const changed =
    shiftOf.size > 0 || moved.some((place, i) => i > 0 && i < old.length - 1 && differs(place, old[i]));
  if (!changed) return null;
  const corners: Place[] = [];
  for (let i = 0; i < moved.length; i++) {
    const place = moved[i];
    const shift = shiftOf.get(i);
    if (place && i > 0 && i < moved.length - 1)
      corners.push(
        shift && place.on !== 'face' ? { ...place, x: place.x + shift.x, y: place.y + shift.y } : place,
      );
    corners.push(...(elbows.get(i) ?? []));
  }
  return corners;
}

const isVoid = (place: Place | null | undefined): place is Place & { on: 'ceiling' | 'floor' } =>
  place?.on === 'ceiling' || place?.on === 'floor';

const differs = (a: Place | null | undefined, b: Place | null | undefined): boolean =>
  a?.on === 'face' && b?.on === 'face' && a.along !== b.along;

function plumb(doc: PlanDocument, a: Place | null | undefined, b: Place | null | undefined): boolean {
  if (!a || !b) return false;
  const p = placeInSpace(doc, a);
  const q = placeInSpace(doc, b);
  return Math.hypot(p.x - q.x, p.y - q.y) <= PLUMB;
}

/** The part of a shift that is square to the stretch from a to b; all of it where they coincide. */
function offLine(a: { x: Mm; y: Mm }, b: { x: Mm; y: Mm }, shift: { x: Mm; y: Mm }): { x: Mm; y: Mm } {
  const length = Math.hypot(b.x - a.x, b.y - a.y);
  if (length < 1e-9) return shift;
  const d = { x: (b.x - a.x) / length, y: (b.y - a.y) / length };
  const way = shift.x * d.x + shift.y * d.y;
  return { x: shift.x - d.x * way, y: shift.y - d.y * way };
}

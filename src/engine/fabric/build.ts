import { polygonArea, polygonPerimeter, polygonWinding } from '../geometry/polygon.ts';
import { pointDistance } from '../geometry/vector.ts';
import type { Id, PlanDocument, RoomTag } from '../model/document.ts';
import { rows } from '../model/tables.ts';
import type { PlanPoint } from '../model/units.ts';
import { loopCourses } from './corners.ts';
import type { Course } from './corners.ts';
import { withEnds, type Unjoined } from './ends.ts';
import { openingsByWall, makeFace, nameFaces, withOpposites } from './faces.ts';
import type { FaceDraft } from './faces.ts';
import { wallGraph } from './graph.ts';
import { roomHolds } from './lookup.ts';
import { traceLoops } from './trace.ts';
import type { Fabric, FaceId, Room, RoomId } from './types.ts';

interface Ring {
  readonly faces: readonly FaceDraft[];
  readonly outline: readonly PlanPoint[];
  readonly area: number;
  readonly start: PlanPoint;
}

/** Loops whose centre lines hold less than this share of their perimeter squared only go round walls. */
const FLAT = 1e-6;
const SAME_POINT = 1e-9;

const byText = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

/**
 * All faces and rooms of a storey from its walls, by ids alone (the order of the tables does not matter). Walls that
 * cannot be (a missing node or build-up, no length, no thickness) are left out, as are rooms that the thickness of
 * their walls fills up. Never throws on bad graphs.
 */
export function buildFabric(doc: PlanDocument, storey: Id): Fabric {
  const graph = wallGraph(doc, storey);
  const openings = openingsByWall(doc);
  const roomRings: Ring[] = [];
  const wallRings: Ring[] = [];
  for (const loop of traceLoops(graph)) {
    const courses = loopCourses(loop);
    if (courses.length < 2) continue;
    const outline = ringOf(courses);
    const area = polygonArea(outline);
    const isRoom = loop.centreArea > FLAT * polygonPerimeter(outline) ** 2;
    if (isRoom && !(area > 0)) continue;
    const faces = courses.map((course, i) => {
      const before = courses[(i + courses.length - 1) % courses.length] as Course;
      return makeFace(storey, course, before.joint, openings);
    });
    (isRoom ? roomRings : wallRings).push({ faces, outline, area, start: loop.start });
  }
  const all = [...roomRings, ...wallRings];
  const names = nameFaces(all.map((ring) => ring.faces));
  const idsOf = (ring: Ring): FaceId[] => ring.faces.map((f) => names.get(f) as FaceId);
  const rooms = makeRooms(doc, storey, roomRings, wallRings, idsOf);
  const roomOf = new Map<FaceId, RoomId>();
  for (const room of rooms.list) {
    for (const id of room.faces) roomOf.set(id, room.id);
    for (const island of room.islands) for (const id of island) roomOf.set(id, room.id);
  }
  const faces: Unjoined[] = [];
  for (const ring of all) {
    const ids = idsOf(ring);
    ring.faces.forEach((draft, i) => {
      const id = ids[i] as FaceId;
      faces.push({
        ...draft.face,
        id,
        room: roomOf.get(id) ?? null,
        left: { ...draft.left, next: ids[(i + ids.length - 1) % ids.length] as FaceId },
        right: { ...draft.right, next: ids[(i + 1) % ids.length] as FaceId },
      });
    });
  }
  faces.sort((a, b) => byText(a.id, b.id));
  return {
    storey,
    faces: new Map(withOpposites(withEnds(faces)).map((f) => [f.id, f])),
    rooms: new Map(rooms.list.map((r) => [r.id, r])),
    outside: rooms.outside,
  };
}

/** Corner points in order, none twice in a row. */
function ringOf(courses: readonly Course[]): PlanPoint[] {
  const ring: PlanPoint[] = [];
  for (const { a, b } of courses) {
    for (const p of [a, b]) {
      const last = ring[ring.length - 1];
      if (!last || pointDistance(last, p) > SAME_POINT) ring.push(p);
    }
  }
  const first = ring[0];
  const last = ring[ring.length - 1];
  if (first && last && ring.length > 1 && pointDistance(first, last) <= SAME_POINT) ring.pop();
  return ring;
}

function makeRooms(
  doc: PlanDocument,
  storey: Id,
  roomRings: readonly Ring[],
  wallRings: readonly Ring[],
  idsOf: (ring: Ring) => FaceId[],
): { readonly list: readonly Room[]; readonly outside: readonly (readonly FaceId[])[] } {
  const smallFirst = roomRings.map((ring) => ({ ring, box: boxOf(ring.outline), islands: [] as Ring[] }));
  smallFirst.sort((a, b) => a.ring.area - b.ring.area);
  const outside: FaceId[][] = [];
  for (const ring of wallRings) {
    const home = smallFirst.find(
      (r) => inBox(r.box, ring.start) && polygonWinding(ring.start, r.ring.outline) !== 0,
    );
    if (home) home.islands.push(ring);
    else outside.push(fromSmallest(idsOf(ring)));
  }
  const tags = rows(doc.roomTags)
    .filter((tag) => tag.storey === storey)
    .sort((a, b) => byText(a.id, b.id));
  const used = new Set<Id>();
  const list = smallFirst.map(({ ring, box, islands }): Room => {
    const faces = fromSmallest(idsOf(ring));
    const holes = islands.map((i) => i.outline);
    const shape = { outline: ring.outline, holes };
    const tag: RoomTag | undefined = tags.find(
      (t) => !used.has(t.id) && inBox(box, t) && roomHolds(shape, t),
    );
    if (tag) used.add(tag.id);
    return {
      id: faces.toSorted(byText)[0] as FaceId,
      storey,
      faces,
      islands: islands
        .map((i) => fromSmallest(idsOf(i)))
        .sort((a, b) => byText(a[0] as string, b[0] as string)),
      outline: ring.outline,
      holes,
      area: islands.reduce((sum, i) => sum - Math.abs(i.area), ring.area),
      tag: tag ?? null,
    };
  });
  list.sort((a, b) => byText(a.id, b.id));
  outside.sort((a, b) => byText(a[0] as string, b[0] as string));
  return { list, outside };
}

/** The same cycle, begun at its smallest id. */
function fromSmallest(ids: readonly FaceId[]): FaceId[] {
  let least = 0;
  ids.forEach((id, i) => {
    if (id < (ids[least] as FaceId)) least = i;
  });
  return [...ids.slice(least), ...ids.slice(0, least)];
}

interface Box {
  readonly x0: number;
  readonly x1: number;
  readonly y0: number;
  readonly y1: number;
}

function boxOf(ring: readonly PlanPoint[]): Box {
  let [x0, x1, y0, y1] = [Infinity, -Infinity, Infinity, -Infinity];
  for (const p of ring) {
    x0 = Math.min(x0, p.x);
    x1 = Math.max(x1, p.x);
    y0 = Math.min(y0, p.y);
    y1 = Math.max(y1, p.y);
  }
  return { x0, x1, y0, y1 };
}

function inBox(box: Box, p: PlanPoint): boolean {
  return p.x >= box.x0 && p.x <= box.x1 && p.y >= box.y0 && p.y <= box.y1;
}

import type { Derived } from '../engine/derive/types.ts';
import { faceAt } from '../engine/fabric/lookup.ts';
import type { Fabric, Room } from '../engine/fabric/types.ts';
import { faceSurfacePoint, placeInSpace, wallFrame } from '../engine/fabric/wallFrame.ts';
import type { WallFrame } from '../engine/fabric/wallFrame.ts';
import { polygonCentroid, polygonWinding } from '../engine/geometry/polygon.ts';
import type { Id, Opening, PlanDocument, Point, RoomTag, Thing } from '../engine/model/document.ts';
import { liesOnStorey, type StoreyTracing } from '../engine/model/tracing.ts';
import { rows } from '../engine/model/tables.ts';
import type { Mm, PlanPoint } from '../engine/model/units.ts';
import { planLegs } from './planLegs.ts';
import type { PlanLeg } from './planLegs.ts';

export interface WallShape {
  readonly id: Id;
  readonly frame: WallFrame;
  /** Left start, left end, right end, right start: mitred where the fabric mitres. */
  readonly quad: readonly [PlanPoint, PlanPoint, PlanPoint, PlanPoint];
}
export interface OpeningShape {
  readonly id: Id;
  readonly opening: Opening;
  readonly frame: WallFrame;
  readonly quad: readonly [PlanPoint, PlanPoint, PlanPoint, PlanPoint];
  /** Unit vector of the side a door is drawn opening to. */
  readonly swing: PlanPoint;
}
export interface RoomShape {
  readonly room: Room;
  readonly tag: RoomTag | null;
  /** Where its name and area are written. */
  readonly at: PlanPoint;
}
export interface PointShape {
  readonly id: Id;
  readonly point: Point;
  readonly at: PlanPoint;
  /** Unit vector from the wall into the room; null for points on no wall. */
  readonly into: PlanPoint | null;
}
export interface ThingShape {
  readonly id: Id;
  readonly thing: Thing;
  readonly outline: readonly PlanPoint[];
}

/** Everything of one storey as it lies on the plan, mm: what is painted is what can be picked. */
export interface PlanShapes {
  readonly storey: Id;
  readonly fabric: Fabric | null;
  readonly nodes: readonly { readonly id: Id; readonly at: PlanPoint }[];
  readonly walls: readonly WallShape[];
  readonly openings: readonly OpeningShape[];
  readonly rooms: readonly RoomShape[];
  /** Tags that lie in no room. */
  readonly looseTags: readonly RoomTag[];
  readonly points: readonly PointShape[];
  readonly things: readonly ThingShape[];
  readonly legs: readonly PlanLeg[];
  readonly tracings: readonly StoreyTracing[];
}

let last: { doc: PlanDocument; derived: Derived; storey: Id; shapes: PlanShapes } | null = null;

/**
 * The shapes of a storey; the last answer is kept, for the painters and the tools ask many times per change. A part whose
 * records did not change is the same array as before, so that what is made from it (paths, indexes) can be kept too.
 */
export function planShapes(doc: PlanDocument, derived: Derived, storey: Id): PlanShapes {
  if (last && last.doc === doc && last.derived === derived && last.storey === storey) return last.shapes;
  const shapes = build(doc, derived, storey);
  last = { doc, derived, storey, shapes };
  return shapes;
}

/** Keeps the last result of a function for as long as its arguments are the same references. */
function kept<A extends readonly unknown[], R>(make: (...args: A) => R): (...args: A) => R {
  let before: { args: A; result: R } | null = null;
  return (...args) => {
    if (!before || before.args.some((arg, i) => arg !== args[i])) before = { args, result: make(...args) };
    return before.result;
  };
}

interface Framed {
  readonly walls: readonly WallShape[];
  readonly frames: ReadonlyMap<Id, WallFrame>;
}

// Each part is told only of the tables it reads: a frame needs walls, nodes, build-ups and storeys, a place storeys.
type Doc = PlanDocument;
const framedOf = kept(
  (
    walls: Doc['walls'],
    nodes: Doc['nodes'],
    buildUps: Doc['buildUps'],
    storeys: Doc['storeys'],
    fabric: Fabric | null,
    storey: Id,
  ): Framed => wallShapes({ walls, nodes, buildUps, storeys } as Doc, fabric, storey),
);
const nodesOf = kept((nodes: Doc['nodes'], storey: Id) =>
  rows(nodes)
    .filter((n) => n.storey === storey)
    .map((n) => ({ id: n.id, at: { x: n.x, y: n.y } })),
);
const openingsOf = kept((openings: Doc['openings'], framed: Framed, fabric: Fabric | null) =>
  rows(openings).flatMap((opening) => {
    const frame = framed.frames.get(opening.wall);
    return frame ? [openingShape(opening, frame, fabric)] : [];
  }),
);
const roomsOf = kept((fabric: Fabric | null) => (fabric ? [...fabric.rooms.values()].map(roomShape) : []));
const looseTagsOf = kept((tags: Doc['roomTags'], rooms: readonly RoomShape[], storey: Id) => {
  const inRooms = new Set(rooms.flatMap((r) => (r.tag ? [r.tag.id] : [])));
  return rows(tags).filter((tag) => tag.storey === storey && !inRooms.has(tag.id));
});
const pointsOf = kept((points: Doc['points'], storeys: Doc['storeys'], framed: Framed, storey: Id) =>
  rows(points).flatMap((point) => {
    const shape = pointShape({ storeys } as Doc, point, storey, framed.frames);
    return shape ? [shape] : [];
  }),
);
const thingsOf = kept((things: Doc['things'], framed: Framed, storey: Id) =>
  rows(things).flatMap((thing) => thingShape(thing, storey, framed.frames)),
);
const legsOf = kept((runs: Doc['runs'], checks: Derived['runs'], framed: Framed, storey: Id) =>
  planLegs(runs, checks, framed.frames, storey),
);
const tracingsOf = kept((tracings: Doc['tracings'], storey: Id) =>
  rows(tracings)
    .filter(liesOnStorey)
    .filter((u) => u.lies.storey === storey),
);

function build(doc: PlanDocument, derived: Derived, storey: Id): PlanShapes {
  const fabric = derived.fabrics.get(storey) ?? null;
  const framed = framedOf(doc.walls, doc.nodes, doc.buildUps, doc.storeys, fabric, storey);
  const rooms = roomsOf(fabric);
  return {
    storey,
    fabric,
    nodes: nodesOf(doc.nodes, storey),
    walls: framed.walls,
    openings: openingsOf(doc.openings, framed, fabric),
    rooms,
    looseTags: looseTagsOf(doc.roomTags, rooms, storey),
    points: pointsOf(doc.points, doc.storeys, framed, storey),
    things: thingsOf(doc.things, framed, storey),
    legs: legsOf(doc.runs, derived.runs, framed, storey),
    tracings: tracingsOf(doc.tracings, storey),
  };
}

function wallShapes(doc: PlanDocument, fabric: Fabric | null, storey: Id): Framed {
  const reaches = fabric ? reachOf(fabric) : new Map<string, [Mm, Mm]>();
  const frames = new Map<Id, WallFrame>();
  const walls: WallShape[] = [];
  for (const wall of rows(doc.walls)) {
    if (wall.storey !== storey) continue;
    const frame = wallFrame(doc, wall);
    if (!frame) continue;
    frames.set(wall.id, frame);
    const [l0, l1] = reaches.get(`${wall.id}/left`) ?? [0, frame.length];
    const [r0, r1] = reaches.get(`${wall.id}/right`) ?? [0, frame.length];
    walls.push({
      id: wall.id,
      frame,
      quad: [
        faceSurfacePoint(frame, 'left', l0),
        faceSurfacePoint(frame, 'left', l1),
        faceSurfacePoint(frame, 'right', r1),
        faceSurfacePoint(frame, 'right', r0),
      ],
    });
  }
  return { walls, frames };
}

/** From where to where each side of each wall shows, along its centre line, by `wall/side`. */
function reachOf(fabric: Fabric): Map<string, [Mm, Mm]> {
  const out = new Map<string, [Mm, Mm]>();
  for (const face of fabric.faces.values()) {
    for (const piece of face.pieces) {
      const key = `${piece.wall}/${piece.side}`;
      const low = Math.min(piece.alongAtU0, piece.alongAtU1);
      const high = Math.max(piece.alongAtU0, piece.alongAtU1);
      const now = out.get(key);
      out.set(key, now ? [Math.min(now[0], low), Math.max(now[1], high)] : [low, high]);
    }
  }
  return out;
}

function openingShape(opening: Opening, frame: WallFrame, fabric: Fabric | null): OpeningShape {
  const end = opening.along + opening.width;
  const left = sideLooksOut(fabric, opening, 'left');
  const right = sideLooksOut(fabric, opening, 'right');
  const way = left && !right ? -1 : 1;
  return {
    id: opening.id,
    opening,
    frame,
    quad: [
      faceSurfacePoint(frame, 'left', opening.along),
      faceSurfacePoint(frame, 'left', end),
      faceSurfacePoint(frame, 'right', end),
      faceSurfacePoint(frame, 'right', opening.along),
    ],
    swing: { x: frame.normal.x * way, y: frame.normal.y * way },
  };
}

/** True when that side of the wall beside the opening looks into no room. */
function sideLooksOut(fabric: Fabric | null, opening: Opening, side: 'left' | 'right'): boolean {
  const on = fabric && faceAt(fabric, opening.wall, side, opening.along + opening.width / 2);
  return on ? on.face.room === null : false;
}

function roomShape(room: Room): RoomShape {
  return {
    room,
    tag: room.tag,
    at: room.tag ? { x: room.tag.x, y: room.tag.y } : spotInRoom(room.outline, room.holes),
  };
}

/** A spot well inside a room: its centroid, or where that lies outside, the middle of its widest level line. */
export function spotInRoom(
  outline: readonly PlanPoint[],
  holes: readonly (readonly PlanPoint[])[] = [],
): PlanPoint {
  const centroid = polygonCentroid(outline);
  const inside = (p: PlanPoint) =>
    polygonWinding(p, outline) !== 0 && !holes.some((hole) => polygonWinding(p, hole) !== 0);
  if (centroid && inside(centroid)) return centroid;
  const ys = [...new Set(outline.map((p) => p.y))].sort((a, b) => a - b);
  let best: { at: PlanPoint; width: Mm } | null = null;
  for (let i = 0; i + 1 < ys.length; i++) {
    const y = ((ys[i] as number) + (ys[i + 1] as number)) / 2;
    const cuts = [outline, ...holes]
      .flatMap((ring) =>
        ring.flatMap((a, k) => {
          const b = ring[(k + 1) % ring.length] as PlanPoint;
          return a.y > y !== b.y > y ? [a.x + ((b.x - a.x) * (y - a.y)) / (b.y - a.y)] : [];
        }),
      )
      .sort((a, b) => a - b);
    for (let k = 0; k + 1 < cuts.length; k += 2) {
      const width = (cuts[k + 1] as number) - (cuts[k] as number);
      if (best === null || width > best.width)
        best = { at: { x: (cuts[k] as number) + width / 2, y }, width };
    }
  }
  return best?.at ?? outline[0] ?? { x: 0, y: 0 };
}

function pointShape(
  doc: PlanDocument,
  point: Point,
  storey: Id,
  frames: ReadonlyMap<Id, WallFrame>,
): PointShape | null {
  const { place } = point;
  if (place.on === 'face') {
    const frame = frames.get(place.wall);
    if (!frame) return null;
    const way = place.side === 'left' ? 1 : -1;
    return {
      id: point.id,
      point,
      at: faceSurfacePoint(frame, place.side, place.along),
      into: { x: frame.normal.x * way, y: frame.normal.y * way },
    };
  }
  if (place.storey !== storey) return null;
  const at = placeInSpace(doc, place, 'point');
  return at ? { id: point.id, point, at: { x: at.x, y: at.y }, into: null } : null;
}

/** How far a thing on a wall is drawn standing out from it; the plan does not know its real depth. */
const THING_OUT: Mm = 60;

function thingShape(thing: Thing, storey: Id, frames: ReadonlyMap<Id, WallFrame>): ThingShape[] {
  const { place } = thing;
  if (place.on === 'plan')
    return place.storey === storey ? [{ id: thing.id, thing, outline: place.outline }] : [];
  const frame = frames.get(place.wall);
  if (!frame) return [];
  const way = place.side === 'left' ? THING_OUT : -THING_OUT;
  const a = faceSurfacePoint(frame, place.side, place.along0);
  const b = faceSurfacePoint(frame, place.side, place.along1);
  const out = (p: PlanPoint) => ({ x: p.x + frame.normal.x * way, y: p.y + frame.normal.y * way });
  return [{ id: thing.id, thing, outline: [a, b, out(b), out(a)] }];
}

import { outset } from '../engine/geometry/outset.ts';
import { polygonArea } from '../engine/geometry/polygon.ts';
import type { Fabric, Face } from '../engine/fabric/types.ts';
import type { Id, PlanDocument } from '../engine/model/document.ts';
import { rows } from '../engine/model/tables.ts';
import type { Mm, PlanPoint } from '../engine/model/units.ts';
import { thicknessOf } from './proposals.ts';

/** Between what is drawn and a room that stands for itself, mm. Own choice. */
const APART: Mm = 1500;

/** What a taped room is placed by. */
export interface Placing {
  readonly storey: Id;
  readonly buildUp: Id;
  /** Sizes were taped between the finished surfaces, or between the middles of the walls. */
  readonly taped: 'inside' | 'middles';
  /** The outside face of a room that stands, on which the first wall lies; null for a place of its own. */
  readonly face: Face | null;
  /** Along that face, from the middle of the wall at its end: where the room's first corner is. */
  readonly offset: Mm;
}

/** Faces of a storey that look outwards and are walls' own, not ends of them: a room may be built against each. */
export function freeFaces(fabric: Fabric | undefined): Face[] {
  if (!fabric) return [];
  return fabric.outside.flatMap((loop) =>
    loop.flatMap((id) => {
      const face = fabric.faces.get(id);
      return face && face.pieces.length > 0 ? [face] : [];
    }),
  );
}

/** A room's outline, corner 0 at the origin and side 0 to the right, put on the plan: corners of its walls' centre lines. */
export function placeRoom(doc: PlanDocument, outline: readonly PlanPoint[], placing: Placing): PlanPoint[] {
  const { face, taped } = placing;
  const own = thickness(doc, placing.buildUp) / 2;
  const shared = face ? thickness(doc, doc.walls.byId[face.pieces[0]?.wall ?? '']?.buildUp ?? '') / 2 : own;
  const centres =
    taped === 'middles'
      ? outline
      : outset(
          outline,
          outline.map((_, i) => (i === 0 ? shared : own)),
        );
  const from = face
    ? startOn(doc, face, polygonArea(outline) >= 0, placing.offset)
    : besides(doc, placing.storey);
  const [zero, one] = centres as readonly [PlanPoint, PlanPoint];
  const turn = Math.atan2(from.way.y, from.way.x) - Math.atan2(one.y - zero.y, one.x - zero.x);
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
  const put = (p: PlanPoint): PlanPoint => ({
    x: from.at.x + (p.x - zero.x) * cos - (p.y - zero.y) * sin,
    y: from.at.y + (p.x - zero.x) * sin + (p.y - zero.y) * cos,
  });
  return centres.map(put);
}

const thickness = (doc: PlanDocument, buildUp: Id): Mm => {
  const build = doc.buildUps.byId[buildUp];
  return build ? thicknessOf(build) : 0;
};

interface Start {
  readonly at: PlanPoint;
  readonly way: PlanPoint;
}

/** Going round clockwise the room's first wall goes from the left-hand end of the face to the right, else the other way. */
function startOn(doc: PlanDocument, face: Face, clockwise: boolean, offset: Mm): Start {
  const [near, far] = clockwise ? [face.a, face.b] : [face.b, face.a];
  const piece = clockwise ? face.pieces[0] : face.pieces.at(-1);
  const wall = doc.walls.byId[piece?.wall ?? ''];
  const ends = [wall?.from, wall?.to].flatMap((id) => doc.nodes.byId[id ?? ''] ?? []);
  const off = (p: PlanPoint): Mm => Math.hypot(p.x - near.x, p.y - near.y);
  const [first = near, second = far] = ends.sort((p, q) => off(p) - off(q));
  const length = Math.hypot(second.x - first.x, second.y - first.y);
  const way = { x: (second.x - first.x) / length, y: (second.y - first.y) / length };
  return { at: { x: first.x + way.x * offset, y: first.y + way.y * offset }, way };
}

/** To the right of all that is drawn, level with its top. */
function besides(doc: PlanDocument, storey: Id): Start {
  const drawn = rows(doc.nodes).filter((n) => n.storey === storey);
  const way = { x: 1, y: 0 };
  if (drawn.length === 0) return { at: { x: 0, y: 0 }, way };
  const x = Math.max(...drawn.map((n) => n.x)) + APART;
  return { at: { x, y: Math.min(...drawn.map((n) => n.y)) }, way };
}

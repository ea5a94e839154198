import { thingKindName } from '../engine/checks/words.ts';
import { wallFrame } from '../engine/fabric/wallFrame.ts';
import type { PlanDocument, Point, Run, Wall } from '../engine/model/document.ts';
import { gangWord, POINT_KINDS } from '../engine/model/pointKinds.ts';
import type { PlanPoint } from '../engine/model/units.ts';
import type { Derived } from '../engine/derive/types.ts';
import { polygonWinding } from '../engine/geometry/polygon.ts';
import { grouped, mmText } from './lengthText.ts';
import type { PlanShapes, PointShape } from './planShapes.ts';
import type { Ref } from './types.ts';

/** A record of the plan in words, with its place, for people who cannot see the canvas. */
export interface PlanWord {
  readonly ref: Ref;
  readonly label: string;
  readonly x: number;
  readonly y: number;
}

/** Every record of a storey, in the order rooms, walls, openings, corners, points, runs, things. */
export function planWords(doc: PlanDocument, derived: Derived, shapes: PlanShapes): PlanWord[] {
  const word = (table: Ref['table'], id: string, label: string, at: PlanPoint): PlanWord => ({
    ref: { table, id, part: null },
    label,
    x: at.x,
    y: at.y,
  });
  const middle = (ring: readonly PlanPoint[]): PlanPoint => ({
    x: ring.reduce((sum, p) => sum + p.x, 0) / ring.length,
    y: ring.reduce((sum, p) => sum + p.y, 0) / ring.length,
  });
  const out: PlanWord[] = [];
  for (const { room, tag } of shapes.rooms) {
    if (tag)
      out.push(
        word('roomTags', tag.id, `Room ${tag.name}, ${(room.area / 1e6).toFixed(1)} square metres`, tag),
      );
  }
  for (const tag of shapes.looseTags)
    out.push(word('roomTags', tag.id, `Room name ${tag.name}, in no closed room`, tag));
  for (const wall of shapes.walls) {
    out.push(
      word('walls', wall.id, wallWords(doc, wall.frame.wall), middle([wall.frame.from, wall.frame.to])),
    );
  }
  for (const { id, opening, quad } of shapes.openings) {
    const kind = opening.kind === 'opening' ? 'Opening' : opening.kind === 'door' ? 'Door' : 'Window';
    out.push(
      word(
        'openings',
        id,
        `${kind} ${id}, ${mmText(opening.width)} wide, wall ${opening.wall}`,
        middle(quad),
      ),
    );
  }
  for (const node of shapes.nodes) {
    out.push(
      word(
        'nodes',
        node.id,
        `Corner ${node.id}, ${grouped(node.at.x)} across, ${grouped(node.at.y)} down`,
        node.at,
      ),
    );
  }
  for (const shape of shapes.points)
    out.push(word('points', shape.id, pointWords(doc, shapes, shape), shape.at));
  for (const [id, at] of runSpots(shapes)) {
    const run = doc.runs.byId[id];
    if (run) out.push(word('runs', id, runWords(doc, derived, run), at));
  }
  for (const { id, thing, outline } of shapes.things) {
    out.push(word('things', id, `${thing.name || thingKindName(thing.kind)} ${id}`, middle(outline)));
  }
  return out;
}

/** "Wall w3, 3 400 mm, Timber stud 63 mm". */
export function wallWords(doc: PlanDocument, wall: Wall): string {
  const frame = wallFrame(doc, wall);
  const build = doc.buildUps.byId[wall.buildUp]?.name.split(',')[0] ?? 'no build-up';
  return `Wall ${wall.id}, ${mmText(frame?.length ?? 0)}, ${build}`;
}

const SIDES = ['top', 'right', 'bottom', 'left'] as const;

/** Which wall of its room a point is on, as the plan lies: the plan does not know where north is. */
function wallSide(into: PlanPoint): string {
  const turn = Math.round(Math.atan2(-into.x, into.y) / (Math.PI / 2));
  return SIDES[(turn + 4) % 4] as string;
}

function pointWords(doc: PlanDocument, shapes: PlanShapes, shape: PointShape): string {
  const { point, into, at } = shape;
  const inside = into ? { x: at.x + into.x * 50, y: at.y + into.y * 50 } : at;
  const room = shapes.rooms.find((r) => polygonWinding(inside, r.room.outline) !== 0)?.tag?.name;
  const { place } = point;
  const where =
    place.on === 'face' && into
      ? `${wallSide(into)} wall, ${mmText(place.z)} high`
      : place.on === 'free'
        ? mmText(place.z) + ' high'
        : place.on === 'ceiling'
          ? 'ceiling'
          : 'floor';
  const circuit =
    point.circuit === null ? 'no circuit' : `circuit ${doc.circuits.byId[point.circuit]?.label ?? ''}`;
  return [pointName(point), room, where, ...(feedable(point) ? [circuit] : [])]
    .filter((part) => part !== undefined && part !== '')
    .join(', ');
}

/** True for what belongs on a mains circuit: not the board that feeds them, nor data. */
function feedable(point: Point): boolean {
  return POINT_KINDS[point.kind].mains && point.kind !== 'consumer-unit';
}

/** "Socket-outlet P4, two-gang, Kettle". */
export function pointName(point: Point): string {
  const name = point.name === '' ? '' : `, ${point.name}`;
  return `${POINT_KINDS[point.kind].name} ${point.label}${point.gangs > 1 ? `, ${gangWord(point.gangs)}` : ''}${name}`;
}

const ANSWERS = {
  inside: 'inside the permitted zones',
  outside: 'outside the permitted zones',
  disputed: 'disputed',
  'not-checked': 'not checked',
} as const;

function runWords(doc: PlanDocument, derived: Derived, run: Run): string {
  const end = (id: string | null) => (id === null ? 'no point' : (doc.points.byId[id]?.label ?? id));
  const cable = doc.cables.byId[run.cable]?.name ?? run.cable;
  const answer = derived.runs.get(run.id)?.answer ?? 'not-checked';
  return `Run ${run.label}, ${cable}, ${end(run.from)} to ${end(run.to)}, ${ANSWERS[answer]}`;
}

/** The middle of each run's longest leg on the plan. */
function runSpots(shapes: PlanShapes): Map<string, PlanPoint> {
  const best = new Map<string, { length: number; at: PlanPoint }>();
  for (const leg of shapes.legs) {
    const length = Math.hypot(leg.b.x - leg.a.x, leg.b.y - leg.a.y);
    const now = best.get(leg.run);
    if (now && now.length >= length) continue;
    best.set(leg.run, { length, at: { x: (leg.a.x + leg.b.x) / 2, y: (leg.a.y + leg.b.y) / 2 } });
  }
  return new Map([...best].map(([id, { at }]) => [id, at]));
}

import type {
  BoxFitting,
  Gangs,
  Id,
  LoadKind,
  Place,
  PlanDocument,
  PlateSize,
  Point,
  PointKind,
} from '../../engine/model/document.ts';
import { boxGangs, gangsFor, POINT_KINDS } from '../../engine/model/pointKinds.ts';
import { rows } from '../../engine/model/tables.ts';
import type { PlanDraft, Step } from '../transact.ts';
import { command, drop, nextLabelled, patch, put, refuse } from '../transact.ts';
import type { Command, Refusal } from '../types.ts';
import { fabricsOf, keepRunsRight } from './keepRight.ts';
import { placeRefusal } from './places.ts';
import { sound } from './plane.ts';

/** What must be said of a new point; the rest has the defaults of its kind. */
export interface NewPoint {
  readonly kind: PointKind;
  readonly place: Place;
  readonly name?: string;
  readonly gangs?: Gangs;
  readonly plate?: PlateSize | null;
  /** Left out: the usual box of its kind and wall. */
  readonly box?: BoxFitting | null;
  readonly visible?: boolean;
  readonly circuit?: Id | null;
  readonly load?: number | null;
  readonly loadKind?: LoadKind | null;
  readonly controls?: Point['controls'];
}

/** Nothing on a wall that is worked by hand is larger, mm: typed by mistake, its strip would cover the wall. */
const MOST_PLATE = 2000;

const word = (kind: PointKind): string => POINT_KINDS[kind].name.toLowerCase();

/** A new point, numbered P1, P2 ... */
export function addPoint(fields: NewPoint): Command {
  return command(`Add ${word(fields.kind)}`, (draft, step) => addTo(draft, step, fields));
}

/** Several new points at once. */
export function addPoints(fields: readonly NewPoint[]): Command {
  return command('Add points', (draft, step) => {
    for (const each of fields) {
      const wrong = addTo(draft, step, each);
      if (wrong) return wrong;
    }
  });
}

function addTo(draft: PlanDraft, step: Step, fields: NewPoint): Refusal | void {
  const { doc } = step;
  const wrong = placeRefusal(doc, fields.place, fields.kind) ?? fieldsRefusal(doc, fields, null);
  if (wrong) return wrong;
  const gangs = gangsFor(fields.kind, fields.gangs ?? 1);
  const { id, label } = nextLabelled(draft, 'points');
  put(draft, 'points', {
    id,
    label,
    kind: fields.kind,
    name: fields.name ?? '',
    place: fields.place,
    gangs,
    plate: fields.plate ?? null,
    box: fields.box === undefined ? usualBox(doc, fields.kind, gangs, fields.place) : fields.box,
    visible: fields.visible ?? true,
    circuit: fields.circuit ?? null,
    load: fields.load ?? null,
    loadKind: fields.loadKind ?? null,
    controls: fields.controls ?? [],
  });
  step.made(id);
}

/** The usual box: the depth of its kind, metal in masonry and dry-lining in frames; null where there is none. */
export function usualBox(doc: PlanDocument, kind: PointKind, gangs: Gangs, place: Place): BoxFitting | null {
  const facts = POINT_KINDS[kind];
  if (!facts.boxed || place.on !== 'face') return null;
  const wall = doc.walls.byId[place.wall];
  const masonry = wall !== undefined && doc.buildUps.byId[wall.buildUp]?.frame === 'masonry';
  const mount = masonry ? 'metal' : 'dry-lining';
  const fitting = rows(doc.boxes)
    .filter((b) => b.mount === mount && b.gangs === boxGangs(kind, gangs) && b.depth >= facts.boxDepth)
    .sort((a, b) => a.depth - b.depth)[0];
  return fitting ? { box: fitting.id, fixedFirst: masonry } : null;
}

/** Moves points; the runs that end there follow and stay level, plumb and joined. */
export function movePoints(moves: readonly { readonly id: Id; readonly place: Place }[]): Command {
  return command(moves.length === 1 ? 'Move point' : 'Move points', (draft, step) => {
    let fabrics: ReturnType<typeof fabricsOf> | null = null;
    for (const { id, place } of moves) {
      const point = step.doc.points.byId[id];
      if (!point) return refuse('That point is no longer in the plan.');
      const wrong = placeRefusal(step.doc, place, point.kind);
      if (wrong) return wrong;
      keepRunsRight(draft, id, place, () => (fabrics ??= fabricsOf(step.doc)));
      patch(draft, 'points', id, { place });
    }
  });
}

/** Moves one point. */
export function movePoint(id: Id, place: Place): Command {
  return movePoints([{ id, place }]);
}

/** Changes anything about points but where they are and their numbers. */
export function editPoints(
  ids: readonly Id[],
  fields: Partial<Omit<Point, 'id' | 'label' | 'place'>>,
): Command {
  return command(ids.length === 1 ? 'Edit point' : 'Edit points', (draft, step) => {
    for (const id of ids) {
      const now = step.doc.points.byId[id];
      if (!now) return refuse('That point is no longer in the plan.');
      const next = { ...now, ...fields };
      const wrong = placeRefusal(step.doc, next.place, next.kind) ?? fieldsRefusal(step.doc, next, id);
      if (wrong) return wrong;
      const gangs = gangsFor(next.kind, next.gangs);
      const otherBox = next.kind !== now.kind || boxGangs(next.kind, gangs) !== boxGangs(now.kind, now.gangs);
      const box =
        otherBox && fields.box === undefined ? usualBox(step.doc, next.kind, gangs, now.place) : next.box;
      const feeds = next.kind === 'consumer-unit' || !POINT_KINDS[next.kind].mains;
      const controls = next.controls.slice(0, gangs);
      // A plate of another kind is another plate.
      const plate = next.kind !== now.kind && fields.plate === undefined ? null : next.plate;
      const circuit = feeds ? null : next.circuit;
      patch(draft, 'points', id, { ...fields, gangs, plate, controls, box, circuit });
    }
  });
}

/** Takes points away. Runs that ended there keep their drawn corners and end parked; readings keep them from going. */
export function removePoints(ids: readonly Id[]): Command {
  return command(ids.length === 1 ? 'Remove point' : 'Remove points', (draft, step) => {
    const { doc } = step;
    const gone = new Set(ids);
    for (const id of ids) {
      const point = doc.points.byId[id];
      if (!point) return refuse('That point is no longer in the plan.');
      const readings = rows(doc.readings).filter((r) => r.point === id).length;
      if (readings > 0) return refuse(`${point.label} has readings recorded: remove those first.`);
    }
    takePointsOut(draft, doc, gone);
    const parked = rows(doc.runs).filter((r) => gone.has(r.from ?? '') || gone.has(r.to ?? ''));
    if (parked.length > 0)
      step.note(
        `${parked.map((r) => r.label).join(', ')} now ${parked.length === 1 ? 'ends' : 'end'} on no point.`,
      );
  });
}

/** Removes points from a draft with every mention of them. The place where a run ended stays as its last corner. */
export function takePointsOut(draft: PlanDraft, doc: PlanDocument, gone: ReadonlySet<Id>): void {
  const without = (ids: readonly Id[]): Id[] => ids.filter((id) => !gone.has(id));
  for (const run of rows(doc.runs)) {
    const fromGone = gone.has(run.from ?? '');
    const toGone = gone.has(run.to ?? '');
    if (!fromGone && !toGone) continue;
    const now = draft.runs.byId[run.id];
    if (!now) continue;
    const start = fromGone ? doc.points.byId[run.from ?? '']?.place : undefined;
    const end = toGone ? doc.points.byId[run.to ?? '']?.place : undefined;
    patch(draft, 'runs', run.id, {
      from: fromGone ? null : run.from,
      to: toGone ? null : run.to,
      corners: [...(start ? [start] : []), ...(now.corners as readonly Place[]), ...(end ? [end] : [])],
    });
  }
  for (const circuit of rows(doc.circuits)) {
    patch(draft, 'circuits', circuit.id, {
      board: circuit.board !== null && gone.has(circuit.board) ? null : circuit.board,
      first: without(circuit.first),
      last: without(circuit.last),
    });
  }
  for (const point of rows(doc.points)) {
    if (gone.has(point.id)) drop(draft, 'points', point.id);
    else if (point.controls.flat().some((c) => gone.has(c)))
      patch(draft, 'points', point.id, { controls: usedGangs(point.controls.map(without)) });
  }
}

/**
 * `count` copies of a point at even spacing, the last of them at `to`, on the same face, ceiling or floor. Copies are on
 * the same circuit and have no runs.
 */
export function duplicateAlong(id: Id, to: Place, count: number): Command {
  return command('Copy point along', (draft, step) => {
    const point = step.doc.points.byId[id];
    if (!point) return refuse('That point is no longer in the plan.');
    if (!Number.isInteger(count) || count < 1 || count > 200) return refuse('Make between 1 and 200 copies.');
    for (let k = 1; k <= count; k++) {
      const place = between(point.place, to, k / count);
      if (place === null) return refuse('Copies go along the same wall side, ceiling or floor.');
      const { id: _id, label: _label, ...rest } = point;
      const wrong = addTo(draft, step, { ...rest, place });
      if (wrong) return wrong;
    }
  });
}

function between(a: Place, b: Place, t: number): Place | null {
  const mix = (p: number, q: number) => p + (q - p) * t;
  if (a.on === 'face')
    return b.on === 'face' && a.wall === b.wall && a.side === b.side
      ? { ...a, along: mix(a.along, b.along), z: mix(a.z, b.z) }
      : null;
  if (b.on === 'face' || a.on !== b.on || a.storey !== b.storey) return null;
  if (a.on === 'free')
    return { ...a, x: mix(a.x, b.x), y: mix(a.y, b.y), z: mix(a.z, b.on === 'free' ? b.z : a.z) };
  return { ...a, x: mix(a.x, b.x), y: mix(a.y, b.y) };
}

function fieldsRefusal(
  doc: PlanDocument,
  fields: Pick<NewPoint, 'kind' | 'circuit' | 'box' | 'load' | 'controls' | 'plate'>,
  own: Id | null,
): Refusal | null {
  const { circuit, box, load, controls = [], kind, plate } = fields;
  if (circuit && !doc.circuits.byId[circuit]) return refuse('That circuit is no longer in the plan.');
  if (circuit && own === null && (kind === 'consumer-unit' || !POINT_KINDS[kind].mains))
    return refuse(`A ${word(kind)} is not on a circuit.`);
  if (box && !doc.boxes.byId[box.box]) return refuse('That box is no longer in the catalogue.');
  if (load !== undefined && load !== null && (!sound(load) || load < 0))
    return refuse('A load is 0 W or more.');
  if (plate && ![plate.width, plate.height].every((side) => sound(side) && side > 0 && side <= MOST_PLATE))
    return refuse(`A plate is more than 0 and at most ${MOST_PLATE} mm wide and high.`);
  for (const gang of controls) {
    const wrong = controlsRefusal(doc, gang, own);
    if (wrong) return wrong;
  }
  return null;
}

/** Controls by gang, without the idle gangs at the end. */
export function usedGangs(gangs: Point['controls']): Point['controls'] {
  return gangs.slice(0, gangs.findLastIndex((each) => each.length > 0) + 1);
}

/** Why a gang of a switch cannot work these points; null when it can. */
export function controlsRefusal(doc: PlanDocument, controls: readonly Id[], own: Id | null): Refusal | null {
  if (own !== null && controls.includes(own)) return refuse('A switch cannot work itself.');
  if (controls.some((id) => !doc.points.byId[id]))
    return refuse('A point it works is no longer in the plan.');
  if (new Set(controls).size !== controls.length) return refuse('A point is named twice.');
  return null;
}

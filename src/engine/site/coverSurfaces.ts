import type { Derived } from '../derive/types.ts';
import { wallName } from '../checks/words.ts';
import { piecesOn, roomAt, roomHolds } from '../fabric/lookup.ts';
import { isNextAbove } from '../fabric/path.ts';
import type { Fabric, Face, FaceId, Leg, Room, RoomId } from '../fabric/types.ts';
import { intervalGaps } from '../geometry/interval.ts';
import { insideOutline } from '../geometry/outline.ts';
import { segmentNearest } from '../geometry/segment.ts';
import type { Id, PlanDocument, Place, Run } from '../model/document.ts';
import { find, rows } from '../model/tables.ts';
import type { Mm, PlanPoint } from '../model/units.ts';
import { spotOf } from '../zones/spots.ts';

/**
 * Something that is boarded, plastered or laid over. `open`: what a run belongs to that lies on no wall, ceiling or
 * floor. A ceiling or floor without a room is the part of the void that lies over, or under, no closed room.
 */
export interface CoverSurface {
  readonly key: string;
  readonly kind: 'face' | 'ceiling' | 'floor' | 'open';
  readonly storey: Id;
  readonly face: FaceId | null;
  readonly room: RoomId | null;
}

export const faceSurface = (storey: Id, face: Face): CoverSurface => ({
  key: `face ${face.id}`,
  kind: 'face',
  storey,
  face: face.id,
  room: face.room,
});

export const voidSurface = (
  kind: 'ceiling' | 'floor' | 'open',
  storey: Id,
  room: RoomId | null,
): CoverSurface => ({ key: `${kind} ${storey} ${room ?? ''}`.trimEnd(), kind, storey, face: null, room });

/** "the top wall 2 of Kitchen", "the ceiling of Kitchen", "what lies in the open on Ground floor". */
export function surfaceName(
  doc: PlanDocument,
  derived: Pick<Derived, 'fabrics'>,
  surface: CoverSurface,
): string {
  const fabric = derived.fabrics.get(surface.storey);
  const storey = find(doc, 'storeys', surface.storey)?.name ?? surface.storey;
  if (surface.kind === 'face') return wallName(fabric, fabric?.faces.get(surface.face ?? ''));
  if (surface.kind === 'open') return `no wall, ceiling or floor yet, ${storey}`;
  if (surface.room === null) return `the ${surface.kind} of ${storey}, where there is no closed room`;
  return `the ${surface.kind} of ${fabric?.rooms.get(surface.room)?.tag?.name ?? 'a room without a name'}`;
}

/** Rounding on the finished surface, mm. */
const AT_SURFACE: Mm = 5;
const ROUNDING = 1e-6;

/** Rooms a level line passes over or under, edges included. */
function roomsAlong(fabric: Fabric | undefined, a: PlanPoint, b: PlanPoint): Room[] {
  return [...(fabric?.rooms.values() ?? [])].filter((room) => {
    if (roomHolds(room, a) || roomHolds(room, b)) return true;
    const holes = room.holes.flatMap((hole) => insideOutline(a, b, hole, ROUNDING));
    return insideOutline(a, b, room.outline, ROUNDING).some(
      (part) => intervalGaps(part, holes, ROUNDING).length > 0,
    );
  });
}

/** Gathers the surfaces one run lies on, goes through or lies behind. */
class Gathering {
  readonly found = new Map<string, CoverSurface>();
  private readonly doc: PlanDocument;
  private readonly fabrics: ReadonlyMap<Id, Fabric>;

  constructor(doc: PlanDocument, fabrics: ReadonlyMap<Id, Fabric>) {
    this.doc = doc;
    this.fabrics = fabrics;
  }

  private add(surface: CoverSurface): void {
    this.found.set(surface.key, surface);
  }

  /** A stretch of a face, and the face behind where both sides' cables lie in the same layer of the wall. */
  face(storey: Id, id: FaceId, u0: Mm, u1: Mm): void {
    const fabric = this.fabrics.get(storey);
    const face = fabric?.faces.get(id);
    if (fabric === undefined || face === undefined) return;
    this.add(faceSurface(storey, face));
    const [low, high] = [Math.min(u0, u1), Math.max(u0, u1)];
    face.builds.forEach((build, i) => {
      const piece = face.pieces[i];
      const layers = find(this.doc, 'buildUps', build.buildUp)?.cableLayer;
      if (piece === undefined || layers === undefined || layers.left !== layers.right) return;
      for (const o of face.opposite) {
        if (Math.max(o.u0, low, piece.u0) > Math.min(o.u1, high, piece.u1) + 1e-6) continue;
        const other = fabric.faces.get(o.face);
        if (other !== undefined) this.add(faceSurface(storey, other));
      }
    });
  }

  /** Both faces of a wall a leg goes through; every face of that wall where none is found at its ends. */
  through(leg: Leg): void {
    const fabric = this.fabrics.get(leg.storey);
    if (fabric === undefined || leg.wall === null) return;
    const { wall } = leg;
    const faces = [
      ...new Set(
        (['left', 'right'] as const).flatMap((side) => piecesOn(fabric, wall, side).map((p) => p.face)),
      ),
    ];
    const near = faces.filter((face) =>
      [leg.a, leg.b].some((p) => segmentNearest(p, face.a, face.b).distance <= AT_SURFACE),
    );
    for (const face of near.length > 0 ? near : faces) this.add(faceSurface(leg.storey, face));
  }

  /** The rooms over or under a level line of a void, and those on the void's other side. */
  level(kind: 'ceiling' | 'floor', storey: Id, a: PlanPoint, b: PlanPoint): void {
    const rooms = roomsAlong(this.fabrics.get(storey), a, b);
    for (const room of rooms) this.add(voidSurface(kind, storey, room.id));
    if (rooms.length === 0) this.add(voidSurface(kind, storey, null));
    const other = rows(this.doc.storeys).find((s) =>
      kind === 'ceiling' ? isNextAbove(this.doc, storey, s.id) : isNextAbove(this.doc, s.id, storey),
    );
    if (other === undefined) return;
    const [back, build] =
      kind === 'ceiling' ? (['floor', other.floor] as const) : (['ceiling', other.ceiling] as const);
    if (build.kind !== 'void') return;
    for (const room of roomsAlong(this.fabrics.get(other.id), a, b))
      this.add(voidSurface(back, other.id, room.id));
  }

  /** Where a riser leaves or enters the ceilings and floors it passes, on every storey. */
  riser(leg: Leg): void {
    const [low, high] = [Math.min(leg.a.z, leg.b.z), Math.max(leg.a.z, leg.b.z)];
    for (const storey of rows(this.doc.storeys)) {
      const fabric = this.fabrics.get(storey.id);
      const room = fabric === undefined ? null : roomAt(fabric, leg.a);
      if (room === null) continue;
      const levels = { floor: storey.level, ceiling: storey.level + storey.ceilingHeight };
      for (const kind of ['floor', 'ceiling'] as const) {
        const z = levels[kind];
        if (low <= z + AT_SURFACE && high >= z - AT_SURFACE) this.add(voidSurface(kind, storey.id, room.id));
      }
    }
  }

  place(place: Place): void {
    if (place.on === 'face') {
      const spot = spotOf(this.doc, this.fabrics, place);
      if (spot !== null) this.face(spot.storey, spot.face, spot.u, spot.u);
    } else if (place.on !== 'free') this.level(place.on, place.storey, place, place);
  }

  leg(leg: Leg): void {
    if (leg.kind === 'face' && leg.face !== null && leg.fa !== null && leg.fb !== null)
      this.face(leg.storey, leg.face, leg.fa.u, leg.fb.u);
    else if (leg.kind === 'through') this.through(leg);
    else if (leg.kind === 'ceiling' || leg.kind === 'floor') this.level(leg.kind, leg.storey, leg.a, leg.b);
    else if (leg.kind === 'riser') this.riser(leg);
  }
}

/**
 * The surfaces a run lies on, goes through or lies behind: never none. Behind: in the layer of a wall that both its
 * sides share, and in the void between a ceiling and the floor above it.
 */
export function surfacesOfRun(
  doc: PlanDocument,
  derived: Pick<Derived, 'fabrics' | 'runs'>,
  run: Run,
): readonly CoverSurface[] {
  const gathering = new Gathering(doc, derived.fabrics);
  const legs = derived.runs.get(run.id)?.legs ?? [];
  for (const { leg } of legs) gathering.leg(leg);
  const ends = [run.from, run.to].flatMap((id) => find(doc, 'points', id)?.place ?? []);
  for (const place of [...ends, ...run.corners]) gathering.place(place);
  if (gathering.found.size > 0) return [...gathering.found.values()];
  const held = [...ends, ...run.corners].find((place) => place.on !== 'face');
  const storey =
    legs[0]?.leg.storey ?? (held?.on === 'free' ? held.storey : undefined) ?? doc.storeys.order[0] ?? '';
  return [voidSurface('open', storey, null)];
}

import { spaceDistance } from '../geometry/vector.ts';
import type { Id, PlanDocument, Place, Run } from '../model/document.ts';
import { find, rows } from '../model/tables.ts';
import type { Mm, SpacePoint } from '../model/units.ts';
import { faceAt } from './lookup.ts';
import { COINCIDENT, LEVEL_ANGLE, LEVEL_TOLERANCE } from './tolerances.ts';
import type { Fabric, Face } from './types.ts';
import { placeInSpace } from './wallFrame.ts';

/** One stop of a run's way: `space` above the datum. A face place that lies in no face has `face` null. */
export interface Stop {
  readonly place: Place;
  readonly space: SpacePoint;
  readonly storey: Id;
  /** On the surface of a ceiling or floor, not in the void behind it. */
  readonly surface: boolean;
  readonly face: Face | null;
  readonly u: Mm;
  /** z above the storey's finished floor. */
  readonly z: Mm;
}

/** Two stops in a row, and the stretch of the drawn path (place i to i + 1) they belong to. */
export interface Step {
  readonly a: Stop;
  readonly b: Stop;
  readonly stretch: number;
}

/** [place of from, ...corners, place of to]; null for a parked end or a point that is not there. */
export function runPath(doc: PlanDocument, run: Run): readonly (Place | null)[] {
  const end = (id: Id | null): Place | null => find(doc, 'points', id)?.place ?? null;
  return [end(run.from), ...run.corners, end(run.to)];
}

/** The stop of a place; text when its wall or storey is missing. */
export function stopOf(
  doc: PlanDocument,
  fabrics: ReadonlyMap<Id, Fabric>,
  place: Place,
  role: 'point' | 'corner',
): Stop | string {
  const space = placeInSpace(doc, place, role);
  if (!space)
    return place.on === 'face' ? `wall ${place.wall} is missing` : `storey ${place.storey} is missing`;
  const surface = role === 'point' && (place.on === 'ceiling' || place.on === 'floor');
  if (place.on !== 'face') {
    const level = find(doc, 'storeys', place.storey)?.level ?? 0;
    return { place, space, storey: place.storey, surface, face: null, u: 0, z: space.z - level };
  }
  const storey = (find(doc, 'walls', place.wall) as { readonly storey: Id }).storey;
  const fabric = fabrics.get(storey);
  const hit = fabric ? faceAt(fabric, place.wall, place.side, place.along) : null;
  return { place, space, storey, surface: false, face: hit?.face ?? null, u: hit?.u ?? 0, z: place.z };
}

/**
 * The steps of a run from end to end, with the implied corners in the void over ceiling points and under floor points.
 * What cannot be placed is skipped, and said in `missing`.
 */
export function runSteps(
  doc: PlanDocument,
  fabrics: ReadonlyMap<Id, Fabric>,
  run: Run,
): { readonly steps: readonly Step[]; readonly missing: string | null } {
  const path = runPath(doc, run);
  const missing: string[] = [];
  const chain: (readonly Stop[] | null)[] = path.map((place, i) => {
    const last = path.length - 1;
    if (!place) {
      const id = i === 0 ? run.from : run.to;
      const which = i === 0 ? 'first' : 'second';
      missing.push(id === null ? `its ${which} end is on no point yet` : `point ${id} is missing`);
      return null;
    }
    const stop = stopOf(doc, fabrics, place, i === 0 || i === last ? 'point' : 'corner');
    if (typeof stop === 'string') {
      missing.push(stop);
      return null;
    }
    if (place.on === 'face' && !stop.face)
      missing.push(`a place on wall ${place.wall} lies inside another wall or beyond its end`);
    if (!stop.surface) return [stop];
    const inVoid = stopOf(doc, fabrics, place, 'corner') as Stop;
    return i === 0 ? [stop, inVoid] : [inVoid, stop];
  });
  const steps: Step[] = [];
  chain.forEach((stops, i) => {
    const stretch = Math.min(i, path.length - 2);
    const entry = stops?.[0];
    const before = i > 0 ? chain[i - 1] : null;
    const exit = before?.[before.length - 1];
    if (exit && entry) steps.push({ a: exit, b: entry, stretch: i - 1 });
    if (stops && stops.length > 1)
      steps.push({
        a: stops[0] as Stop,
        b: stops[1] as Stop,
        stretch: i === 0 ? 0 : Math.min(i - 1, stretch),
      });
  });
  return { steps, missing: missing.length > 0 ? missing.join('; ') : null };
}

/** Same place in the building, within 2 mm. */
export function coincide(a: SpacePoint, b: SpacePoint): boolean {
  return spaceDistance(a, b) <= COINCIDENT;
}

/** Level within 1 mm or 0.2°, whichever is larger. */
export function isLevel(a: SpacePoint, b: SpacePoint): boolean {
  const flat = Math.hypot(b.x - a.x, b.y - a.y);
  return Math.abs(b.z - a.z) <= Math.max(LEVEL_TOLERANCE, flat * Math.tan(LEVEL_ANGLE));
}

/** One over the other within 2 mm or 0.2°, whichever is larger. */
export function isPlumb(a: SpacePoint, b: SpacePoint): boolean {
  const rise = Math.abs(b.z - a.z);
  return Math.hypot(b.x - a.x, b.y - a.y) <= Math.max(COINCIDENT, rise * Math.tan(LEVEL_ANGLE));
}

/** True when the second storey comes next above the first, by level and then id. */
export function isNextAbove(doc: PlanDocument, below: Id, above: Id): boolean {
  const order = rows(doc.storeys).sort((a, b) => a.level - b.level || (a.id < b.id ? -1 : 1));
  const at = order.findIndex((s) => s.id === below);
  return at >= 0 && order[at + 1]?.id === above;
}

import { pointDistance, spaceDistance } from '../geometry/vector.ts';
import type { Id, PlanDocument, Run } from '../model/document.ts';
import { find } from '../model/tables.ts';
import type { FacePoint, Mm, SpacePoint } from '../model/units.ts';
import { acrossPartitions } from './across.ts';
import { facePlan, topAt } from './lookup.ts';
import { coincide, isLevel, isNextAbove, isPlumb, runSteps } from './path.ts';
import type { Step, Stop } from './path.ts';
import { COINCIDENT } from './tolerances.ts';
import type { Fabric, Face, FaceEnd, Leg, LegKind, ResolvedRun } from './types.ts';
import { standsOn } from './graph.ts';
import { wallFrame } from './wallFrame.ts';

type Part = Omit<Leg, 'stretch'>;

const NO_LENGTH: Mm = 1e-6;

/**
 * A run as legs in space, end to end: void corners over ceiling points and under floor points put in, plumb stretches
 * split at the top or foot of the wall, level stretches split at partitions. What fits no rule of the plan is `loose`
 * with its straight length. Space is above the job's datum; `fa`, `fb` above the storey's finished floor.
 */
export function resolveRun(doc: PlanDocument, fabrics: ReadonlyMap<Id, Fabric>, run: Run): ResolvedRun {
  const { steps, missing } = runSteps(doc, fabrics, run);
  const offset = cornerOffset(doc, run);
  const legs = steps.flatMap((step) =>
    partsOf(doc, fabrics, step, offset)
      .filter((part) => part.kind === 'corner' || part.length > NO_LENGTH)
      .map((part): Leg => ({ ...part, stretch: step.stretch })),
  );
  return { run: run.id, legs, missing };
}

/** How far from the angle a cable may be drawn to turn it: its depth in the wall, else half its width, and 2 mm. */
function cornerOffset(doc: PlanDocument, run: Run): Mm {
  return COINCIDENT + (run.depth ?? (find(doc, 'cables', run.cable)?.width ?? 0) / 2);
}

function partsOf(doc: PlanDocument, fabrics: ReadonlyMap<Id, Fabric>, step: Step, offset: Mm): Part[] {
  const { a, b } = step;
  if (a.face && b.face) return onFaces(doc, fabrics, a, b, offset);
  if (a.place.on === 'face' || b.place.on === 'face') {
    return plumbByWall(doc, a, b) ?? plumbByWall(doc, b, a)?.reverse().map(turned) ?? [loose(a, b)];
  }
  if (a.place.on === b.place.on && a.storey === b.storey && a.place.on !== 'free') {
    if (a.surface !== b.surface) return [straight('riser', a, b)];
    return [straight(a.place.on === 'ceiling' ? 'ceiling' : 'floor', a, b)];
  }
  return isPlumb(a.space, b.space) && joinsVoid(doc, a, b) ? [straight('riser', a, b)] : [loose(a, b)];
}

function part(kind: LegKind, storey: Id, a: SpacePoint, b: SpacePoint): Part {
  const length = spaceDistance(a, b);
  return { kind, storey, a, b, length, face: null, fa: null, fb: null, wall: null };
}

const straight = (kind: LegKind, a: Stop, b: Stop): Part => part(kind, a.storey, a.space, b.space);
const loose = (a: Stop, b: Stop): Part => straight('loose', a, b);
const turned = (p: Part): Part => ({ ...p, a: p.b, b: p.a, fa: p.fb, fb: p.fa });

/** A void meets what is plumb over or under it: a point of the same storey, or the void of the storey next to it. */
function joinsVoid(doc: PlanDocument, a: Stop, b: Stop): boolean {
  if (a.place.on === 'free' && b.place.on === 'free') return false;
  if (a.storey === b.storey) return a.place.on === 'free' || b.place.on === 'free';
  if (a.place.on === 'free' || b.place.on === 'free') return false;
  const [low, high] = a.place.on === 'ceiling' ? [a, b] : [b, a];
  return low.place.on === 'ceiling' && high.place.on === 'floor' && isNextAbove(doc, low.storey, high.storey);
}

function faceLeg(face: Face, stop: Stop, a: SpacePoint, b: SpacePoint, fa: FacePoint, fb: FacePoint): Part {
  const wall = stop.place.on === 'face' ? stop.place.wall : null;
  return { ...part('face', face.storey, a, b), face: face.id, fa, fb, wall };
}

function onFaces(doc: PlanDocument, fabrics: ReadonlyMap<Id, Fabric>, a: Stop, b: Stop, offset: Mm): Part[] {
  const fa = a.face as Face;
  const fb = b.face as Face;
  if (fa.id === fb.id && a.storey === b.storey)
    return [faceLeg(fa, a, a.space, b.space, { u: a.u, z: a.z }, { u: b.u, z: b.z })];
  if (a.storey !== b.storey) return betweenStoreys(doc, a, b) ?? [loose(a, b)];
  if (isLevel(a.space, b.space)) {
    if (Math.abs(a.z - b.z) <= COINCIDENT && atSharedAngle(a, b, offset))
      return [{ ...straight('corner', a, b), length: 0 }];
    const wall = behind(a, b);
    if (wall !== null && Math.abs(a.z - b.z) <= COINCIDENT) return [{ ...straight('through', a, b), wall }];
    const fabric = fabrics.get(a.storey) as Fabric;
    const hops = acrossPartitions(doc, fabric, { face: fa, u: a.u }, { face: fb, u: b.u });
    if (hops) return levelAlong(a, b, hops);
  }
  return [loose(a, b)];
}

/** Both places at the angle their two faces share. */
function atSharedAngle(a: Stop, b: Stop, offset: Mm): boolean {
  const fa = a.face as Face;
  const fb = b.face as Face;
  const near = (end: FaceEnd, other: Face, here: Mm, there: Mm): boolean =>
    end.next === other.id && end.kind !== 'free' && here <= offset && there <= offset;
  return near(fa.right, fb, fa.length - a.u, b.u) || near(fa.left, fb, a.u, fb.length - b.u);
}

/** The wall between two places on its two sides, when they are one behind the other; else null. */
function behind(a: Stop, b: Stop): Id | null {
  const face = a.face as Face;
  for (const o of face.opposite) {
    if (o.face !== b.face?.id || a.u < o.u0 - COINCIDENT || a.u > o.u1 + COINCIDENT) continue;
    const span = o.u1 - o.u0;
    const there = o.otherAtU0 + ((a.u - o.u0) / span) * (o.otherAtU1 - o.otherAtU0);
    if (Math.abs(there - b.u) <= COINCIDENT && a.place.on === 'face') return a.place.wall;
  }
  return null;
}

/** Face, through, face, ... between two level places of one surface line; z runs evenly if it is a hair off level. */
function levelAlong(a: Stop, b: Stop, hops: NonNullable<ReturnType<typeof acrossPartitions>>): Part[] {
  const whole = pointDistance(a.space, b.space);
  const at = (face: Face, u: Mm): { readonly space: SpacePoint; readonly spot: FacePoint } => {
    const p = facePlan(face, u);
    const t = whole > 0 ? pointDistance(a.space, p) / whole : 0;
    const space = { ...p, z: a.space.z + t * (b.space.z - a.space.z) };
    return { space, spot: { u, z: a.z + t * (b.z - a.z) } };
  };
  const parts: Part[] = [];
  hops.forEach((hop, i) => {
    const p = at(hop.face, hop.u0);
    const q = at(hop.face, hop.u1);
    const stop = i === hops.length - 1 ? b : a;
    const leg = faceLeg(hop.face, stop, p.space, q.space, p.spot, q.spot);
    parts.push(i === 0 ? { ...leg, a: a.space } : leg);
    const next = hops[i + 1];
    if (next) {
      const r = at(next.face, next.u0);
      const over = Math.min(q.spot.z, r.spot.z) > endTowards(hop.face, hop.u1).top;
      const kind = over ? 'over' : 'through';
      parts.push({ ...part(kind, a.storey, q.space, r.space), wall: over ? leg.wall : hop.crossed });
    }
  });
  return parts;
}

/** The end of a face that a place at one of its ends is at. */
const endTowards = (face: Face, u: Mm): FaceEnd => (u > face.length / 2 ? face.right : face.left);

/** From a place on a wall plumb up or down to a place in a void (or free in the room); null when it is not that. */
function plumbByWall(doc: PlanDocument, a: Stop, b: Stop): Part[] | null {
  if (!a.face || b.place.on === 'face' || a.place.on !== 'face') return null;
  if (!isPlumb(a.space, b.space) && !withinWall(doc, a, b.space)) return null;
  if (b.place.on === 'free')
    return a.storey === b.storey && coincide(a.space, b.space) ? [loose(a, b)] : null;
  const up = b.space.z > a.space.z;
  if (a.storey !== b.storey) {
    const ends = up ? b.place.on === 'floor' : b.place.on === 'ceiling';
    const adjoin = up ? isNextAbove(doc, a.storey, b.storey) : isNextAbove(doc, b.storey, a.storey);
    if (!ends || !adjoin) return null;
  } else if (up !== (b.place.on === 'ceiling')) return null;
  const [leg, space] = toWallEnd(a, b.space);
  return [leg, part('riser', a.storey, space, b.space)];
}

/** The face leg from a place plumb to the wall's top or foot (or to the target, if that comes first). */
function toWallEnd(a: Stop, target: SpacePoint): readonly [Part, SpacePoint] {
  const face = a.face as Face;
  const up = target.z > a.space.z;
  const goal = a.z + (target.z - a.space.z);
  const z = up ? Math.max(Math.min(topAt(face, a.u), goal), a.z) : Math.min(Math.max(0, goal), a.z);
  const space = { x: a.space.x, y: a.space.y, z: a.space.z + (z - a.z) };
  return [faceLeg(face, a, a.space, space, { u: a.u, z: a.z }, { u: a.u, z }), space];
}

/** Face of one storey, riser, face of the next: plumb from wall to wall through the floor between. */
function betweenStoreys(doc: PlanDocument, a: Stop, b: Stop): Part[] | null {
  if (!isPlumb(a.space, b.space)) return null;
  const up = b.space.z > a.space.z;
  if (!(up ? isNextAbove(doc, a.storey, b.storey) : isNextAbove(doc, b.storey, a.storey))) return null;
  const [first, leave] = toWallEnd(a, b.space);
  const [last, arrive] = toWallEnd(b, a.space);
  return [first, part('riser', a.storey, leave, arrive), turned(last)];
}

/** The void place stands over the body of the wall, beside the same `along`: drawn to its middle or its other side. */
function withinWall(doc: PlanDocument, a: Stop, p: SpacePoint): boolean {
  if (a.place.on !== 'face') return false;
  const wall = find(doc, 'walls', a.place.wall);
  const frame = wall ? wallFrame(doc, wall) : null;
  const along = frame ? standsOn(frame, p, COINCIDENT) : null;
  return along !== null && Math.abs(along - a.place.along) <= COINCIDENT;
}

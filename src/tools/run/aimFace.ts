import { aimed, endOn, voidRefusal, wayOf, type Aim, type Aiming } from './aimParts.ts';
import { guideMarks, guidesOf, nearestGuide, snapOnFace, type Guide } from './guides.ts';
import { behind, footOn, onFace, planOf, wayRound } from './places.ts';
import {
  reachOf,
  reachOnFace,
  reachOverToFace,
  reachRoundAngles,
  reachThrough,
  reachVoid,
  refuse,
  type Reach,
  type VoidKind,
} from './reach.ts';
import { roundStep } from '../snap.ts';
import { acrossPartitions } from '../../engine/fabric/across.ts';
import { facePlan, topAt } from '../../engine/fabric/lookup.ts';
import type { Fabric, Face } from '../../engine/fabric/types.ts';
import type { Place } from '../../engine/model/document.ts';
import type { FacePoint, Mm } from '../../engine/model/units.ts';
import type { Spot } from '../types.ts';

/** Past the top or the floor line by this much means: out of the wall, into the void. */
const OUT_MM: Mm = 40;
const OUT_PX = 6;

/** The run's last leg on a face was plumb: an elbow then carries on plumb first. */
function lastWasPlumb(fabric: Fabric, path: readonly Place[]): boolean {
  const b = path[path.length - 1];
  const a = path[path.length - 2];
  const to = b ? planOf(fabric, b) : null;
  const from = a ? planOf(fabric, a) : null;
  return to !== null && from !== null && Math.hypot(to.x - from.x, to.y - from.y) <= 2;
}

/** What a click on a wall of the band means: a point, a place on it, or the void above its top or under its foot. */
export function aimOnFace(aiming: Aiming, spot: Extract<Spot, { surface: 'face' }>): Aim | null {
  const { ctx, fabric, path, head, goal, grip } = aiming;
  const face = fabric.faces.get(spot.face);
  if (!face) return null;
  const reachMm = ctx.session.snapping ? ctx.tolerance / ctx.scale : 0;
  const step = roundStep(ctx.scale);
  const guides = guidesOf(ctx.doc, fabric, ctx.derived.zones.get(face.id) ?? [], face);
  const target = goal ? onFace(fabric, goal.place) : null;
  const out = Math.max(OUT_MM, OUT_PX / ctx.scale);
  const top = topAt(face, Math.min(face.length, Math.max(0, spot.at.u)));
  const leaves: VoidKind | null = spot.at.z > top + out ? 'ceiling' : spot.at.z < -out ? 'floor' : null;
  if (!target && leaves) return aimOut(aiming, face, spot.at, leaves, guides, reachMm);

  const entry = entryOn(aiming, face);
  const plumbFirst = lastWasPlumb(fabric, path) !== grip.flip;
  const overhead = head.face === null ? footOn(face, head.plan) : null;
  const above =
    overhead !== null && overhead.distance <= 60 && overhead.u >= -1 && overhead.u <= face.length + 1;
  let snap = snapOnFace(entry, spot.at, guides, reachMm, grip.free || entry === null, step);
  if (above && Math.abs(spot.at.u - overhead.u) <= Math.abs(top - spot.at.z)) {
    const drop = snapOnFace(
      { u: overhead.u, z: top },
      { u: overhead.u, z: spot.at.z },
      guides,
      reachMm,
      false,
      step,
    );
    snap = { ...drop, held: drop.held };
  }
  const at: FacePoint = target
    ? target.at
    : { u: Math.min(face.length, Math.max(0, snap.at.u)), z: snap.at.z };
  const reach = reachFace(aiming, face, at, plumbFirst);
  const held = target ? [] : snap.held;
  const faces = new Map([[face.id, guideMarks(face, at, held)]]);
  if (goal && target) return { ...endOn(reach, goal, face), faces };
  return aimed({ ...reach, reasons: [...reach.reasons, ...held.map((g) => g.why)] }, null, face, { faces });
}

/** Where the run comes onto a face: its own place there, or the angle or wall behind it comes in by. */
function entryOn({ ctx, fabric, head }: Aiming, face: Face): FacePoint | null {
  const on = head.face;
  if (on === null) return null;
  if (on.face.id === face.id) return on.at;
  const other = behind(fabric, on.face, on.at);
  if (other?.face.id === face.id) return other.at;
  if (acrossPartitions(ctx.doc, fabric, { face: on.face, u: on.at.u }, { face, u: 0 })) {
    const foot = footOn(face, head.plan);
    return { u: Math.min(face.length, Math.max(0, foot.u)), z: on.at.z };
  }
  const way = wayRound(fabric, on.face, face.id, on.at.u, 0);
  return way ? { u: way.right ? 0 : face.length, z: on.at.z } : null;
}

/** The ways to a place on a face, most direct first: along it, through the wall, round angles, over the void. */
function reachFace(aiming: Aiming, face: Face, at: FacePoint, plumbFirst: boolean): Reach {
  const { ctx, fabric, head, grip } = aiming;
  const on = head.face;
  if (on) {
    if (on.face.id === face.id) return reachOnFace(face, on.at, at, grip.free, plumbFirst);
    const through = reachThrough(fabric, on);
    if (through && through.to.face.id === face.id) {
      const rest = reachOnFace(face, through.to.at, at, grip.free, plumbFirst);
      return reachOf([...through.reach.places, ...rest.places], 'through the wall', ...rest.reasons);
    }
    if (acrossPartitions(ctx.doc, fabric, { face: on.face, u: on.at.u }, { face, u: at.u })) {
      const rest = reachOnFace(face, { u: footOn(face, head.plan).u, z: on.at.z }, at, false, false);
      return reachOf(rest.places, 'through the partition');
    }
    const round = reachRoundAngles(fabric, on, face, at, plumbFirst);
    if (round) return round;
  }
  const kind = head.void ?? ctx.session.choices.void;
  const solid = voidRefusal(ctx, fabric, kind);
  if (solid) return refuse(solid);
  return reachOverToFace(fabric, head, face, at, wayOf(aiming, kind));
}

/** Up into the ceiling void or down under the floor: plumb from where the run is, or along above this wall. */
function aimOut(
  aiming: Aiming,
  face: Face,
  cursor: FacePoint,
  kind: VoidKind,
  guides: readonly Guide[],
  reachMm: Mm,
): Aim {
  const { ctx, fabric, head } = aiming;
  const solid = voidRefusal(ctx, fabric, kind);
  if (solid) return aimed(refuse(solid), null, face);
  if (head.void !== null && head.void !== kind) {
    return aimed(
      refuse('From one void to the other a run goes by a wall: click on the wall first.'),
      null,
      face,
    );
  }
  const way = wayOf(aiming, kind);
  const words = kind === 'ceiling' ? 'up to the ceiling' : 'down under the floor';
  if (head.face?.face.id === face.id)
    return aimed({ ...reachVoid(fabric, head, head.plan, way), reasons: [words] }, null, face);
  const u = Math.min(face.length, Math.max(0, cursor.u));
  const guide = nearestGuide(guides, 'u', u, reachMm);
  const reach = reachVoid(fabric, head, facePlan(face, guide?.value ?? u), way);
  return aimed(
    {
      ...reach,
      reasons: [kind === 'ceiling' ? 'above the wall' : 'under the wall', ...(guide ? [guide.why] : [])],
    },
    null,
    face,
    {
      faces: new Map([
        [face.id, guideMarks(face, { u: guide?.value ?? u, z: cursor.z }, guide ? [guide] : [])],
      ]),
    },
  );
}

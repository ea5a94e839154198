import { figure, metres } from './captions.ts';
import { text, type FaceMark, type LineLook } from './marks.ts';
import type { Face, Leg } from '../../engine/fabric/types.ts';
import type { Id, PlanDocument } from '../../engine/model/document.ts';
import type { FacePoint, Mm } from '../../engine/model/units.ts';
import type { Answer, LegCheck, RunCheck } from '../../engine/zones/types.ts';

const LOOKS: Readonly<Record<Answer, LineLook>> = {
  inside: 'leg-inside',
  outside: 'leg-outside',
  disputed: 'leg-disputed',
  'not-checked': 'leg-not-checked',
};

/** Height of the stub that shows a run leaving a face upwards or downwards, mm. */
const STUB: Mm = 150;

const along = (a: FacePoint, b: FacePoint, t: number): FacePoint => ({
  u: a.u + (b.u - a.u) * t,
  z: a.z + (b.z - a.z) * t,
});

/** A leg's ends on this face, seen from this side; null when it is not in the wall of this face. */
export function legOnFace(face: Face, leg: Leg): { a: FacePoint; b: FacePoint; far: boolean } | null {
  if (leg.kind !== 'face' || leg.fa === null || leg.fb === null) return null;
  if (leg.face === face.id) return { a: leg.fa, b: leg.fb, far: false };
  for (const o of face.opposite) {
    if (o.face !== leg.face) continue;
    // The other face runs the other way: what lies at v there lies at u0 + (otherAtU0 - v) here.
    const ua = o.u0 + (o.otherAtU0 - leg.fa.u);
    const ub = o.u0 + (o.otherAtU0 - leg.fb.u);
    if (Math.max(ua, ub) < o.u0 || Math.min(ua, ub) > o.u1) continue;
    const clamp = (u: Mm): Mm => Math.min(o.u1, Math.max(o.u0, u));
    return { a: { u: clamp(ua), z: leg.fa.z }, b: { u: clamp(ub), z: leg.fb.z }, far: true };
  }
  return null;
}

function stretchMarks(check: LegCheck, a: FacePoint, b: FacePoint): FaceMark[] {
  const marks: FaceMark[] = [];
  const plumb = Math.abs(b.z - a.z) > Math.abs(b.u - a.u);
  const where = plumb ? { beside: true } : { lift: -13 };
  const pieces =
    check.stretches.length > 0 ? check.stretches : [{ t0: 0, t1: 1, answer: check.answer, outsideMm: 0 }];
  for (const s of pieces) {
    marks.push({ kind: 'line', look: LOOKS[s.answer], points: [along(a, b, s.t0), along(a, b, s.t1)] });
    const middle = along(a, b, (s.t0 + s.t1) / 2);
    if (s.answer === 'outside') marks.push(text(middle, `${figure(s.outsideMm)} mm out`, 'out', where));
    if (s.answer === 'disputed') marks.push(text(middle, '?', 'disputed', where));
  }
  if (check.offLevel > 0) {
    const degrees = ((check.offLevel * 180) / Math.PI).toFixed(1);
    marks.push(text(along(a, b, 0.6), `not level or plumb, ${degrees}° off`, 'out', where));
  }
  return marks;
}

/** Where a run leaves this face: up or down into a void (a stub with its way), or through the wall (a ring). */
function leavings(legs: readonly LegCheck[], index: number, a: FacePoint, b: FacePoint): FaceMark[] {
  const marks: FaceMark[] = [];
  for (const [at, other] of [
    [a, legs[index - 1]],
    [b, legs[index + 1]],
  ] as const) {
    if (!other) continue;
    if (other.leg.kind === 'through') marks.push({ kind: 'hole', at });
    if (other.leg.kind !== 'riser') continue;
    const own = (legs[index] as LegCheck).leg;
    const up = Math.max(other.leg.a.z, other.leg.b.z) > Math.max(own.a.z, own.b.z);
    marks.push({ kind: 'line', look: 'riser', points: [at, { u: at.u, z: at.z + (up ? STUB : -STUB) }] });
  }
  return marks;
}

/** Legs of one run on one face: the run's own, coloured by answer, or those of the other side, thin. */
export function legMarks(run: RunCheck, face: Face): FaceMark[] {
  return run.legs.flatMap((check, i) => {
    const on = legOnFace(face, check.leg);
    if (!on) return [];
    if (on.far) return [{ kind: 'line', look: 'leg-far', points: [on.a, on.b] } satisfies FaceMark];
    return [...stretchMarks(check, on.a, on.b), ...leavings(run.legs, i, on.a, on.b)];
  });
}

/** The run's label and the length on its level legs; plumb legs carry theirs upright. */
export function legTexts(doc: PlanDocument, run: RunCheck, face: Face): FaceMark[] {
  const label = doc.runs.byId[run.run]?.label ?? '';
  let longest: { leg: Leg; length: Mm } | null = null;
  for (const { leg } of run.legs) {
    if (leg.face === face.id && (longest === null || leg.length > longest.length))
      longest = { leg, length: leg.length };
  }
  return run.legs.flatMap(({ leg }): FaceMark[] => {
    if (leg.face !== face.id || leg.fa === null || leg.fb === null || leg.length < 1) return [];
    const named = leg === longest?.leg ? `${label} ` : '';
    const level = Math.abs(leg.fb.z - leg.fa.z) < Math.abs(leg.fb.u - leg.fa.u);
    if (!level && named === '') return [];
    const words = level ? `${named}${metres(leg.length)}` : named.trim();
    return [
      text(along(leg.fa, leg.fb, 0.5), words, 'length', { lift: 9, upright: !level, room: leg.length }),
    ];
  });
}

/** Runs that have a leg on this face or in the wall behind it. */
export function runsOnFace(runs: ReadonlyMap<Id, RunCheck>, face: Face): RunCheck[] {
  return [...runs.values()].filter((run) => run.legs.some((check) => legOnFace(face, check.leg) !== null));
}

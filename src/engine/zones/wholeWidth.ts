import type { Face, FaceOpening } from '../fabric/types.ts';
import { intervalGaps, intervalUnion, type Interval } from '../geometry/interval.ts';
import type { FacePoint, Mm } from '../model/units.ts';
import { clipSegment, intersection, rectangle, ROUNDING, type Convex } from './convex.ts';
import { onFace } from './faceOutline.ts';
import type { Area } from './surfaces.ts';
import type { Stretch } from './types.ts';

/** A leg with the cable's half width square to it, mm, and the unit vector square to it. */
export interface WideLeg {
  readonly fa: FacePoint;
  readonly fb: FacePoint;
  readonly half: Mm;
  readonly square: FacePoint;
}

/** Half the width to each side of a leg; null for a cable of no width or a leg of no length. */
export function wideLeg(fa: FacePoint, fb: FacePoint, width: Mm): WideLeg | null {
  const [du, dz] = [fb.u - fa.u, fb.z - fa.z];
  const length = Math.hypot(du, dz);
  if (width <= 0 || length <= ROUNDING) return null;
  return { fa, fb, half: width / 2, square: { u: -dz / length, z: du / length } };
}

const off = ({ u, z }: FacePoint, { square }: WideLeg, by: Mm): FacePoint => ({
  u: u + square.u * by,
  z: z + square.z * by,
});

/** The line of one edge of the cable. */
const edge = (leg: WideLeg, by: Mm): readonly [FacePoint, FacePoint] => [
  off(leg.fa, leg, by),
  off(leg.fb, leg, by),
];

/** What of the section across the cable at t lies in some areas, in mm from its first edge to its other. */
function across(leg: WideLeg, t: number, areas: readonly Convex[]): Interval[] {
  const at = { u: leg.fa.u + (leg.fb.u - leg.fa.u) * t, z: leg.fa.z + (leg.fb.z - leg.fa.z) * t };
  const [a, b] = [off(at, leg, -leg.half), off(at, leg, leg.half)];
  const width = leg.half * 2;
  const held = areas.flatMap((area) => {
    const inside = clipSegment(a, b, area, ROUNDING);
    return inside === null ? [] : [{ lo: inside.t0 * width, hi: inside.t1 * width }];
  });
  return intervalUnion(held, ROUNDING);
}

/** How far the cable's edges are out of the areas at t, as far as the face goes; 0 when all of its width is in. */
function edgeOut(leg: WideLeg, t: number, face: readonly Convex[], areas: readonly Convex[]): Mm {
  const held = across(leg, t, areas);
  let most: Mm = 0;
  for (const part of across(leg, t, face)) {
    for (const gap of intervalGaps(part, held, ROUNDING)) {
      const between = gap.lo > part.lo + ROUNDING && gap.hi < part.hi - ROUNDING;
      most = Math.max(most, between ? (gap.hi - gap.lo) / 2 : gap.hi - gap.lo);
    }
  }
  return most;
}

/** Where what lies across the cable changes: areas met by its edges, and corners it passes. Exact but for slanting legs. */
function changesAlong(leg: WideLeg, areas: readonly Convex[], t0: number, t1: number): number[] {
  const [du, dz] = [leg.fb.u - leg.fa.u, leg.fb.z - leg.fa.z];
  const square = du * du + dz * dz;
  const ts = areas.flatMap((area) => {
    const cuts = [-leg.half, leg.half].flatMap((by) => {
      const cut = clipSegment(...edge(leg, by), area, ROUNDING);
      return cut === null ? [] : [cut.t0, cut.t1];
    });
    const corners = area.outline.map((p) => ((p.u - leg.fa.u) * du + (p.z - leg.fa.z) * dz) / square);
    return [...cuts, ...corners];
  });
  const inner = [...new Set(ts)].filter((t) => t > t0 && t < t1).sort((a, b) => a - b);
  return [t0, ...inner, t1];
}

const tenth = (mm: Mm): string => String(Math.round(mm * 10) / 10);

/** A cable wholly in one permitted area of each surface needs no more looking at. */
function plainlyIn(leg: WideLeg, areas: readonly Convex[]): boolean {
  return areas.some((area) =>
    [-leg.half, leg.half].every((by) => {
      const cut = clipSegment(...edge(leg, by), area, ROUNDING);
      return cut !== null && cut.t0 === 0 && cut.t1 === 1;
    }),
  );
}

/**
 * Stretches told inside by their centre line, held to the whole width of the cable: where the centre is in and an edge
 * is out, as seen from either surface, the answer is disputed, with its mm. No clause says which line of a cable counts.
 */
export function withWholeWidth(
  face: Face,
  leg: WideLeg,
  surfaces: { readonly near: readonly Area[]; readonly far: readonly Area[] },
  stretches: readonly Stretch[],
  length: Mm,
): Stretch[] {
  const permitted = { near: inOf(surfaces.near), far: inOf(surfaces.far) };
  if (plainlyIn(leg, permitted.near) && plainlyIn(leg, permitted.far)) return [...stretches];
  const outline = onFace(face, 0, face.length, 0, Infinity);
  return stretches.flatMap((stretch) => {
    if (stretch.answer !== 'inside') return [stretch];
    const ts = changesAlong(leg, [...permitted.near, ...permitted.far], stretch.t0, stretch.t1);
    const parts: { t0: number; t1: number; near: Mm; far: Mm }[] = [];
    for (let i = 1; i < ts.length; i++) {
      const [t0, t1] = [ts[i - 1] as number, ts[i] as number];
      if ((t1 - t0) * length <= ROUNDING && ts.length > 2) continue;
      const middle = (t0 + t1) / 2;
      const near = edgeOut(leg, middle, outline, permitted.near);
      const far = edgeOut(leg, middle, outline, permitted.far);
      const before = parts.at(-1);
      if (before && Math.max(before.near, before.far) > 0 === Math.max(near, far) > 0) {
        parts[parts.length - 1] = {
          t0: before.t0,
          t1,
          near: Math.max(before.near, near),
          far: Math.max(before.far, far),
        };
      } else parts.push({ t0: before?.t1 ?? stretch.t0, t1, near, far });
    }
    const last = parts.at(-1);
    if (last) last.t1 = stretch.t1;
    return parts.map(({ t0, t1, near, far }): Stretch => {
      const part = { ...stretch, t0, t1, length: (t1 - t0) * length };
      const out = Math.max(near, far);
      if (out === 0) return part;
      const seen = far > near ? ' as seen from the face behind' : '';
      return {
        ...part,
        answer: 'disputed',
        surface: far > near ? 'far' : 'near',
        why: `Its centre is in a permitted zone, but an edge of the cable is ${tenth(out)} mm out of it${seen}: no clause says which counts.`,
      };
    });
  });
}

const inOf = (areas: readonly Area[]): Area[] => areas.filter((a) => a.status === 'permitted');

/** How far an edge of the cable reaches into an opening that its centre passes by, and where; null when it does not. */
export function edgeInOpening(
  leg: WideLeg,
  o: FaceOpening,
): { readonly t0: number; readonly t1: number; readonly mm: Mm } | null {
  const shape = rectangle(o.u0, o.u1, o.z0, o.z1);
  for (const sign of [-1, 1]) {
    const cut = clipSegment(...edge(leg, sign * leg.half), shape, -ROUNDING);
    if (cut === null) continue;
    const inside = across(leg, (cut.t0 + cut.t1) / 2, [shape]);
    const mm = inside.reduce((sum, i) => sum + i.hi - i.lo, 0);
    if (mm > 2 * ROUNDING) return { ...cut, mm };
  }
  return null;
}

/** An area with the half width of a cable kept clear of its bounds across a level (z) or plumb (u) line. */
export function keptClear(area: Convex, face: Face, along: 'level' | 'plumb', half: Mm): Convex | null {
  const top = Math.max(...face.top.map((p) => p.z));
  if (along === 'level') {
    const z0 = area.z0 <= ROUNDING ? area.z0 : area.z0 + half;
    const z1 = area.z1 >= top - ROUNDING ? area.z1 : area.z1 - half;
    return z1 < z0 ? null : shrunk(area, area.u0, area.u1, z0, z1);
  }
  const u0 = area.u0 <= ROUNDING ? area.u0 : area.u0 + half;
  const u1 = area.u1 >= face.length - ROUNDING ? area.u1 : area.u1 - half;
  return u1 < u0 ? null : shrunk(area, u0, u1, area.z0, area.z1);
}

function shrunk(area: Convex, u0: Mm, u1: Mm, z0: Mm, z1: Mm): Convex | null {
  const box = area.outline.every(
    (p) => (p.u === area.u0 || p.u === area.u1) && (p.z === area.z0 || p.z === area.z1),
  );
  return box ? rectangle(u0, u1, z0, z1) : intersection(area, rectangle(u0, u1, z0, z1));
}

import type { Face } from '../fabric/types.ts';
import type { FacePoint, Mm } from '../model/units.ts';
import { clipToLeft, rectangle, ROUNDING, type Convex } from './convex.ts';

/** A straight stretch of the top of a face. */
export interface TopStretch {
  readonly p: FacePoint;
  readonly q: FacePoint;
  readonly level: boolean;
}

// Faces never change, and their tops are asked for again with every leg.
const tops = new WeakMap<Face, readonly TopStretch[]>();

/** The top of a face as straight stretches, u rising; level neighbours of one height are one stretch. */
export function topStretches(face: Face): readonly TopStretch[] {
  let known = tops.get(face);
  if (known === undefined) {
    known = stretchesOf(face);
    tops.set(face, known);
  }
  return known;
}

function stretchesOf(face: Face): TopStretch[] {
  const found: TopStretch[] = [];
  for (let i = 1; i < face.top.length; i++) {
    const p = face.top[i - 1] as FacePoint;
    const q = face.top[i] as FacePoint;
    if (q.u - p.u <= ROUNDING) continue;
    const level = Math.abs(q.z - p.z) <= ROUNDING;
    const before = found.at(-1);
    if (before?.level && level && Math.abs(before.q.z - p.z) <= ROUNDING) {
      found[found.length - 1] = { ...before, q };
    } else {
      found.push({ p, q, level });
    }
  }
  return found;
}

/** The rectangle u0..u1, z0..z1 as far as it lies on the face: one convex piece per straight stretch of the top it reaches. */
export function onFace(face: Face, u0: Mm, u1: Mm, z0: Mm, z1: Mm): Convex[] {
  const [left, right, floor] = [Math.max(u0, 0), Math.min(u1, face.length), Math.max(z0, 0)];
  if (right - left <= ROUNDING || z1 - floor <= ROUNDING) return [];
  const tops = topStretches(face).filter((s) => s.q.u > left && s.p.u < right);
  const clear = tops.every((s) => Math.min(s.p.z, s.q.z) >= z1);
  if (clear) return tops.length === 0 ? [] : [rectangle(left, right, floor, z1)];
  return tops.flatMap((s) => {
    const from = Math.max(left, s.p.u);
    const to = Math.min(right, s.q.u);
    const ceiling = Math.min(z1, Math.max(s.p.z, s.q.z));
    if (to - from <= ROUNDING || ceiling - floor <= ROUNDING) return [];
    const piece = rectangle(from, to, floor, ceiling);
    // Seen from q to p the face lies on the left of its top.
    const kept = s.level ? piece : clipToLeft(piece, s.q, s.p);
    return kept === null ? [] : [kept];
  });
}

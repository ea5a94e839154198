import type { FacePoint, Mm } from '../model/units.ts';
import { clipSegment, ROUNDING, type Convex } from './convex.ts';

/** A move of a whole leg square to itself, mm: right or up is positive. */
export interface Shift {
  readonly along: 'u' | 'z';
  readonly by: Mm;
}

const covers = (fa: FacePoint, fb: FacePoint, legal: readonly Convex[], length: Mm): boolean => {
  const cuts = legal.flatMap((area) => clipSegment(fa, fb, area, ROUNDING) ?? []).sort((a, b) => a.t0 - b.t0);
  let reached = 0;
  for (const { t0, t1 } of cuts) {
    if ((t0 - reached) * length > ROUNDING) return false;
    reached = Math.max(reached, t1);
  }
  return (1 - reached) * length <= ROUNDING;
};

/**
 * The least sideways move that puts the whole of a level or plumb leg into the legal areas; null when none does, or the
 * leg is neither. Only the edges of areas need be tried: between two of them the answer does not change.
 */
export function parallelShift(fa: FacePoint, fb: FacePoint, legal: readonly Convex[]): Shift | null {
  const [du, dz] = [Math.abs(fb.u - fa.u), Math.abs(fb.z - fa.z)];
  if (Math.min(du, dz) > 1 || du === dz) return null;
  const along = du > dz ? 'z' : 'u';
  const length = Math.max(du, dz);
  const here = fa[along];
  const edges = legal.flatMap((a) => (along === 'z' ? [a.z0, a.z1] : [a.u0, a.u1]));
  const moves = [...new Set(edges.map((e) => e - here))].sort((a, b) => Math.abs(a) - Math.abs(b) || a - b);
  for (const by of moves) {
    const at = (p: FacePoint): FacePoint => ({ ...p, [along]: here + by });
    if (covers(at(fa), at(fb), legal, length)) return { along, by };
  }
  return null;
}

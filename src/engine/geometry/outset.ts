import type { Mm, PlanPoint } from '../model/units.ts';
import { polygonArea } from './polygon.ts';

/** Sides within this of one line (sine of their angle) have no corner of their own. */
const IN_LINE = 1e-6;

/**
 * An outline with side i (from corner i to the next) moved outwards by `by[i]` mm, corners where the moved sides meet. Where two
 * sides lie in one line the corner moves straight out, by the mean of both.
 */
export function outset(corners: readonly PlanPoint[], by: readonly Mm[]): PlanPoint[] {
  // Positive where the outline goes round clockwise, y down: outwards is then on the left.
  const way = polygonArea(corners) >= 0 ? 1 : -1;
  const n = corners.length;
  const sides = corners.map((a, i) => {
    const b = corners[(i + 1) % n] as PlanPoint;
    const length = Math.hypot(b.x - a.x, b.y - a.y);
    const d = { x: (b.x - a.x) / length, y: (b.y - a.y) / length };
    const out = { x: way * d.y, y: -way * d.x };
    const off = by[i] as Mm;
    return { d, out, off, at: { x: a.x + out.x * off, y: a.y + out.y * off } };
  });
  return corners.map((corner, i) => {
    const before = sides[(i + n - 1) % n];
    const side = sides[i];
    if (!before || !side) return corner;
    const cross = before.d.x * side.d.y - before.d.y * side.d.x;
    if (Math.abs(cross) < IN_LINE) {
      const off = (before.off + side.off) / 2;
      return { x: corner.x + side.out.x * off, y: corner.y + side.out.y * off };
    }
    const t = ((side.at.x - before.at.x) * side.d.y - (side.at.y - before.at.y) * side.d.x) / cross;
    return { x: before.at.x + before.d.x * t, y: before.at.y + before.d.y * t };
  });
}

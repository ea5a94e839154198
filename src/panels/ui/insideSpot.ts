import type { Room } from '../../engine/fabric/types.ts';
import type { Mm, PlanPoint } from '../../engine/model/units.ts';

/**
 * A spot well inside a room for its name: the middle of the widest level stretch of the outline (holes taken away)
 * among a few heights. Exact crossings; no tolerance needed, since the heights lie between corners.
 */
export function insideSpot(room: Pick<Room, 'outline' | 'holes'>): PlanPoint {
  const heights = [...new Set(room.outline.map((corner) => corner.y))].sort((a, b) => a - b);
  let best: { at: PlanPoint; width: Mm } | null = null;
  for (let i = 0; i + 1 < heights.length; i++) {
    const y = ((heights[i] ?? 0) + (heights[i + 1] ?? 0)) / 2;
    const crossings = [room.outline, ...room.holes]
      .flatMap((loop) => crossingsAt(loop, y))
      .sort((a, b) => a - b);
    for (let k = 0; k + 1 < crossings.length; k += 2) {
      const left = crossings[k] ?? 0;
      const right = crossings[k + 1] ?? 0;
      const height = (heights[i + 1] ?? 0) - (heights[i] ?? 0);
      const width = Math.min(right - left, height * 4);
      if (!best || width > best.width) best = { at: { x: (left + right) / 2, y }, width };
    }
  }
  return best?.at ?? room.outline[0] ?? { x: 0, y: 0 };
}

function crossingsAt(loop: readonly PlanPoint[], y: Mm): number[] {
  const found: number[] = [];
  for (let i = 0; i < loop.length; i++) {
    const a = loop[i];
    const b = loop[(i + 1) % loop.length];
    if (a && b && a.y < y !== b.y < y) found.push(a.x + ((y - a.y) / (b.y - a.y)) * (b.x - a.x));
  }
  return found;
}

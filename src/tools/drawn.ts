import { planToTracing, tracingToPlan } from '../engine/geometry/tracing.ts';
import { segmentNearest } from '../engine/geometry/segment.ts';
import type { StoreyTracing } from '../engine/model/tracing.ts';
import type { Mm, PlanPoint } from '../engine/model/units.ts';
import type { DrawingSource } from './drawings.ts';

/** A straight line of a tracing, where it lies on the plan. */
export interface DrawnStroke {
  readonly a: PlanPoint;
  readonly b: PlanPoint;
}

/** Lines looked at round a pointer: hatching may have thousands there, and the nearest are the ones meant. */
const MOST = 40;

/** The lines of the visible tracings within `reach` of a place, the nearest first, at most forty. */
export function drawnNear(
  drawings: DrawingSource | undefined,
  tracings: readonly StoreyTracing[],
  p: PlanPoint,
  reach: Mm,
): DrawnStroke[] {
  const found: { stroke: DrawnStroke; far: Mm }[] = [];
  for (const tracing of tracings) {
    const { source, visible } = tracing;
    if (!visible || source.kind === 'picture') continue;
    const lines = drawings?.lines(source);
    if (!lines) continue;
    const at = planToTracing(tracing, p);
    const by = reach / tracing.scale.mmPerUnit;
    const { segments } = lines;
    for (const i of lines.near({ x0: at.x - by, y0: at.y - by, x1: at.x + by, y1: at.y + by })) {
      const [ax, ay, bx, by_] = segments.subarray(4 * i, 4 * i + 4) as unknown as [
        number,
        number,
        number,
        number,
      ];
      const stroke = {
        a: tracingToPlan(tracing, { x: ax, y: ay }),
        b: tracingToPlan(tracing, { x: bx, y: by_ }),
      };
      const far = segmentNearest(p, stroke.a, stroke.b).distance;
      if (far <= reach) found.push({ stroke, far });
    }
  }
  return found
    .sort((a, b) => a.far - b.far)
    .slice(0, MOST)
    .map((each) => each.stroke);
}

import type { StoreyTracing } from '../model/tracing.ts';
import type { PlanPoint } from '../model/units.ts';

/** A place of a tracing in the unit of its source, x right and y down from its top left corner. */
export interface SourcePoint {
  readonly x: number;
  readonly y: number;
}

/** Plan place of a spot of the tracing, mm. */
export function tracingToPlan({ lies, scale }: StoreyTracing, p: SourcePoint): PlanPoint {
  const [cos, sin] = [Math.cos(lies.rotation), Math.sin(lies.rotation)];
  const [dx, dy] = [p.x * scale.mmPerUnit, p.y * scale.mmPerUnit];
  return { x: lies.x + dx * cos - dy * sin, y: lies.y + dx * sin + dy * cos };
}

/** Spot of the tracing under a plan place. */
export function planToTracing({ lies, scale }: StoreyTracing, p: PlanPoint): SourcePoint {
  const [cos, sin] = [Math.cos(lies.rotation), Math.sin(lies.rotation)];
  const [dx, dy] = [p.x - lies.x, p.y - lies.y];
  return { x: (dx * cos + dy * sin) / scale.mmPerUnit, y: (-dx * sin + dy * cos) / scale.mmPerUnit };
}

/** Its four corners on the plan, from the top left one, clockwise as it is read. */
export function tracingCorners(tracing: StoreyTracing): readonly PlanPoint[] {
  const { width, height } = tracing.source;
  return [
    { x: 0, y: 0 },
    { x: width, y: 0 },
    { x: width, y: height },
    { x: 0, y: height },
  ].map((corner) => tracingToPlan(tracing, corner));
}

import { tracingToPlan } from '../../engine/geometry/tracing.ts';
import type { StoreyTracing } from '../../engine/model/tracing.ts';
import type { ProposedWall } from '../../engine/model/proposedWall.ts';
import type { PlanPoint } from '../../engine/model/units.ts';
import { LINE_RULES, type Stroke } from '../../io/proposals/types.ts';
import { outlineWalls, wallsFromStrokes } from '../../io/proposals/walls.ts';
import type { DrawnLines } from '../../tools/drawings.ts';

/** Shorter lines are hatching, text and curves: no face of a wall. */
const SHORTEST = 40;
/** Beyond so many lines the search would hold the page. Own choice. */
const MOST = 60_000;

/** Walls that the lines of a tracing seem to show, on the plan; a sentence where they are too many to look through. */
export function wallsOfLines(tracing: StoreyTracing, lines: DrawnLines): readonly ProposedWall[] | string {
  const strokes: Stroke[] = [];
  const loops: PlanPoint[][] = [];
  let loop: PlanPoint[] = [];
  const { segments } = lines;
  for (let i = 0; i < segments.length; i += 4) {
    const [ax, ay, bx, by] = segments.subarray(i, i + 4) as unknown as [number, number, number, number];
    const a = tracingToPlan(tracing, { x: ax, y: ay });
    const b = tracingToPlan(tracing, { x: bx, y: by });
    if (Math.hypot(b.x - a.x, b.y - a.y) >= SHORTEST) strokes.push({ a, b });
    // Lines that follow one another from end to end and come back to their start bound something.
    const last = loop.at(-1);
    if (!last || Math.hypot(last.x - a.x, last.y - a.y) > 1) loop = [a];
    loop.push(b);
    const first = loop[0] as PlanPoint;
    if (loop.length > 3 && Math.hypot(b.x - first.x, b.y - first.y) <= 1) {
      loops.push(loop.slice(0, -1));
      loop = [];
    }
  }
  if (strokes.length > MOST)
    return 'There are too many lines to look through. Show only the layer with the walls.';
  const found = wallsFromStrokes(strokes, LINE_RULES);
  return [...found, ...outlineWalls(loops, found, LINE_RULES)];
}

import type { Mm, PlanPoint } from '../../engine/model/units.ts';
import type { LineDrawing } from '../lineDrawing.ts';
import type { Stroke } from './types.ts';

/** The straight pieces of a drawing on the chosen layers, in mm from its origin, and its closed outlines. */
export function strokesOf(
  drawing: LineDrawing,
  mmPerUnit: Mm,
  layers: ReadonlySet<string>,
): { readonly strokes: Stroke[]; readonly outlines: PlanPoint[][] } {
  const strokes: Stroke[] = [];
  const outlines: PlanPoint[][] = [];
  const chosen = drawing.layers.map((l) => layers.has(l.name));
  for (let i = 0; i + 1 < drawing.starts.length; i++) {
    if (!chosen[drawing.pathLayers[i] as number]) continue;
    const spots: PlanPoint[] = [];
    for (let k = drawing.starts[i] as number; k < (drawing.starts[i + 1] as number); k++)
      spots.push({
        x: (drawing.coords[2 * k] as number) * mmPerUnit,
        y: (drawing.coords[2 * k + 1] as number) * mmPerUnit,
      });
    for (let k = 1; k < spots.length; k++)
      strokes.push({ a: spots[k - 1] as PlanPoint, b: spots[k] as PlanPoint });
    if (!drawing.closed[i] || spots.length < 3) continue;
    strokes.push({ a: spots.at(-1) as PlanPoint, b: spots[0] as PlanPoint });
    outlines.push(spots);
  }
  return { strokes, outlines };
}

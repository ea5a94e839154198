import type { SourceBox } from '../../engine/model/tracing.ts';
import type { LineDrawing } from '../../io/lineDrawing.ts';
import type { DrawnLines } from '../../tools/drawings.ts';
import { boxIndex, type BoxIndex } from '../../tools/boxIndex.ts';

/**
 * The straight lines of a drawing within `size`, moved by `shift` (units of the drawing) to where they lie in their source,
 * of the layers named (null for those the file shows).
 */
export function drawnLines(
  drawing: LineDrawing,
  layers: readonly string[] | null,
  shift: { readonly x: number; readonly y: number },
  size: { readonly width: number; readonly height: number },
): DrawnLines {
  const shown = drawing.layers.map((l) => (layers === null ? l.shown : layers.includes(l.name)));
  const out: number[] = [];
  const { coords, starts, closed, pathLayers } = drawing;
  const add = (i: number, j: number): void => {
    const ax = (coords[2 * i] as number) + shift.x;
    const ay = (coords[2 * i + 1] as number) + shift.y;
    const bx = (coords[2 * j] as number) + shift.x;
    const by = (coords[2 * j + 1] as number) + shift.y;
    const beside = Math.max(ax, bx) < 0 || Math.min(ax, bx) > size.width;
    const above = Math.max(ay, by) < 0 || Math.min(ay, by) > size.height;
    if (!beside && !above) out.push(ax, ay, bx, by);
  };
  for (let path = 0; path + 1 < starts.length; path++) {
    if (shown[pathLayers[path] as number] !== true) continue;
    const [from, to] = [starts[path] as number, starts[path + 1] as number];
    for (let i = from; i + 1 < to; i++) add(i, i + 1);
    if (closed[path] && to - from > 2) add(to - 1, from);
  }
  const segments = Float64Array.from(out);
  let index: BoxIndex | null = null;
  return {
    segments,
    near(part: SourceBox) {
      index ??= boxIndex(boxesOf(segments));
      return index.search({ minX: part.x0, minY: part.y0, maxX: part.x1, maxY: part.y1 });
    },
  };
}

function boxesOf(segments: Float64Array): { minX: number; minY: number; maxX: number; maxY: number }[] {
  const boxes = [];
  for (let i = 0; i < segments.length; i += 4) {
    const [ax, ay, bx, by] = segments.subarray(i, i + 4) as unknown as [number, number, number, number];
    boxes.push({
      minX: Math.min(ax, bx),
      minY: Math.min(ay, by),
      maxX: Math.max(ax, bx),
      maxY: Math.max(ay, by),
    });
  }
  return boxes;
}

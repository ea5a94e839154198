import type { SourceBox } from '../../engine/model/tracing.ts';
import type { DrawnLines } from '../../tools/drawings.ts';

/** So many lines to a path: few calls for many lines, and what is out of sight is left out in lumps (as in paint.ts, measured). */
const LUMP = 100;

interface Lump {
  readonly path: Path2D;
  readonly box: SourceBox;
}

const lumps = new WeakMap<DrawnLines, readonly Lump[]>();

function lumpsOf(lines: DrawnLines): readonly Lump[] {
  let made = lumps.get(lines);
  if (!made) {
    const out: Lump[] = [];
    for (let i = 0; i < lines.segments.length; i += 4 * LUMP)
      out.push(lumpOf(lines.segments.subarray(i, i + 4 * LUMP)));
    lumps.set(lines, (made = out));
  }
  return made;
}

function lumpOf(segments: Float64Array): Lump {
  const path = new Path2D();
  let [x0, y0, x1, y1] = [Infinity, Infinity, -Infinity, -Infinity];
  let [lastX, lastY] = [NaN, NaN];
  for (let i = 0; i < segments.length; i += 4) {
    const [ax, ay, bx, by] = segments.subarray(i, i + 4) as unknown as [number, number, number, number];
    if (ax !== lastX || ay !== lastY) path.moveTo(ax, ay);
    path.lineTo(bx, by);
    [lastX, lastY] = [bx, by];
    x0 = Math.min(x0, ax, bx);
    y0 = Math.min(y0, ay, by);
    x1 = Math.max(x1, ax, bx);
    y1 = Math.max(y1, ay, by);
  }
  return { path, box: { x0, y0, x1, y1 } };
}

/** Strokes the lines in sight as hairlines, the canvas being in mm from the source's top left corner. */
export function strokeLines(
  ctx: CanvasRenderingContext2D,
  lines: DrawnLines,
  look: {
    readonly mmPerUnit: number;
    readonly screenScale: number;
    readonly inSight: SourceBox;
    readonly ink: string;
  },
): void {
  const { inSight, mmPerUnit, screenScale } = look;
  ctx.scale(mmPerUnit, mmPerUnit);
  ctx.strokeStyle = look.ink;
  ctx.lineWidth = (window.devicePixelRatio || 1) / screenScale;
  for (const { path, box } of lumpsOf(lines)) {
    const beside = box.x1 < inSight.x0 || box.x0 > inSight.x1;
    if (!beside && box.y1 >= inSight.y0 && box.y0 <= inSight.y1) ctx.stroke(path);
  }
}

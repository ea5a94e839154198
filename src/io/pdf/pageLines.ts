import type { LineDrawing } from '../lineDrawing.ts';
import { createLineWork } from '../lineWork.ts';
import { PDF_LIMITS } from './types.ts';

/** Codes of the operators that matter here, as the reader's own table names them. */
export interface OperatorCodes {
  readonly save: number;
  readonly restore: number;
  readonly transform: number;
  readonly constructPath: number;
  readonly endPath: number;
  readonly paintFormXObjectBegin: number;
  readonly paintFormXObjectEnd: number;
  readonly beginMarkedContentProps: number;
  readonly beginMarkedContent: number;
  readonly endMarkedContent: number;
}

export interface OperatorList {
  readonly fnArray: readonly number[];
  readonly argsArray: readonly unknown[];
}

type Affine = readonly [number, number, number, number, number, number];

const after = (m: Affine, n: Affine): Affine => [
  m[0] * n[0] + m[2] * n[1],
  m[1] * n[0] + m[3] * n[1],
  m[0] * n[2] + m[2] * n[3],
  m[1] * n[2] + m[3] * n[3],
  m[0] * n[4] + m[2] * n[5] + m[4],
  m[1] * n[4] + m[3] * n[5] + m[5],
];

const asAffine = (value: unknown): Affine | null =>
  Array.isArray(value) && value.length === 6 && value.every((v) => Number.isFinite(v))
    ? (value as unknown as Affine)
    : null;

/** How many straight pieces a curve is drawn in. */
const PIECES = 8;
/** Name of what lies on no layer. */
export const NO_LAYER = 'page';

/**
 * The lines of a page from the operators that draw it: every path that is stroked or filled, not what only clips, through
 * `view` (page points to points from the top left, y down). Curves come in eight pieces. `layerOf` names the layer of a
 * marked content; null hides what is in it. Null where there is no line, as in a scan; stops at a million pieces.
 */
export function pageLines(
  list: OperatorList,
  codes: OperatorCodes,
  view: readonly number[],
  layerOf: (properties: unknown) => string | null,
): LineDrawing | null {
  const work = createLineWork();
  const start = view as unknown as Affine;
  let m: Affine = start;
  const saved: Affine[] = [];
  const marked: (string | null)[] = [];
  for (const [i, code] of list.fnArray.entries()) {
    const args = list.argsArray[i] as readonly unknown[] | null;
    if (code === codes.save) saved.push(m);
    else if (code === codes.restore || code === codes.paintFormXObjectEnd) m = saved.pop() ?? start;
    else if (code === codes.transform) m = after(m, asAffine([...(args ?? [])]) ?? [1, 0, 0, 1, 0, 0]);
    else if (code === codes.paintFormXObjectBegin) {
      saved.push(m);
      const own = asAffine(args?.[0]);
      if (own) m = after(m, own);
    } else if (code === codes.beginMarkedContentProps)
      marked.push(args?.[0] === 'OC' ? layerOf(args[1]) : (marked.at(-1) ?? NO_LAYER));
    else if (code === codes.beginMarkedContent)
      marked.push(marked.length > 0 ? (marked.at(-1) ?? null) : NO_LAYER);
    else if (code === codes.endMarkedContent) marked.pop();
    else if (code === codes.constructPath && args && args[0] !== codes.endPath && !marked.includes(null)) {
      drawPath(work, m, (args[1] as readonly unknown[] | null)?.[0]);
      work.end(marked.at(-1) ?? NO_LAYER);
      if (work.segments > PDF_LIMITS.segments) break;
    }
  }
  const done = work.done();
  if (done.coords.length === 0) return null;
  return { ...done, texts: [], origin: { x: 0, y: 0 }, mainBox: done.box, unit: null, leftOut: [] };
}

/** A path's data: 0 move, 1 line, 2 cubic, 3 quadratic, 4 close, each followed by its coordinates. */
function drawPath(work: ReturnType<typeof createLineWork>, m: Affine, data: unknown): void {
  if (!(data instanceof Float32Array) && !Array.isArray(data)) return;
  const d = data as ArrayLike<number>;
  let [x, y] = [0, 0];
  const to = (px: number, py: number): void => {
    [x, y] = [px, py];
    work.lineTo(m[0] * px + m[2] * py + m[4], m[1] * px + m[3] * py + m[5]);
  };
  const curve = (points: readonly number[]): void => {
    const [x0, y0] = [x, y];
    const [x1, y1, x2, y2, x3, y3] = points as [number, number, number, number, number, number];
    for (let k = 1; k <= PIECES; k++) {
      const t = k / PIECES;
      const u = 1 - t;
      const [a, b, c, e] = [u * u * u, 3 * u * u * t, 3 * u * t * t, t * t * t];
      to(a * x0 + b * x1 + c * x2 + e * x3, a * y0 + b * y1 + c * y2 + e * y3);
    }
  };
  const at = (i: number): number => d[i] as number;
  for (let i = 0; i < d.length;) {
    switch (d[i++]) {
      case 0:
        [x, y] = [at(i), at(i + 1)];
        work.moveTo(m[0] * x + m[2] * y + m[4], m[1] * x + m[3] * y + m[5]);
        i += 2;
        break;
      case 1:
        to(at(i), at(i + 1));
        i += 2;
        break;
      case 2:
        curve([at(i), at(i + 1), at(i + 2), at(i + 3), at(i + 4), at(i + 5)]);
        i += 6;
        break;
      case 3: {
        const [cx, cy, ex, ey] = [at(i), at(i + 1), at(i + 2), at(i + 3)];
        curve([
          x + (2 / 3) * (cx - x),
          y + (2 / 3) * (cy - y),
          ex + (2 / 3) * (cx - ex),
          ey + (2 / 3) * (cy - ey),
          ex,
          ey,
        ]);
        i += 4;
        break;
      }
      case 4:
        work.close();
        break;
      default:
        return;
    }
  }
}

import type { DrawingBox, LineDrawing } from './lineDrawing.ts';

/** Gathers paths one vertex after another into the flat form of a `LineDrawing`, in the drawing's units, y down. */
export interface LineWork {
  moveTo(x: number, y: number): void;
  lineTo(x: number, y: number): void;
  /** Joins the path at hand to its first vertex. */
  close(): void;
  /** Ends the path at hand; it lies on the layer named. A single vertex is no path. */
  end(layer: string): void;
  readonly segments: number;
  done(): Pick<LineDrawing, 'coords' | 'starts' | 'pathLayers' | 'closed' | 'layers' | 'box'>;
}

export function createLineWork(): LineWork {
  const coords: number[] = [];
  const starts: number[] = [0];
  const pathLayers: number[] = [];
  const closed: number[] = [];
  const names = new Map<string, number>();
  const counts: number[] = [];
  /** Vertices of the subpaths since the last `end`, each with whether it is closed. */
  let open: { vertices: number[]; closed: boolean }[] = [];
  let segments = 0;
  const last = () => open.at(-1);
  return {
    moveTo(x, y) {
      open.push({ vertices: [x, y], closed: false });
    },
    lineTo(x, y) {
      const path = last();
      if (path?.closed)
        open.push({ vertices: [path.vertices[0] as number, path.vertices[1] as number], closed: false });
      last()?.vertices.push(x, y);
      segments++;
    },
    close() {
      const path = last();
      if (path) path.closed = true;
    },
    end(layer) {
      for (const path of open) {
        if (path.vertices.length < 4) continue;
        let i = names.get(layer);
        if (i === undefined) {
          i = names.size;
          names.set(layer, i);
          counts.push(0);
        }
        for (const v of path.vertices) coords.push(v);
        starts.push(coords.length / 2);
        pathLayers.push(i);
        closed.push(path.closed ? 1 : 0);
        counts[i] = (counts[i] as number) + 1;
      }
      open = [];
    },
    get segments() {
      return segments;
    },
    done() {
      return {
        coords: Float64Array.from(coords),
        starts: Uint32Array.from(starts),
        pathLayers: Uint16Array.from(pathLayers),
        closed: Uint8Array.from(closed),
        layers: [...names.keys()].map((name, i) => ({ name, paths: counts[i] as number, shown: true })),
        box: boxOfCoords(coords),
      };
    },
  };
}

/** The box of vertices x, y, x, y, ...; upside down (infinite) where there are none. */
export function boxOfCoords(coords: ArrayLike<number>): DrawingBox {
  let [x0, y0, x1, y1] = [Infinity, Infinity, -Infinity, -Infinity];
  for (let i = 0; i + 1 < coords.length; i += 2) {
    const [x, y] = [coords[i] as number, coords[i + 1] as number];
    x0 = Math.min(x0, x);
    x1 = Math.max(x1, x);
    y0 = Math.min(y0, y);
    y1 = Math.max(y1, y);
  }
  return { x0, y0, x1, y1 };
}

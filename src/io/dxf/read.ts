import type { DrawingBox, LineDrawing, StatedUnit } from '../lineDrawing.ts';
import { boxOfCoords } from '../lineWork.ts';
import { expanded } from './expand.ts';
import { gathered } from './gather.ts';
import type { DxfModel, Path, TextItem } from './model.ts';
import { dxfText } from './text.ts';
import { DXF_LIMITS, DxfRefused } from './types.ts';
import type { DxfResult } from './types.ts';

/** $INSUNITS of the DXF reference; the other codes are no units a plan is drawn in. */
const UNITS: Readonly<Record<number, StatedUnit>> = { 1: 'in', 2: 'ft', 4: 'mm', 5: 'cm', 6: 'm' };

/**
 * Reads an ASCII DXF, R12 to current, into its lines. Never throws: what cannot be read is a sentence, what was not
 * understood is counted in `leftOut`. Runs for as long as the file makes it: call it in a worker that can be ended.
 */
export function readDxf(bytes: Uint8Array): DxfResult {
  try {
    const model = gathered(dxfText(bytes));
    const { paths, texts } = expanded(model);
    if (paths.length === 0)
      return {
        ok: false,
        message: 'No line was found in the file. Is it an ASCII DXF with the plan in its model space?',
      };
    return { ok: true, drawing: assembled(model, paths, texts) };
  } catch (error) {
    if (error instanceof DxfRefused) return { ok: false, message: error.message };
    throw error;
  }
}

function assembled(model: DxfModel, paths: readonly Path[], texts: readonly TextItem[]): LineDrawing {
  const total = paths.reduce((sum, p) => sum + p.vertices.length, 0);
  const coords = new Float64Array(total);
  const starts = new Uint32Array(paths.length + 1);
  const layerIndex = new Map<string, number>();
  const counts: number[] = [];
  const indexOf = (name: string): number => {
    let i = layerIndex.get(name);
    if (i === undefined) {
      // Beyond the limit all further layers share the last row.
      i = Math.min(layerIndex.size, DXF_LIMITS.layers - 1);
      layerIndex.set(name, i);
      counts[i] ??= 0;
    }
    return i;
  };
  const pathLayers = Uint16Array.from(paths, (p) => indexOf(p.layer));
  for (const i of pathLayers) counts[i] = (counts[i] as number) + 1;
  const textLayers = texts.map((t) => indexOf(t.layer));
  let at = 0;
  for (const [i, p] of paths.entries()) {
    coords.set(p.vertices, at);
    at += p.vertices.length;
    starts[i + 1] = at / 2;
  }
  const origin = recentre(coords);
  const box = boxOfCoords(coords);
  const names = [...layerIndex.keys()].slice(0, DXF_LIMITS.layers);
  return {
    coords,
    starts,
    pathLayers,
    closed: Uint8Array.from(paths, (p) => (p.closed ? 1 : 0)),
    layers: names.map((name, i) => ({
      name,
      paths: counts[i] as number,
      shown: model.layers.get(name)?.shown ?? true,
    })),
    texts: texts.map((t, i) => ({
      text: t.text,
      x: t.x - origin.x,
      y: origin.y - t.y,
      height: t.height,
      layer: textLayers[i] as number,
    })),
    origin,
    box,
    mainBox: mainBoxOf(coords, box),
    unit: UNITS[model.insUnits ?? 0] ?? null,
    leftOut: [...model.leftOut]
      .map(([what, count]) => ({ what, count }))
      .sort((a, b) => b.count - a.count || (a.what < b.what ? -1 : 1)),
  };
}

const middle = (sorted: Float64Array): number => sorted[sorted.length >> 1] as number;

/** Takes the median off all coordinates, in whole units, and turns y down. Returns what was taken off. */
function recentre(coords: Float64Array): { readonly x: number; readonly y: number } {
  const x = Math.round(middle(every(coords, 0).sort()));
  const y = Math.round(middle(every(coords, 1).sort()));
  for (let i = 0; i < coords.length; i += 2) {
    coords[i] = (coords[i] as number) - x;
    coords[i + 1] = y - (coords[i + 1] as number);
  }
  return { x, y };
}

/** All x (0) or all y (1). */
function every(coords: Float64Array, axis: 0 | 1): Float64Array {
  const out = new Float64Array(coords.length / 2);
  for (let i = 0; i < out.length; i++) out[i] = coords[2 * i + axis] as number;
  return out;
}

/** The box of the middle 98 in 100 vertices, grown by half itself, where all lie within ten such boxes: no strays. */
function mainBoxOf(coords: Float64Array, box: DrawingBox): DrawingBox {
  const range = (axis: 0 | 1): readonly [number, number] => {
    const sorted = every(coords, axis).sort();
    const low = sorted[Math.floor(sorted.length * 0.01)] as number;
    const high = sorted[Math.ceil(sorted.length * 0.99) - 1] as number;
    return [low, high];
  };
  const [x0, x1] = range(0);
  const [y0, y1] = range(1);
  const reach = Math.max(x1 - x0, y1 - y0);
  const strays = Math.max(x0 - box.x0, box.x1 - x1, y0 - box.y0, box.y1 - y1) > 10 * reach;
  if (!strays || reach === 0) return box;
  return {
    x0: Math.max(box.x0, x0 - reach / 2),
    x1: Math.min(box.x1, x1 + reach / 2),
    y0: Math.max(box.y0, y0 - reach / 2),
    y1: Math.min(box.y1, y1 + reach / 2),
  };
}

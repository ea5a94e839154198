import { boxAround, boxOf, boxesTouch } from '../../tools/boxIndex.ts';
import type { MmBox } from '../../tools/camera.ts';
import type { Px, ScreenPoint } from '../../engine/model/units.ts';
import type { Frame } from './stage.ts';

/** x, y, x, y ... in mm. Flat numbers: thousands of them are walked in every frame. */
export type Polyline = readonly number[];

/** 20 to 100 polylines per stroke beat both one stroke each and one giant path (measured). */
const BATCH = 50;
const ROW_MM = 4000;

/** Many polylines of one look, in batches of neighbours, each with its box. */
export interface LineSet {
  readonly batches: readonly { readonly path: Path2D; readonly box: MmBox }[];
}

/** Puts lines into batches of neighbours, so that what is out of view is left out a batch at a time. */
export function lineSet(lines: readonly Polyline[]): LineSet {
  const items = lines.flatMap((line) => {
    const places = [];
    for (let i = 0; i + 1 < line.length; i += 2)
      places.push({ x: line[i] as number, y: line[i + 1] as number });
    const box = boxOf(places);
    return box === null || places.length < 2 ? [] : [{ line, box }];
  });
  // Rows of a coarse grid, each from left to right: good enough neighbours, and a stable order.
  const row = (box: MmBox) => Math.floor((box.minY + box.maxY) / 2 / ROW_MM);
  items.sort((a, b) => row(a.box) - row(b.box) || a.box.minX + a.box.maxX - b.box.minX - b.box.maxX);
  const batches: { path: Path2D; box: MmBox }[] = [];
  for (let i = 0; i < items.length; i += BATCH) {
    const own = items.slice(i, i + BATCH);
    const box = boxAround(own.map((item) => item.box));
    if (box === null) continue;
    const path = new Path2D();
    for (const { line } of own) tracePolyline(path, line);
    batches.push({ path, box });
  }
  return { batches };
}

/** Draws with `ctx` in millimetres of the camera's space; widths and dashes are then `px / camera.scale`. */
export function inMm(frame: Frame, draw: (ctx: CanvasRenderingContext2D, px: number) => void): void {
  const { ctx, camera } = frame;
  ctx.save();
  ctx.transform(camera.scale, 0, 0, camera.scale, camera.left, camera.top);
  draw(ctx, 1 / camera.scale);
  ctx.restore();
}

/** Strokes the batches that are in view with the context's present style (see `inMm`). */
export function strokeLines(frame: Frame, set: LineSet): void {
  for (const { path, box } of set.batches) if (boxesTouch(box, frame.view)) frame.ctx.stroke(path);
}

/** Adds a polyline to a path. */
export function tracePolyline(ctx: CanvasPath, line: Polyline, closed = false): void {
  if (line.length < 4) return;
  ctx.moveTo(line[0] as number, line[1] as number);
  for (let i = 2; i + 1 < line.length; i += 2) ctx.lineTo(line[i] as number, line[i + 1] as number);
  if (closed) ctx.closePath();
}

const widths = new Map<string, Px>();
const WIDTHS_KEPT = 5000;

/** Width of one line of text, px. Kept: the same labels are measured in every frame. */
export function textWidth(frame: Frame, text: string, size: Px, bold = false): Px {
  const font = `${bold ? '600 ' : ''}${size}px ${frame.theme.font}`;
  const key = `${font}|${text}`;
  let width = widths.get(key);
  if (width === undefined) {
    frame.ctx.font = font;
    width = frame.ctx.measureText(text).width;
    if (widths.size >= WIDTHS_KEPT) widths.clear();
    widths.set(key, width);
  }
  return width;
}

export interface TextLook {
  readonly size?: Px;
  readonly bold?: boolean;
  readonly colour?: string;
  readonly align?: CanvasTextAlign;
  readonly baseline?: CanvasTextBaseline;
  /** A rim of the paper's colour, so that lines behind do not eat the letters. */
  readonly halo?: boolean;
}

/** Text of constant size on the screen. Newlines make lines. */
export function drawText(frame: Frame, text: string, at: ScreenPoint, look: TextLook = {}): void {
  const { ctx, theme } = frame;
  const size = look.size ?? 12;
  ctx.font = `${look.bold ? '600 ' : ''}${size}px ${theme.font}`;
  ctx.textAlign = look.align ?? 'center';
  ctx.textBaseline = look.baseline ?? 'middle';
  const lines = text.split('\n');
  lines.forEach((line, i) => {
    const y = at.py + (i - (lines.length - 1) / 2) * size * 1.25;
    if (look.halo !== false) {
      ctx.strokeStyle = theme.paper;
      ctx.lineWidth = 3;
      ctx.lineJoin = 'round';
      ctx.strokeText(line, at.px, y);
    }
    ctx.fillStyle = look.colour ?? theme.ink;
    ctx.fillText(line, at.px, y);
  });
}

/** Text on a plate of its own: for lengths next to the pointer, which must be readable over anything. */
export function drawPlate(frame: Frame, text: string, at: ScreenPoint, colour?: string): void {
  const { ctx, theme } = frame;
  const size = 12;
  ctx.font = `600 ${size}px ${theme.font}`;
  const lines = text.split('\n');
  const width = Math.max(...lines.map((line) => ctx.measureText(line).width)) + 12;
  const height = lines.length * size * 1.25 + 6;
  ctx.fillStyle = theme.paper;
  ctx.strokeStyle = colour ?? theme.muted;
  ctx.lineWidth = 1;
  ctx.setLineDash([]);
  ctx.beginPath();
  ctx.roundRect(at.px - width / 2, at.py - height / 2, width, height, 4);
  ctx.fill();
  ctx.stroke();
  drawText(frame, text, at, { size, bold: true, halo: false, colour: theme.ink });
}

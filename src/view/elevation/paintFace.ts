import { areaStyle, lineStyle } from './looks.ts';
import type { FaceMark } from './marks.ts';
import type { Frame } from '../shared/stage.ts';
import { drawSymbol, symbolFor } from '../shared/symbols.ts';
import { faceToScreen } from '../../tools/camera.ts';
import type { FacePoint, Mm, Px, ScreenPoint } from '../../engine/model/units.ts';

const HATCH_PX = 8;
const TICK_PX = 14;

/** Paints the shapes of one face whose left-hand end lies `start` mm along the band, in the order given. */
export function paintFace(frame: Frame, marks: readonly FaceMark[], start: Mm): void {
  const at = (p: FacePoint): ScreenPoint => faceToScreen(frame.camera, p, start);
  for (const mark of marks) {
    if (mark.kind === 'area') paintArea(frame, mark.outline.map(at), mark);
    else if (mark.kind === 'line') paintLine(frame, mark.points.map(at), mark);
    else if (mark.kind === 'hole') paintHole(frame, at(mark.at));
    else if (mark.kind === 'symbol') paintSymbol(frame, at(mark.at), mark);
  }
}

type Of<K extends FaceMark['kind']> = Extract<FaceMark, { kind: K }>;

function trace(ctx: CanvasRenderingContext2D, points: readonly ScreenPoint[]): void {
  points.forEach(({ px, py }, i) => (i === 0 ? ctx.moveTo(px, py) : ctx.lineTo(px, py)));
}

function paintArea(frame: Frame, points: readonly ScreenPoint[], mark: Of<'area'>): void {
  const { ctx, theme } = frame;
  const style = areaStyle(theme, mark.look);
  ctx.beginPath();
  trace(ctx, points);
  ctx.closePath();
  if (style.fill !== null) {
    ctx.globalAlpha = style.alpha;
    ctx.fillStyle = style.fill;
    ctx.fill();
  }
  if (style.hatch && style.edge !== null) hatch(ctx, points, style.edge);
  if (style.edge !== null) {
    ctx.globalAlpha = style.edgeAlpha;
    ctx.setLineDash([...style.dash]);
    ctx.lineWidth = mark.look === 'picked' ? 2 : 1;
    ctx.strokeStyle = style.edge;
    ctx.beginPath();
    trace(ctx, points);
    ctx.closePath();
    ctx.stroke();
    ctx.setLineDash([]);
  }
  ctx.globalAlpha = 1;
}

/** Slanting lines over the current area; they keep still to the canvas's own origin, so areas that meet agree. */
function hatch(ctx: CanvasRenderingContext2D, points: readonly ScreenPoint[], colour: string): void {
  const xs = points.map((p) => p.px);
  const ys = points.map((p) => p.py);
  const [x0, x1] = [Math.max(-50, Math.min(...xs)), Math.min(ctx.canvas.width + 50, Math.max(...xs))];
  const [y0, y1] = [Math.max(-50, Math.min(...ys)), Math.min(ctx.canvas.height + 50, Math.max(...ys))];
  ctx.save();
  ctx.clip();
  ctx.globalAlpha = 0.4;
  ctx.strokeStyle = colour;
  ctx.lineWidth = 1;
  ctx.beginPath();
  for (let k = Math.floor((x0 + y0) / HATCH_PX) * HATCH_PX; k < x1 + y1; k += HATCH_PX) {
    ctx.moveTo(k - y0, y0);
    ctx.lineTo(k - y1, y1);
  }
  ctx.stroke();
  ctx.restore();
}

function paintLine(frame: Frame, points: readonly ScreenPoint[], mark: Of<'line'>): void {
  const { ctx, theme } = frame;
  const style = lineStyle(theme, mark.look);
  ctx.globalAlpha = style.alpha;
  ctx.strokeStyle = style.colour;
  ctx.lineWidth = style.width;
  ctx.lineCap = mark.look === 'picked' ? 'round' : 'butt';
  ctx.lineJoin = 'round';
  ctx.setLineDash([...style.dash]);
  ctx.beginPath();
  if (style.wave) wave(ctx, points);
  else trace(ctx, points);
  ctx.stroke();
  ctx.setLineDash([]);
  if (style.ticks) ticks(ctx, points);
  ctx.globalAlpha = 1;
}

const WAVE_PX = 10;
const WAVE_HIGH = 2.5;

/** A wave along each straight piece: half waves of 5 px to either side. */
function wave(ctx: CanvasRenderingContext2D, points: readonly ScreenPoint[]): void {
  eachPiece(points, (a, b, length, dx, dy) => {
    ctx.moveTo(a.px, a.py);
    const n = Math.max(1, Math.round(length / (WAVE_PX / 2)));
    for (let i = 1; i <= n; i++) {
      const mid = ((i - 0.5) / n) * length;
      const end = (i / n) * length;
      const side = (i % 2 === 0 ? 2 : -2) * WAVE_HIGH;
      ctx.quadraticCurveTo(
        a.px + dx * mid - dy * side,
        a.py + dy * mid + dx * side,
        a.px + dx * end,
        a.py + dy * end,
      );
    }
    void b;
  });
}

/** Small crosses along the line. */
function ticks(ctx: CanvasRenderingContext2D, points: readonly ScreenPoint[]): void {
  ctx.lineWidth = 1.5;
  ctx.beginPath();
  eachPiece(points, (a, _b, length, dx, dy) => {
    const n = Math.max(1, Math.floor(length / TICK_PX));
    for (let i = 0; i < n; i++) {
      const t = ((i + 0.5) / n) * length;
      const x = a.px + dx * t;
      const y = a.py + dy * t;
      ctx.moveTo(x - 4, y - 4);
      ctx.lineTo(x + 4, y + 4);
      ctx.moveTo(x - 4, y + 4);
      ctx.lineTo(x + 4, y - 4);
    }
  });
  ctx.stroke();
}

function eachPiece(
  points: readonly ScreenPoint[],
  visit: (a: ScreenPoint, b: ScreenPoint, length: number, dx: number, dy: number) => void,
): void {
  for (let i = 1; i < points.length; i++) {
    const a = points[i - 1] as ScreenPoint;
    const b = points[i] as ScreenPoint;
    const length = Math.hypot(b.px - a.px, b.py - a.py);
    if (length > 0.5) visit(a, b, length, (b.px - a.px) / length, (b.py - a.py) / length);
  }
}

/** A hole through the wall: a ring with a dot. */
function paintHole(frame: Frame, at: ScreenPoint): void {
  const { ctx, theme } = frame;
  ctx.beginPath();
  ctx.arc(at.px, at.py, 5, 0, Math.PI * 2);
  ctx.fillStyle = theme.paper;
  ctx.fill();
  ctx.strokeStyle = theme.ink;
  ctx.lineWidth = 1.5;
  ctx.stroke();
  ctx.beginPath();
  ctx.arc(at.px, at.py, 1.5, 0, Math.PI * 2);
  ctx.fillStyle = theme.ink;
  ctx.fill();
}

/** A plate narrower than this holds no symbol that could be told apart: its label then carries the symbol. */
export const PLATE_HOLDS_PX = 18;
export const platePx = (frame: Frame): Px => 86 * frame.camera.scale;

/** The point's symbol on its plate, where that is large enough on the screen. */
function paintSymbol(frame: Frame, at: ScreenPoint, mark: Of<'symbol'>): void {
  const plate = platePx(frame);
  if (plate < PLATE_HOLDS_PX) return;
  const unit = Math.min(2.4, plate / 24);
  drawMark(frame, { px: at.px, py: at.py + 8 * unit }, mark, unit);
}

/** The symbol with its foot at a place, ghosted when the point is behind the wall. */
export function drawMark(frame: Frame, foot: ScreenPoint, mark: Of<'symbol'>, unit: Px): void {
  const { ctx, theme } = frame;
  ctx.globalAlpha = mark.ghost ? 0.55 : 1;
  const symbol = symbolFor({ kind: mark.symbol, gangs: mark.gangs });
  drawSymbol(ctx, symbol, foot, 0, unit, mark.ghost ? theme.muted : theme.ink, theme, unit > 1 ? 1.4 : 1.2);
  ctx.globalAlpha = 1;
}

import type { PlanDocument } from '../../engine/model/document.ts';
import type { ScreenPoint } from '../../engine/model/units.ts';
import { planToScreen } from '../../tools/camera.ts';
import { symbolUnit } from '../../tools/pick.ts';
import type { PlanShapes, PointShape } from '../../tools/planShapes.ts';
import type { SessionState } from '../../tools/types.ts';
import { circuitColour } from '../shared/circuitColour.ts';
import type { LabelSpace } from '../shared/labels.ts';
import { drawText, textWidth } from '../shared/paint.ts';
import type { Frame } from '../shared/stage.ts';
import { drawSymbol, symbolFor, symbolTurn } from '../shared/symbols.ts';

/** Middle of a point's symbol on the canvas. */
export function symbolMiddle(frame: Pick<Frame, 'camera'>, shape: PointShape): ScreenPoint {
  const at = planToScreen(frame.camera, shape.at);
  if (!shape.into) return at;
  const out = symbolUnit(frame.camera.scale) * 9;
  return { px: at.px + shape.into.x * out, py: at.py + shape.into.y * out };
}

/** Further out than this, px per mm, symbols would cover each other: they become dots. */
const DOTS_BELOW = 0.022;
const DOT_PX = 3;

function paintDots(frame: Frame, shapes: PlanShapes): void {
  const { ctx, camera, theme, view } = frame;
  ctx.fillStyle = theme.ink;
  for (const { at } of shapes.points) {
    if (at.x < view.minX || at.x > view.maxX || at.y < view.minY || at.y > view.maxY) continue;
    const { px, py } = planToScreen(camera, at);
    ctx.fillRect(px - DOT_PX / 2, py - DOT_PX / 2, DOT_PX, DOT_PX);
  }
}

/** The symbols of all points in view; the places they cover are taken from the labels. */
export function paintPoints(
  frame: Frame,
  doc: PlanDocument,
  shapes: PlanShapes,
  session: SessionState,
  space: LabelSpace,
): void {
  const { ctx, camera, theme, view } = frame;
  const unit = symbolUnit(camera.scale);
  if (camera.scale < DOTS_BELOW) return paintDots(frame, shapes);
  const byCircuit = session.stage === 'circuits' || session.stage === 'runs';
  for (const shape of shapes.points) {
    const { at, point } = shape;
    if (at.x < view.minX || at.x > view.maxX || at.y < view.minY || at.y > view.maxY) continue;
    const colour = byCircuit ? circuitColour(doc, point.circuit, theme) : theme.ink;
    ctx.globalAlpha = point.visible ? 1 : 0.5;
    const turn = shape.into ? symbolTurn(shape.into) : 0;
    drawSymbol(ctx, symbolFor(point), planToScreen(camera, at), turn, unit, colour, theme);
    ctx.globalAlpha = 1;
    space.take(symbolMiddle(frame, shape), 18 * unit, 18 * unit);
  }
}

/** With more points than this in view their labels would only be noise, and slow. */
const LABELS_AT_MOST = 160;

/** Labels beside the symbols: further into the room first, then to either side; heights when zoomed in. */
export function paintPointLabels(frame: Frame, shapes: PlanShapes, space: LabelSpace): void {
  const { camera, theme, view } = frame;
  if (camera.scale < 0.03) return;
  const unit = symbolUnit(camera.scale);
  const withHeight = camera.scale > 0.14;
  const inView = shapes.points.filter(
    ({ at }) => at.x >= view.minX && at.x <= view.maxX && at.y >= view.minY && at.y <= view.maxY,
  );
  if (inView.length > LABELS_AT_MOST) return;
  for (const shape of inView) {
    const { point, into } = shape;
    const z = point.place.on === 'face' || point.place.on === 'free' ? Math.round(point.place.z) : null;
    const text = withHeight && z !== null ? `${point.label} · ${z}` : point.label;
    const width = textWidth(frame, text, 10) + 4;
    const middle = symbolMiddle(frame, shape);
    const out = into ?? { x: 0, y: 1 };
    const side = { x: -out.y, y: out.x };
    const far = 9 * unit;
    const spot = (v: { x: number; y: number }, extra = 0): ScreenPoint => ({
      px: middle.px + v.x * (far + extra + (Math.abs(v.x) * width) / 2),
      py: middle.py + v.y * (far + extra + 6),
    });
    const spots = [
      spot(out, 2),
      spot(side),
      spot({ x: -side.x, y: -side.y }),
      spot({ x: (out.x + side.x) * 0.8, y: (out.y + side.y) * 0.8 }),
      spot({ x: (out.x - side.x) * 0.8, y: (out.y - side.y) * 0.8 }),
      spot(out, 14),
    ];
    const place = space.place(spots, width, 12);
    if (place) drawText(frame, text, place, { size: 10, colour: theme.muted });
  }
}

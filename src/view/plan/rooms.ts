import type { PlanPoint } from '../../engine/model/units.ts';
import { mmToPx, planToScreen } from '../../tools/camera.ts';
import { boxOf, boxesTouch } from '../../tools/boxIndex.ts';
import type { PlanShapes } from '../../tools/planShapes.ts';
import type { SessionState } from '../../tools/types.ts';
import { drawText, inMm } from '../shared/paint.ts';
import type { Frame } from '../shared/stage.ts';

/** "12.3 m²". */
export function areaText(area: number): string {
  return `${(area / 1e6).toFixed(1)} m²`;
}

function ring(ctx: CanvasRenderingContext2D, places: readonly PlanPoint[]): void {
  places.forEach((p, i) => (i === 0 ? ctx.moveTo(p.x, p.y) : ctx.lineTo(p.x, p.y)));
  ctx.closePath();
}

/** A faint wash over the room whose faces lie in the band below, so that the two can be found together. */
export function paintRoomWash(frame: Frame, shapes: PlanShapes, session: SessionState): void {
  const picked = shapes.rooms.find((r) => r.room.id === session.room);
  if (!picked) return;
  inMm(frame, (ctx) => {
    ctx.fillStyle = frame.theme.select;
    ctx.globalAlpha = 0.07;
    ctx.beginPath();
    ring(ctx, picked.room.outline);
    for (const hole of picked.room.holes) ring(ctx, hole);
    ctx.fill('evenodd');
  });
}

/** Names and areas; left out where the room is too small on the screen to hold them. */
export function paintRoomNames(frame: Frame, shapes: PlanShapes): void {
  const { theme } = frame;
  for (const shape of shapes.rooms) {
    const box = boxOf(shape.room.outline);
    if (box === null || !boxesTouch(box, frame.view)) continue;
    const width = mmToPx(frame.camera, box.maxX - box.minX);
    const height = mmToPx(frame.camera, box.maxY - box.minY);
    if (width < 44 || height < 30) continue;
    const at = planToScreen(frame.camera, shape.at);
    const name = shape.tag?.name ?? '';
    if (name) {
      drawText(
        frame,
        fitted(frame, name, width - 12, 13),
        { px: at.px, py: at.py - 8 },
        { size: 13, bold: true },
      );
    }
    const area = areaText(shape.room.area);
    drawText(frame, area, { px: at.px, py: at.py + (name ? 9 : 0) }, { size: 11, colour: theme.muted });
  }
  for (const tag of shapes.looseTags) {
    const at = planToScreen(frame.camera, tag);
    drawText(frame, `${tag.name}\n(not inside a closed room)`, at, { size: 12, colour: theme.muted });
  }
}

/** The name, cut short with an ellipsis where the room is narrow. */
function fitted(frame: Frame, text: string, width: number, size: number): string {
  const { ctx, theme } = frame;
  ctx.font = `600 ${size}px ${theme.font}`;
  if (ctx.measureText(text).width <= width) return text;
  let short = text;
  while (short.length > 1 && ctx.measureText(`${short}…`).width > width) short = short.slice(0, -1);
  return `${short.trimEnd()}…`;
}

/** Things: outlines with their name; those in a ceiling or floor dashed. */
export function paintThings(frame: Frame, shapes: PlanShapes): void {
  const { theme, camera } = frame;
  for (const { thing, outline } of shapes.things) {
    const box = boxOf(outline);
    if (box === null || !boxesTouch(box, frame.view)) continue;
    const hidden = thing.place.on === 'plan' && thing.place.where !== 'room';
    const dangerous = ['gas-pipe', 'hot-pipe', 'hob', 'polystyrene'].includes(thing.kind);
    inMm(frame, (ctx, px) => {
      ctx.beginPath();
      ring(ctx, outline);
      ctx.fillStyle = dangerous ? theme.disputed : theme.muted;
      ctx.globalAlpha = 0.1;
      ctx.fill();
      ctx.globalAlpha = 0.8;
      ctx.strokeStyle = dangerous ? theme.disputed : theme.muted;
      ctx.lineWidth = px;
      ctx.setLineDash(hidden ? [6 * px, 4 * px] : []);
      ctx.stroke();
    });
    if (mmToPx(camera, Math.min(box.maxX - box.minX, box.maxY - box.minY)) < 24) continue;
    if (mmToPx(camera, box.maxX - box.minX) < 50) continue;
    const at = planToScreen(camera, { x: (box.minX + box.maxX) / 2, y: (box.minY + box.maxY) / 2 });
    drawText(frame, thing.name || thing.kind, at, { size: 11, colour: theme.muted });
  }
}

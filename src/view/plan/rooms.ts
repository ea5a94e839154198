import type { PlanPoint, Px } from '../../engine/model/units.ts';
import { mmToPx, planToScreen, screenToPlan } from '../../tools/camera.ts';
import { roomHolds } from '../../engine/fabric/lookup.ts';
import type { LabelSpace } from '../shared/labels.ts';
import { boxOf, boxesTouch } from '../../tools/boxIndex.ts';
import type { PlanShapes } from '../../tools/planShapes.ts';
import type { SessionState } from '../../tools/types.ts';
import { drawText, inMm, textWidth } from '../shared/paint.ts';
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

/** Shifts tried, px, when a name would lie on a symbol or another name. */
const SHIFTS: readonly (readonly [Px, Px])[] = [
  [0, 0],
  [0, 26],
  [0, -26],
  [34, 0],
  [-34, 0],
  [34, 26],
  [-34, 26],
  [34, -26],
  [-34, -26],
  [0, 52],
  [0, -52],
];

/**
 * Names and areas, clear of the symbols where the room allows; left out where the room is too small on the screen. The
 * place they take is taken from the labels that come after.
 */
export function paintRoomNames(frame: Frame, shapes: PlanShapes, space: LabelSpace): void {
  const { theme, camera } = frame;
  for (const shape of shapes.rooms) {
    const box = boxOf(shape.room.outline);
    if (box === null || !boxesTouch(box, frame.view)) continue;
    const width = mmToPx(camera, box.maxX - box.minX);
    const height = mmToPx(camera, box.maxY - box.minY);
    if (width < 44 || height < 30) continue;
    const name = fitted(frame, shape.tag?.name ?? '', width - 12, 13);
    const area = areaText(shape.room.area);
    const wide = Math.max(textWidth(frame, name, 13, true), textWidth(frame, area, 11)) + 4;
    const tall = name ? 34 : 14;
    const home = planToScreen(camera, shape.at);
    const spots = SHIFTS.map(([dx, dy]) => ({ px: home.px + dx, py: home.py + dy })).filter((spot) =>
      [-1, 1].every((way) =>
        roomHolds(shape.room, screenToPlan(camera, { px: spot.px + (way * wide) / 2, py: spot.py })),
      ),
    );
    const free = space.place(spots, wide, tall);
    const at = free ?? home;
    if (free === null) space.take(home, wide, tall);
    if (name) drawText(frame, name, { px: at.px, py: at.py - 8 }, { size: 13, bold: true });
    drawText(frame, area, { px: at.px, py: at.py + (name ? 9 : 0) }, { size: 11, colour: theme.muted });
  }
  for (const tag of shapes.looseTags) {
    const at = planToScreen(camera, tag);
    drawText(frame, `${tag.name}\n(not inside a closed room)`, at, { size: 12, colour: theme.muted });
  }
}

/** The name, cut short with an ellipsis where the room is narrow. */
function fitted(frame: Frame, text: string, width: number, size: number): string {
  if (textWidth(frame, text, size, true) <= width) return text;
  let short = text;
  while (short.length > 1 && textWidth(frame, `${short}…`, size, true) > width) short = short.slice(0, -1);
  return `${short.trimEnd()}…`;
}

/** Outlines of things; those in a ceiling or floor dashed. */
export function paintThings(frame: Frame, shapes: PlanShapes): void {
  const { theme } = frame;
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
  }
}

/** Names of things, where there is room for them inside their outline. */
export function paintThingNames(frame: Frame, shapes: PlanShapes, space: LabelSpace): void {
  const { theme, camera } = frame;
  for (const { thing, outline } of shapes.things) {
    const box = boxOf(outline);
    if (box === null || !boxesTouch(box, frame.view)) continue;
    const text = thing.name || thing.kind.replaceAll('-', ' ');
    const wide = textWidth(frame, text, 11);
    if (mmToPx(camera, box.maxX - box.minX) < wide + 4 || mmToPx(camera, box.maxY - box.minY) < 16) continue;
    const middle = planToScreen(camera, { x: (box.minX + box.maxX) / 2, y: (box.minY + box.maxY) / 2 });
    const free = mmToPx(camera, box.maxY - box.minY) / 2 - 8;
    const spots = [0, -16, 16, -32, 32, -64, 64]
      .filter((dy) => Math.abs(dy) <= free)
      .map((dy) => ({ px: middle.px, py: middle.py + dy }));
    const at = space.place(spots, wide, 13);
    if (at) drawText(frame, text, at, { size: 11, colour: theme.muted });
  }
}

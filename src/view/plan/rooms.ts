import type { PlanPoint, Px, ScreenPoint } from '../../engine/model/units.ts';
import { mmToPx, planToScreen, screenToPlan } from '../../tools/camera.ts';
import type { MmBox } from '../../tools/camera.ts';
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

/** Steps between the places tried for a name that would lie on a symbol or another name, and how many either way. */
const STEP_PX: Px = 13;
const STEPS_MOST = 12;

/** Places over a room's box, the middle of the room first and then outwards. */
function spotsOver(frame: Frame, box: MmBox, home: ScreenPoint): readonly ScreenPoint[] {
  const across = Math.min(STEPS_MOST, Math.floor(mmToPx(frame.camera, box.maxX - box.minX) / STEP_PX));
  const down = Math.min(STEPS_MOST, Math.floor(mmToPx(frame.camera, box.maxY - box.minY) / STEP_PX));
  const spots: { readonly at: ScreenPoint; readonly far: Px }[] = [];
  for (let i = -across; i <= across; i++) {
    for (let j = -down; j <= down; j++) {
      const at = { px: home.px + i * STEP_PX, py: home.py + j * STEP_PX };
      spots.push({ at, far: Math.hypot(i, j) });
    }
  }
  return spots.sort((a, b) => a.far - b.far).map((spot) => spot.at);
}

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
    if (width < 24 || height < 16) continue;
    const full = shape.tag?.name ?? '';
    const area = areaText(shape.room.area);
    const home = planToScreen(camera, shape.at);
    const holds = (at: ScreenPoint): boolean => roomHolds(shape.room, screenToPlan(camera, at));
    const free = spotsOver(frame, box, home);
    // Smaller first, then without the area, then cut short: the name is what tells the rooms apart.
    const ways: readonly (readonly [Px, boolean])[] = [
      [13, true],
      [11, true],
      [11, false],
      [10, false],
    ];
    for (const [size, withArea] of ways) {
      const name = fitted(frame, full, width - 6, size);
      const last = size === 10;
      if (name !== full && !last) continue;
      if (!withArea && name === '') continue;
      const wide =
        Math.max(textWidth(frame, name, size, true), withArea ? textWidth(frame, area, 11) : 0) + 4;
      const tall = (name ? size + 4 : 0) + (withArea ? 15 : 0);
      const spots = free.filter((spot) =>
        [-1, 1].every((way) =>
          [-1, 1].every((end) => holds({ px: spot.px + (way * wide) / 2, py: spot.py + (end * tall) / 2 })),
        ),
      );
      const at = space.place(spots, wide, tall) ?? (last ? (spots[0] ?? home) : null);
      if (at === null) continue;
      if (last) space.take(at, wide, tall);
      const up = withArea && name ? -8 : 0;
      if (name) drawText(frame, name, { px: at.px, py: at.py + up }, { size, bold: true });
      if (withArea)
        drawText(frame, area, { px: at.px, py: at.py + (name ? 9 : 0) }, { size: 11, colour: theme.muted });
      break;
    }
  }
  for (const tag of shapes.looseTags) {
    const at = planToScreen(camera, tag);
    drawText(frame, `${tag.name}\n(not inside a closed room)`, at, { size: 12, colour: theme.muted });
  }
}

/** No letter that is seen is drawn narrower than this. */
const LEAST_LETTER: Px = 1;

/** The name, cut short with an ellipsis where the room is narrow. */
function fitted(frame: Frame, text: string, width: number, size: number): string {
  if (text.length * LEAST_LETTER <= width && textWidth(frame, text, size, true) <= width) return text;
  // Halving, not a letter at a time: a name may be of any length, and each length tried is measured.
  let [fits, tooLong] = [1, Math.min(text.length, Math.ceil(width / LEAST_LETTER) + 1)];
  while (tooLong - fits > 1) {
    const half = (fits + tooLong) >> 1;
    if (textWidth(frame, `${text.slice(0, half)}…`, size, true) <= width) fits = half;
    else tooLong = half;
  }
  return `${text.slice(0, fits).trimEnd()}…`;
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

import { roomTitle } from '../../engine/words/walls.ts';
import { faceCaption, faceHeading, metres } from './captions.ts';
import type { BandFace, BandLayout } from './layout.ts';
import { drawText } from '../shared/paint.ts';
import type { Frame } from '../shared/stage.ts';
import type { Fabric } from '../../engine/fabric/types.ts';
import type { PlanDocument } from '../../engine/model/document.ts';
import type { Px, ScreenPoint } from '../../engine/model/units.ts';

/** Pixels kept free above the walls for their names; less in a low band (a phone). */
export function headOf(height: Px): Px {
  return height < 230 ? 44 : 62;
}

/** Pixels kept free below the floor line for figures. */
export function footOf(height: Px): Px {
  return height < 230 ? 22 : 30;
}

/** Angles between faces: "internal", "external", a free end; a thin upright mark with its kind under the floor line. */
export function paintAngles(frame: Frame, layout: BandLayout): void {
  const { ctx, theme, camera } = frame;
  for (const angle of layout.angles) {
    const x = angle.at * camera.scale + camera.left;
    const foot = camera.top;
    const top = camera.top - layout.height * camera.scale;
    ctx.strokeStyle = theme.muted;
    ctx.lineWidth = 1;
    ctx.setLineDash(angle.kind === 'external' ? [8, 3, 2, 3] : angle.kind === 'internal' ? [4, 4] : [1, 4]);
    ctx.beginPath();
    ctx.moveTo(x, top);
    ctx.lineTo(x, foot);
    ctx.stroke();
    ctx.setLineDash([]);
    ctx.beginPath();
    // Seen from above: an internal angle opens towards the person, an external one away from them.
    const h = angle.kind === 'internal' ? -4 : angle.kind === 'external' ? 4 : 0;
    ctx.moveTo(x - 5, foot + 8 - h);
    ctx.lineTo(x, foot + 8 + h);
    ctx.lineTo(x + 5, foot + 8 - h);
    ctx.stroke();
  }
}

/** The wall's name above it; shorter where there is little room, and kept in sight while the wall is. */
export function paintCaption(
  doc: PlanDocument,
  frame: Frame,
  fabric: Fabric,
  layout: BandLayout,
  band: BandFace,
): void {
  const { ctx, camera, theme, size } = frame;
  const left = band.start * camera.scale + camera.left;
  const right = left + band.face.length * camera.scale;
  const x = Math.max(left, Math.min(6, right - 60));
  const room = right - x + 8;
  const title = faceHeading(fabric, band.face);
  const full = faceCaption(doc, fabric, band.face).slice(title.length + 2);
  const y = Math.max(12, camera.top - layout.height * camera.scale - headOf(size.height) + 16);
  if (left > size.width || right < 0) return;
  const fits = (words: string, font: string): boolean => {
    ctx.font = `${font} ${theme.font}`;
    return ctx.measureText(words).width <= room;
  };
  const name = roomTitle(fabric, band.face);
  const back = (words: string, font: string, dy: number): void => {
    ctx.font = `${font} ${theme.font}`;
    ctx.globalAlpha = 0.88;
    ctx.fillStyle = theme.paper;
    ctx.fillRect(x - 3, y + dy - 8, ctx.measureText(words).width + 6, 16);
    ctx.globalAlpha = 1;
  };
  const head = [`${title}, ${name}`, title, title.replace(' wall', '')].find((w) => fits(w, '600 13px'));
  const under = [full, metres(band.face.length)].find((w) => fits(w, '11px'));
  if (head) back(head, '600 13px', 0);
  if (under) back(under, '11px', 15);
  if (head) drawText(frame, head, { px: x, py: y }, { size: 13, bold: true, align: 'left' });
  if (under) drawText(frame, under, { px: x, py: y + 15 }, { size: 11, align: 'left', colour: theme.muted });
}

export function underline(frame: Frame, band: BandFace): void {
  const { ctx, camera, theme } = frame;
  const left = band.start * camera.scale + camera.left;
  ctx.fillStyle = theme.select;
  ctx.fillRect(left, camera.top + 1, band.face.length * camera.scale, 3);
}

export function paintCursor(frame: Frame, at: ScreenPoint): void {
  const { ctx, theme } = frame;
  ctx.strokeStyle = theme.accent;
  ctx.lineWidth = 1.5;
  ctx.beginPath();
  ctx.moveTo(at.px - 10, at.py);
  ctx.lineTo(at.px + 10, at.py);
  ctx.moveTo(at.px, at.py - 10);
  ctx.lineTo(at.px, at.py + 10);
  ctx.stroke();
}

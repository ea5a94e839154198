import type { Mm } from '../../engine/model/units.ts';
import { planToScreen } from '../../tools/camera.ts';
import { drawText } from '../shared/paint.ts';
import type { Frame } from '../shared/stage.ts';

/** Grid steps, mm: each a round number of the one before. */
const STEPS: readonly Mm[] = [100, 500, 1000, 5000, 10_000, 50_000];
const DOTS_APART = 14;

/** A fine dot grid, as close as still reads as a grid; nothing when even the widest step is too close. */
export function paintGrid(frame: Frame): void {
  const { ctx, camera, view, theme } = frame;
  const step = STEPS.find((s) => s * camera.scale >= DOTS_APART);
  if (step === undefined) return;
  ctx.fillStyle = theme.muted;
  ctx.globalAlpha = 0.35;
  const x0 = Math.ceil(view.minX / step) * step;
  const y0 = Math.ceil(view.minY / step) * step;
  for (let y = y0; y <= view.maxY; y += step) {
    for (let x = x0; x <= view.maxX; x += step) {
      const { px, py } = planToScreen(camera, { x, y });
      ctx.fillRect(Math.round(px), Math.round(py), 1, 1);
    }
  }
  ctx.globalAlpha = 1;
}

const BAR_LENGTHS: readonly Mm[] = [50, 100, 200, 500, 1000, 2000, 5000, 10_000, 20_000, 50_000];

/**
 * A scale bar at the bottom left: the longest round length that is at most about 160 pixels. Without a scale there is
 * nothing to measure by, and that is said instead.
 */
export function paintScaleBar(frame: Frame, known: boolean): void {
  const { ctx, camera, size, theme } = frame;
  if (!known) {
    drawText(frame, 'No scale yet', { px: 16, py: size.height - 19 }, { align: 'left', size: 11 });
    return;
  }
  const length = [...BAR_LENGTHS].reverse().find((l) => l * camera.scale <= 160) ?? (BAR_LENGTHS[0] as Mm);
  const width = length * camera.scale;
  const x = 16;
  const y = size.height - 16;
  ctx.lineWidth = 4;
  ctx.strokeStyle = theme.paper;
  ctx.beginPath();
  ctx.moveTo(x - 1, y);
  ctx.lineTo(x + width + 1, y);
  ctx.stroke();
  ctx.lineWidth = 1.5;
  ctx.strokeStyle = theme.ink;
  ctx.setLineDash([]);
  ctx.beginPath();
  ctx.moveTo(x, y - 5);
  ctx.lineTo(x, y);
  ctx.lineTo(x + width, y);
  ctx.lineTo(x + width, y - 5);
  ctx.moveTo(x + width / 2, y - 3);
  ctx.lineTo(x + width / 2, y);
  ctx.stroke();
  const text = length >= 1000 ? `${length / 1000} m` : `${length} mm`;
  drawText(frame, text, { px: x + width + 6, py: y - 3 }, { align: 'left', size: 11 });
}

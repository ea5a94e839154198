import type { FacePoint, PlanPoint, ScreenPoint } from '../../engine/model/units.ts';
import type { PreviewMark } from '../../tools/types.ts';
import { symbolUnit } from '../../tools/pick.ts';
import { drawPlate } from './paint.ts';
import { drawSymbol, symbolFor, symbolTurn } from './symbols.ts';
import type { Frame } from './stage.ts';
import type { Theme } from './theme.ts';

type Look = Extract<PreviewMark, { kind: 'line' }>['look'];

const DASH: Readonly<Record<Look, readonly number[]>> = {
  draft: [],
  guide: [2, 4],
  good: [],
  bad: [3, 2],
  disputed: [8, 3, 2, 3],
  snap: [5, 3],
};

function colourOf(theme: Theme, look: Look): string {
  if (look === 'good') return theme.inside;
  if (look === 'bad') return theme.outside;
  if (look === 'disputed') return theme.disputed;
  if (look === 'guide' || look === 'snap') return theme.guide;
  return theme.accent;
}

/** Paints a tool's preview. `toScreen` places plan points, or the points of one face. Labels come last, on top. */
export function paintMarks(
  frame: Frame,
  marks: readonly PreviewMark[],
  toScreen: (at: PlanPoint | FacePoint) => ScreenPoint,
): void {
  const { ctx, theme, camera } = frame;
  ctx.lineJoin = 'round';
  ctx.lineCap = 'butt';
  for (const mark of marks) {
    if (mark.kind !== 'line' || mark.points.length === 0) continue;
    const colour = colourOf(theme, mark.look);
    ctx.beginPath();
    mark.points.forEach((point, i) => {
      const { px, py } = toScreen(point);
      if (i === 0) ctx.moveTo(px, py);
      else ctx.lineTo(px, py);
    });
    if (mark.closed) {
      ctx.closePath();
      if (mark.look === 'draft' || mark.look === 'bad') {
        ctx.globalAlpha = 0.18;
        ctx.fillStyle = colour;
        ctx.fill();
        ctx.globalAlpha = 1;
      }
    }
    if (mark.half !== undefined && mark.half > 0) {
      ctx.setLineDash([]);
      ctx.globalAlpha = 0.3;
      ctx.lineWidth = Math.max(2, mark.half * 2 * camera.scale);
      ctx.strokeStyle = colour;
      ctx.stroke();
      ctx.globalAlpha = 1;
    }
    ctx.setLineDash([...DASH[mark.look]]);
    ctx.lineWidth = mark.look === 'guide' ? 1 : 2;
    ctx.strokeStyle = colour;
    ctx.stroke();
  }
  ctx.setLineDash([]);
  for (const mark of marks) {
    if (mark.kind !== 'spot') continue;
    const { px, py } = toScreen(mark.at);
    ctx.beginPath();
    if (mark.look === 'handle') ctx.rect(px - 4, py - 4, 8, 8);
    else ctx.arc(px, py, mark.look === 'snap' ? 5 : 3.5, 0, Math.PI * 2);
    ctx.lineWidth = 1.5;
    ctx.strokeStyle = mark.look === 'snap' ? theme.guide : theme.accent;
    ctx.fillStyle = mark.look === 'draft' ? theme.accent : theme.paper;
    if (mark.look !== 'snap') ctx.fill();
    ctx.stroke();
  }
  for (const mark of marks) {
    if (mark.kind !== 'symbol') continue;
    const turn = mark.into ? symbolTurn(mark.into) : 0;
    drawSymbol(
      ctx,
      symbolFor(mark.point),
      toScreen(mark.at),
      turn,
      symbolUnit(camera.scale),
      theme.accent,
      theme,
      2,
    );
  }
  for (const mark of marks) {
    if (mark.kind !== 'label') continue;
    const { px, py } = toScreen(mark.at);
    // Clear of the pointer's own spot, however many lines there are.
    drawPlate(frame, mark.text, { px, py: py - 11 - mark.text.split('\n').length * 7.5 });
  }
}

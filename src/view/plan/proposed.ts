import type { ProposedWall } from '../../engine/model/proposedWall.ts';
import type { PlanPoint } from '../../engine/model/units.ts';
import type { SessionState } from '../../tools/types.ts';
import { inMm } from '../shared/paint.ts';
import type { Frame } from '../shared/stage.ts';

/** Outline of a proposed wall, or of a gap in it, from `from` to `to` mm along it. */
function quadOf(wall: ProposedWall, from: number, to: number): PlanPoint[] {
  const length = Math.hypot(wall.b.x - wall.a.x, wall.b.y - wall.a.y) || 1;
  const [ux, uy] = [(wall.b.x - wall.a.x) / length, (wall.b.y - wall.a.y) / length];
  const half = wall.thickness / 2;
  const at = (along: number, aside: number): PlanPoint => ({
    x: wall.a.x + ux * along - uy * aside,
    y: wall.a.y + uy * along + ux * aside,
  });
  return [at(from, -half), at(to, -half), at(to, half), at(from, half)];
}

/** Walls found on a drawing, dashed: those that are ticked in full strength, the chosen one thicker, gaps as bare paper. */
export function paintProposed(frame: Frame, session: SessionState): void {
  const { proposal } = session;
  if (proposal?.storey !== session.storey) return;
  inMm(frame, (ctx, px) => {
    const trace = (quad: readonly PlanPoint[]): void => {
      ctx.beginPath();
      quad.forEach((p, i) => (i === 0 ? ctx.moveTo(p.x, p.y) : ctx.lineTo(p.x, p.y)));
      ctx.closePath();
    };
    for (const [i, wall] of proposal.walls.entries()) {
      const ticked = proposal.ticked.has(i);
      const colour = ticked ? frame.theme.accent : frame.theme.muted;
      const length = Math.hypot(wall.b.x - wall.a.x, wall.b.y - wall.a.y);
      trace(quadOf(wall, 0, length));
      ctx.globalAlpha = ticked ? 0.16 : 0.05;
      ctx.fillStyle = colour;
      ctx.fill();
      ctx.globalAlpha = ticked ? 1 : 0.6;
      ctx.strokeStyle = colour;
      ctx.lineWidth = (i === proposal.chosen ? 3 : 1.5) * px;
      ctx.setLineDash(ticked ? [6 * px, 4 * px] : [2 * px, 4 * px]);
      ctx.stroke();
      ctx.setLineDash([]);
      ctx.lineWidth = px;
      for (const gap of wall.openings) {
        trace(quadOf(wall, gap.along, gap.along + gap.width));
        ctx.globalAlpha = 0.7;
        ctx.fillStyle = frame.theme.paper;
        ctx.fill();
        ctx.globalAlpha = ticked ? 1 : 0.6;
        ctx.stroke();
      }
    }
    ctx.globalAlpha = 1;
  });
}

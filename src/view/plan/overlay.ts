import type { App } from '../../tools/app.ts';
import type { PlanDocument } from '../../engine/model/document.ts';
import type { PlanPoint } from '../../engine/model/units.ts';
import { planToScreen } from '../../tools/camera.ts';
import type { PlanShapes } from '../../tools/planShapes.ts';
import type { PreviewMark, Ref, SessionState } from '../../tools/types.ts';
import { paintMarks } from '../shared/marks.ts';
import { inMm } from '../shared/paint.ts';
import type { Frame } from '../shared/stage.ts';
import { symbolUnit } from '../../tools/pick.ts';
import { symbolMiddle } from './points.ts';
import { strokeLegs } from './runs.ts';

/** What is lit, hovered and selected, in that order, so that the selection is always on top. */
export function paintChosen(
  frame: Frame,
  doc: PlanDocument,
  shapes: PlanShapes,
  session: SessionState,
): void {
  paintLit(frame, doc, shapes, session.lit);
  if (session.hover) paintRef(frame, doc, shapes, session.hover, frame.theme.select, 0.4);
  for (const ref of session.selection) paintRef(frame, doc, shapes, ref, frame.theme.select, 1);
}

function paintLit(frame: Frame, doc: PlanDocument, shapes: PlanShapes, lit: ReadonlySet<string>): void {
  if (lit.size === 0) return;
  const { ctx, theme } = frame;
  ctx.globalAlpha = 0.35;
  strokeLegs(
    frame,
    doc,
    shapes,
    (leg) => lit.has(`run:${leg.run}`) || lit.has(`run:${leg.run}:${leg.stretch}`),
    theme.accent,
    8,
  );
  ctx.globalAlpha = 1;
  for (const shape of shapes.points) {
    if (lit.has(`point:${shape.id}`)) ringRound(frame, symbolMiddle(frame, shape), theme.accent, 3);
  }
  for (const key of lit) {
    const face = key.startsWith('face:') ? shapes.fabric?.faces.get(key.slice(5)) : undefined;
    if (face) paintLine(frame, [face.a, face.b], theme.accent, 5);
  }
}

function paintRef(
  frame: Frame,
  doc: PlanDocument,
  shapes: PlanShapes,
  ref: Ref,
  colour: string,
  strength: number,
): void {
  const { ctx } = frame;
  ctx.globalAlpha = strength;
  if (ref.table === 'walls') {
    const wall = shapes.walls.find((w) => w.id === ref.id);
    if (wall) {
      paintLine(frame, [...wall.quad, wall.quad[0]], colour, 2.5);
      if (strength === 1) for (const end of [wall.frame.from, wall.frame.to]) handle(frame, end, colour);
    }
  } else if (ref.table === 'openings') {
    const opening = shapes.openings.find((o) => o.id === ref.id);
    if (opening) paintLine(frame, [...opening.quad, opening.quad[0]], colour, 2.5);
  } else if (ref.table === 'things') {
    const thing = shapes.things.find((t) => t.id === ref.id);
    if (thing) paintLine(frame, [...thing.outline, ...thing.outline.slice(0, 1)], colour, 2.5);
  } else if (ref.table === 'nodes') {
    const node = shapes.nodes.find((n) => n.id === ref.id);
    if (node) handle(frame, node.at, colour);
  } else if (ref.table === 'points') {
    const point = shapes.points.find((p) => p.id === ref.id);
    if (point) ringRound(frame, symbolMiddle(frame, point), colour, 2);
  } else if (ref.table === 'roomTags') {
    const tag = doc.roomTags.byId[ref.id];
    if (tag) {
      const at = planToScreen(frame.camera, tag);
      ctx.font = `600 13px ${frame.theme.font}`;
      const width = ctx.measureText(tag.name).width + 14;
      ctx.strokeStyle = colour;
      ctx.lineWidth = 1.5;
      ctx.setLineDash([]);
      ctx.strokeRect(at.px - width / 2, at.py - 18, width, 36);
    }
  } else if (ref.table === 'runs') {
    ctx.globalAlpha = strength * 0.45;
    strokeLegs(frame, doc, shapes, (leg) => leg.run === ref.id, colour, strength === 1 ? 7 : 5);
    const stretch = /^leg:(\d+)$/.exec(ref.part ?? '')?.[1];
    if (stretch !== undefined && strength === 1) {
      ctx.globalAlpha = 0.8;
      strokeLegs(
        frame,
        doc,
        shapes,
        (leg) => leg.run === ref.id && leg.stretch === Number(stretch),
        colour,
        4,
      );
    }
  } else if (ref.table === 'tracings') {
    const u = shapes.tracings.find((each) => each.id === ref.id);
    if (u) {
      inMm(frame, (c, px) => {
        c.translate(u.lies.x, u.lies.y);
        c.rotate(u.lies.rotation);
        c.strokeStyle = colour;
        c.lineWidth = 2 * px;
        c.strokeRect(0, 0, u.source.width * u.scale.mmPerUnit, u.source.height * u.scale.mmPerUnit);
      });
    }
  }
  ctx.globalAlpha = 1;
}

function paintLine(frame: Frame, places: readonly PlanPoint[], colour: string, width: number): void {
  const { ctx, camera } = frame;
  ctx.strokeStyle = colour;
  ctx.lineWidth = width;
  ctx.lineJoin = 'round';
  ctx.setLineDash([]);
  ctx.beginPath();
  places.forEach((place, i) => {
    const { px, py } = planToScreen(camera, place);
    if (i === 0) ctx.moveTo(px, py);
    else ctx.lineTo(px, py);
  });
  ctx.stroke();
}

function handle(frame: Frame, at: PlanPoint, colour: string): void {
  const { ctx, camera, theme } = frame;
  const { px, py } = planToScreen(camera, at);
  ctx.setLineDash([]);
  ctx.lineWidth = 1.5;
  ctx.strokeStyle = colour;
  ctx.fillStyle = theme.paper;
  ctx.fillRect(px - 4, py - 4, 8, 8);
  ctx.strokeRect(px - 4, py - 4, 8, 8);
}

function ringRound(frame: Frame, at: { px: number; py: number }, colour: string, width: number): void {
  const { ctx, camera } = frame;
  ctx.strokeStyle = colour;
  ctx.lineWidth = width;
  ctx.setLineDash([]);
  ctx.beginPath();
  ctx.arc(at.px, at.py, 13 * symbolUnit(camera.scale), 0, Math.PI * 2);
  ctx.stroke();
}

/** The preview of the running tool; marks of a face's preview do not belong here. */
export function paintPreview(frame: Frame, app: App): void {
  const marks: readonly PreviewMark[] = app.runner.preview()?.plan ?? [];
  if (marks.length === 0) return;
  paintMarks(frame, marks, (at) => ('x' in at ? planToScreen(frame.camera, at) : { px: -1e4, py: -1e4 }));
}

/** The keyboard's cursor: a cross the full width of a fingertip, with the paper's colour round it. */
export function paintCursor(frame: Frame, at: { px: number; py: number } | null): void {
  if (at === null) return;
  const { ctx, theme } = frame;
  ctx.setLineDash([]);
  for (const [width, colour] of [
    [4, theme.paper],
    [1.5, theme.select],
  ] as const) {
    ctx.strokeStyle = colour;
    ctx.lineWidth = width;
    ctx.beginPath();
    ctx.moveTo(at.px - 14, at.py);
    ctx.lineTo(at.px - 4, at.py);
    ctx.moveTo(at.px + 4, at.py);
    ctx.lineTo(at.px + 14, at.py);
    ctx.moveTo(at.px, at.py - 14);
    ctx.lineTo(at.px, at.py - 4);
    ctx.moveTo(at.px, at.py + 4);
    ctx.lineTo(at.px, at.py + 14);
    ctx.stroke();
  }
}

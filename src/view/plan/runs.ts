import type { Id, PlanDocument } from '../../engine/model/document.ts';
import type { LegKind } from '../../engine/fabric/types.ts';
import { planToScreen } from '../../tools/camera.ts';
import { laneWidth, legLines } from '../../tools/planLegs.ts';
import type { PlanLeg } from '../../tools/planLegs.ts';
import type { PlanShapes } from '../../tools/planShapes.ts';
import { circuitColour } from '../shared/circuitColour.ts';
import type { LabelSpace } from '../shared/labels.ts';
import { drawText, inMm, lineSet, strokeLines, textWidth } from '../shared/paint.ts';
import type { LineSet } from '../shared/paint.ts';
import type { Frame } from '../shared/stage.ts';
import type { Theme } from '../shared/theme.ts';

/** How a leg is dashed, px: over the ceiling solid, under the floor dashed, in a wall dotted, loose dash-dot. */
export const LEG_DASH: Readonly<Record<LegKind, readonly number[]>> = {
  ceiling: [],
  floor: [9, 5],
  face: [2, 3],
  riser: [],
  through: [],
  over: [],
  corner: [],
  loose: [10, 3, 2, 3],
};

interface Look {
  readonly colour: string;
  readonly kind: LegKind;
  readonly set: LineSet;
}
interface RunPaint {
  readonly width: number;
  readonly theme: Theme;
  readonly circuits: PlanDocument['circuits'];
  readonly lines: readonly (readonly number[])[];
  readonly looks: readonly Look[];
  readonly drops: readonly { readonly colour: string; readonly x: number; readonly y: number }[];
}
const kept = new WeakMap<PlanShapes['legs'], RunPaint>();

/** Lanes are laid out for steps of zoom, not for every frame of it. */
function steppedWidth(scale: number): number {
  return laneWidth(2 ** (Math.round(Math.log2(scale) * 3) / 3));
}

/** A leg that breaks or strains a rule has the colour of its answer; the others that of their circuit. */
function legColour(doc: PlanDocument, leg: PlanLeg, theme: Theme): string {
  if (leg.answer === 'outside') return theme.outside;
  if (leg.answer === 'disputed') return theme.disputed;
  return circuitColour(doc, doc.runs.byId[leg.run]?.circuit ?? null, theme);
}

function runPaint(doc: PlanDocument, shapes: PlanShapes, frame: Frame): RunPaint {
  const width = steppedWidth(frame.camera.scale);
  const now = kept.get(shapes.legs);
  if (now && now.width === width && now.theme === frame.theme && now.circuits === doc.circuits) return now;
  const lines = legLines(shapes.legs, width);
  const groups = new Map<string, { colour: string; kind: LegKind; lines: number[][] }>();
  const drops: { colour: string; x: number; y: number }[] = [];
  shapes.legs.forEach((leg, i) => {
    const colour = legColour(doc, leg, frame.theme);
    if (leg.plumb) {
      drops.push({ colour, x: leg.a.x, y: leg.a.y });
      return;
    }
    const key = `${colour}/${leg.kind}`;
    let group = groups.get(key);
    if (!group) {
      group = { colour, kind: leg.kind, lines: [] };
      groups.set(key, group);
    }
    group.lines.push(lines[i] as number[]);
  });
  const looks = [...groups.values()].map(({ colour, kind, lines: own }) => ({
    colour,
    kind,
    set: lineSet(own),
  }));
  const paint = { width, theme: frame.theme, circuits: doc.circuits, lines, looks, drops };
  kept.set(shapes.legs, paint);
  return paint;
}

/** All runs of the storey, in their lanes; drops as small rings. */
export function paintRuns(frame: Frame, doc: PlanDocument, shapes: PlanShapes): void {
  if (shapes.legs.length === 0) return;
  const paint = runPaint(doc, shapes, frame);
  const { camera, theme, view } = frame;
  const fine = camera.scale < 0.03;
  inMm(frame, (ctx, px) => {
    ctx.lineJoin = 'round';
    ctx.lineWidth = (fine ? 1 : 1.6) * px;
    for (const look of paint.looks) {
      ctx.strokeStyle = look.colour;
      ctx.setLineDash(fine ? [] : LEG_DASH[look.kind].map((d) => d * px));
      strokeLines(frame, look.set);
    }
    ctx.setLineDash([]);
    if (fine) return;
    ctx.fillStyle = theme.paper;
    ctx.lineWidth = 1.2 * px;
    for (const drop of paint.drops) {
      if (drop.x < view.minX || drop.x > view.maxX || drop.y < view.minY || drop.y > view.maxY) continue;
      ctx.strokeStyle = drop.colour;
      ctx.beginPath();
      ctx.arc(drop.x, drop.y, 2.6 * px, 0, Math.PI * 2);
      ctx.fill();
      ctx.stroke();
    }
  });
}

/** With more runs than this in view their labels would only be noise, and slow. */
const LABELS_AT_MOST = 160;

/** The label of each run beside its longest leg in view, where there is room for it. */
export function paintRunLabels(frame: Frame, doc: PlanDocument, shapes: PlanShapes, space: LabelSpace): void {
  const { camera, theme, size, view } = frame;
  if (camera.scale < 0.035 || shapes.legs.length === 0) return;
  const paint = runPaint(doc, shapes, frame);
  const best = new Map<Id, { length: number; index: number }>();
  shapes.legs.forEach((leg, index) => {
    if (leg.plumb || Math.max(leg.a.x, leg.b.x) < view.minX || Math.min(leg.a.x, leg.b.x) > view.maxX) return;
    if (Math.max(leg.a.y, leg.b.y) < view.minY || Math.min(leg.a.y, leg.b.y) > view.maxY) return;
    const length = Math.hypot(leg.b.x - leg.a.x, leg.b.y - leg.a.y);
    const now = best.get(leg.run);
    if (length * camera.scale > 60 && (!now || length > now.length)) best.set(leg.run, { length, index });
  });
  if (best.size > LABELS_AT_MOST) return;
  for (const [run, { index }] of best) {
    const line = paint.lines[index] as readonly number[];
    const leg = shapes.legs[index] as PlanLeg;
    const n = line.length;
    const from = planToScreen(camera, { x: line[n - 4] as number, y: line[n - 3] as number });
    const to = planToScreen(camera, { x: line[n - 2] as number, y: line[n - 1] as number });
    const label = doc.runs.byId[run]?.label ?? run;
    const width = textWidth(frame, label, 10, true) + 6;
    const spots = [0.5, 0.35, 0.65, 0.25, 0.75].map((t) => ({
      px: from.px + (to.px - from.px) * t,
      py: from.py + (to.py - from.py) * t,
    }));
    const inside = spots.filter((s) => s.px > 0 && s.py > 0 && s.px < size.width && s.py < size.height);
    const at = space.place(inside, width, 13);
    if (at) drawText(frame, label, at, { size: 10, bold: true, colour: legColour(doc, leg, theme) });
  }
}

/** Thick strokes under or over chosen legs: for what is selected, hovered or lit. */
export function strokeLegs(
  frame: Frame,
  doc: PlanDocument,
  shapes: PlanShapes,
  choose: (leg: PlanLeg) => boolean,
  colour: string,
  width: number,
): void {
  if (shapes.legs.length === 0) return;
  const paint = runPaint(doc, shapes, frame);
  inMm(frame, (ctx, px) => {
    ctx.strokeStyle = colour;
    ctx.lineWidth = width * px;
    ctx.lineCap = 'round';
    ctx.lineJoin = 'round';
    ctx.beginPath();
    shapes.legs.forEach((leg, i) => {
      if (!choose(leg)) return;
      if (leg.plumb) {
        ctx.moveTo(leg.a.x + 4 * px, leg.a.y);
        ctx.arc(leg.a.x, leg.a.y, 4 * px, 0, Math.PI * 2);
        return;
      }
      const line = paint.lines[i] as readonly number[];
      for (let k = 0; k + 1 < line.length; k += 2) {
        if (k === 0) ctx.moveTo(line[0] as number, line[1] as number);
        else ctx.lineTo(line[k] as number, line[k + 1] as number);
      }
    });
    ctx.stroke();
  });
}

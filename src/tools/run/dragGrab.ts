import type { Grab } from './grab.ts';
import { guideMarks, guidesOf, nearestGuide, type Guide } from './guides.ts';
import { facePlace, onFace, planOf } from './places.ts';
import { plateMark, snapPoint } from './pointSnap.ts';
import { legPreview } from './preview.ts';
import { movePoint } from '../../document/commands/points.ts';
import { moveCorner, moveStretch } from '../../document/commands/runCorners.ts';
import type { Shift } from '../../document/commands/shift.ts';
import { together } from '../../document/transact.ts';
import type { Command } from '../../document/types.ts';
import { resolveRun } from '../../engine/fabric/resolve.ts';
import type { Fabric, Face, FaceId } from '../../engine/fabric/types.ts';
import type { Id, Place, PlanDocument, Run } from '../../engine/model/document.ts';
import type { FacePoint, Mm, PlanPoint } from '../../engine/model/units.ts';
import { checkRun } from '../../engine/zones/checkRun.ts';
import type { Preview, PreviewMark, Spot, ToolContext } from '../types.ts';

/** A drag as it stands: what letting go would do (null: nothing), and what to show. */
export interface Drag {
  readonly command: Command | null;
  readonly preview: Preview;
}

type FaceMarks = Map<FaceId, PreviewMark[]>;
const NONE: Drag = { command: null, preview: { plan: [], faces: new Map() } };

/** What the drag of a grab from one spot to another makes; always from where it began, never added up. */
export function dragGrab(ctx: ToolContext, grab: Grab, from: Spot, to: Spot, alt: boolean): Drag {
  if (grab.kind === 'point') return dragPoint(ctx, grab, from, to, alt);
  const run = ctx.doc.runs.byId[grab.run];
  if (!run) return NONE;
  return grab.kind === 'stretch'
    ? dragStretch(ctx, run, grab, from, to, alt)
    : dragCorner(ctx, run, grab.corner, from, to, alt);
}

/** The run of the document the command would make, as preview lines; a refusal shows nothing but its words. */
function shown(
  ctx: ToolContext,
  command: Command,
  runs: readonly Id[],
  faces: FaceMarks,
  plan: PreviewMark[],
  at: Spot,
): Drag {
  const done = command.apply(ctx.doc);
  if (!done.ok) {
    const label: PreviewMark = { kind: 'label', at: at.at, text: done.reason };
    if (at.surface === 'plan') return { command: null, preview: { plan: [...plan, label], faces } };
    return { command: null, preview: { plan, faces: new Map([...faces, [at.face, [label]]]) } };
  }
  const { fabrics, zones } = ctx.derived;
  for (const id of runs) {
    const run = done.doc.runs.byId[id];
    if (!run) continue;
    const legs = checkRun({ doc: done.doc, fabrics, zones }, run, resolveRun(done.doc, fabrics, run)).legs;
    const lines = legPreview(legs);
    plan.push(...lines.plan);
    for (const [face, marks] of lines.faces) faces.set(face, [...marks, ...(faces.get(face) ?? [])]);
  }
  return { command, preview: { plan, faces } };
}

function fabricOf(ctx: ToolContext, face: FaceId): { fabric: Fabric; face: Face } | null {
  for (const fabric of ctx.derived.fabrics.values()) {
    const found = fabric.faces.get(face);
    if (found) return { fabric, face: found };
  }
  return null;
}

/** What a leg may be held by on a face; nothing with snapping off. */
function guidesOn(ctx: ToolContext, fabric: Fabric, face: Face): readonly Guide[] {
  return ctx.session.snapping ? guidesOf(ctx.doc, fabric, ctx.derived.zones.get(face.id) ?? [], face) : [];
}

/** A shift along a face's length as plan x and y. */
function alongFace(face: Face, du: Mm, dz: Mm): Shift {
  const l = face.length || 1;
  return { x: ((face.b.x - face.a.x) / l) * du, y: ((face.b.y - face.a.y) / l) * du, z: dz };
}

function dragStretch(
  ctx: ToolContext,
  run: Run,
  grab: Extract<Grab, { kind: 'stretch' }>,
  from: Spot,
  to: Spot,
  alt: boolean,
): Drag {
  const { leg } = grab;
  const faces: FaceMarks = new Map();
  if (from.surface === 'face' && to.surface === 'face') {
    const found = fabricOf(ctx, from.face);
    if (!found || !leg.fa || !leg.fb || to.face !== from.face) return NONE;
    const level = Math.abs(leg.fb.z - leg.fa.z) <= Math.abs(leg.fb.u - leg.fa.u);
    const axis = level ? 'z' : 'u';
    const wish = leg.fa[axis] + to.at[axis] - from.at[axis];
    const guide = alt
      ? null
      : nearestGuide(guidesOn(ctx, found.fabric, found.face), axis, wish, ctx.tolerance / ctx.scale);
    const value = guide?.value ?? Math.round(wish);
    const by = value - leg.fa[axis];
    const at: FacePoint = level ? { u: to.at.u, z: value } : { u: value, z: to.at.z };
    faces.set(from.face, [
      ...(guide ? guideMarks(found.face, at, [guide]) : []),
      {
        kind: 'label',
        at,
        text: [`${Math.round(value)} ${level ? 'up' : 'from the left'}`, ...(guide ? [guide.why] : [])].join(
          '\n',
        ),
      },
    ]);
    const shift = level ? { x: 0, y: 0, z: by } : alongFace(found.face, by, 0);
    if (Math.abs(by) < 0.01) return { command: null, preview: { plan: [], faces } };
    return shown(ctx, moveStretch(run.id, grab.stretch, shift), [run.id], faces, [], to);
  }
  if (from.surface !== 'plan' || to.surface !== 'plan') return NONE;
  const length = Math.hypot(leg.b.x - leg.a.x, leg.b.y - leg.a.y);
  if (length < 1) return NONE;
  const n = { x: -(leg.b.y - leg.a.y) / length, y: (leg.b.x - leg.a.x) / length };
  const moved = (to.at.x - from.at.x) * n.x + (to.at.y - from.at.y) * n.y;
  const line = alt || !ctx.session.snapping ? null : inLineWith(ctx, leg.a, n, moved);
  const by = line?.by ?? Math.round(moved);
  if (Math.abs(by) < 0.01) return NONE;
  const plan: PreviewMark[] = [
    { kind: 'label', at: to.at, text: line ? `in line with ${line.label}` : `${Math.abs(by)} mm across` },
  ];
  return shown(
    ctx,
    moveStretch(run.id, grab.stretch, { x: n.x * by, y: n.y * by, z: 0 }),
    [run.id],
    faces,
    plan,
    to,
  );
}

/** The shift that brings a leg in line with a point of the storey, when one is near. */
function inLineWith(
  ctx: ToolContext,
  a: PlanPoint,
  n: PlanPoint,
  moved: Mm,
): { by: Mm; label: string } | null {
  const fabric = ctx.derived.fabrics.get(ctx.session.storey);
  let best: { by: Mm; label: string } | null = null;
  for (const id of fabric ? ctx.doc.points.order : []) {
    const point = ctx.doc.points.byId[id];
    const at = point && fabric ? planOf(fabric, point.place) : null;
    if (!point || !at) continue;
    const by = (at.x - a.x) * n.x + (at.y - a.y) * n.y;
    if (Math.abs(by - moved) > ctx.tolerance / ctx.scale) continue;
    if (best === null || Math.abs(by - moved) < Math.abs(best.by - moved)) best = { by, label: point.label };
  }
  return best;
}

/** A corner with its two legs kept level, plumb and square; alone (and so perhaps askew) with Alt. */
function dragCorner(ctx: ToolContext, run: Run, corner: number, from: Spot, to: Spot, alt: boolean): Drag {
  const place = run.corners[corner];
  if (!place) return NONE;
  const faces: FaceMarks = new Map();
  if (to.surface === 'face' && from.surface === 'face') {
    const found = fabricOf(ctx, from.face);
    const on = found && onFace(found.fabric, place);
    if (!found || !on || to.face !== from.face) return NONE;
    const guides = guidesOn(ctx, found.fabric, found.face);
    const reach = ctx.tolerance / ctx.scale;
    const wish = { u: on.at.u + to.at.u - from.at.u, z: on.at.z + to.at.z - from.at.z };
    const held = [nearestGuide(guides, 'u', wish.u, reach), nearestGuide(guides, 'z', wish.z, reach)];
    const at = { u: held[0]?.value ?? Math.round(wish.u), z: held[1]?.value ?? Math.round(wish.z) };
    const kept = held.filter((g) => g !== null);
    const words = [`${Math.round(at.u)} from the left, ${Math.round(at.z)} up`, ...kept.map((g) => g.why)];
    faces.set(from.face, [
      ...guideMarks(found.face, at, kept),
      { kind: 'label', at, text: words.join('\n') },
    ]);
    const target = facePlace(found.face, at);
    if (!target) return NONE;
    const shift = alongFace(found.face, at.u - on.at.u, at.z - on.at.z);
    const command = alt
      ? moveCorner(run.id, corner, target)
      : squareCorner(ctx.doc, run, corner, shift, target);
    return shown(ctx, command, [run.id], faces, [], { ...to, at });
  }
  if (to.surface !== 'plan' || from.surface !== 'plan' || place.on === 'face') return NONE;
  const shift = { x: Math.round(to.at.x - from.at.x), y: Math.round(to.at.y - from.at.y), z: 0 };
  const target: Place = { ...place, x: place.x + shift.x, y: place.y + shift.y };
  const command = alt
    ? moveCorner(run.id, corner, target)
    : squareCorner(ctx.doc, run, corner, shift, target);
  return shown(ctx, command, [run.id], faces, [], to);
}

/**
 * Moves the legs on both sides of a corner, each by the part of the shift square to it. The later leg goes first: what it
 * adds or drops lies behind the earlier one, whose number then still holds.
 */
function squareCorner(doc: PlanDocument, run: Run, corner: number, shift: Shift, target: Place): Command {
  const path = [
    doc.points.byId[run.from ?? '']?.place ?? null,
    ...run.corners,
    doc.points.byId[run.to ?? '']?.place ?? null,
  ];
  const parts: Command[] = [];
  for (const stretch of [corner + 1, corner]) {
    const a = path[stretch];
    const b = path[stretch + 1];
    if (!a || !b) continue;
    const part = acrossPart(a, b, shift);
    if (part === null) return moveCorner(run.id, corner, target);
    if (Math.hypot(part.x, part.y, part.z) > 0.01) parts.push(moveStretch(run.id, stretch, part));
  }
  return parts.length === 0 ? moveCorner(run.id, corner, target) : together('Move corner', parts);
}

/** The part of a shift square to a stretch that is level or plumb; null for one that is neither. */
function acrossPart(a: Place, b: Place, shift: Shift): Shift | null {
  const onWall = a.on === 'face' && b.on === 'face';
  if (onWall) {
    if (Math.abs(a.z - b.z) <= 1) return { x: 0, y: 0, z: shift.z };
    return Math.abs(a.along - b.along) <= 1 && a.wall === b.wall ? { x: shift.x, y: shift.y, z: 0 } : null;
  }
  if (a.on === 'face' || b.on === 'face') return { x: shift.x, y: shift.y, z: 0 };
  if (a.on === 'free' || b.on === 'free') return null;
  const length = Math.hypot(b.x - a.x, b.y - a.y);
  if (length < 1) return { x: shift.x, y: shift.y, z: 0 };
  const n = { x: -(b.y - a.y) / length, y: (b.x - a.x) / length };
  const by = shift.x * n.x + shift.y * n.y;
  return { x: n.x * by, y: n.y * by, z: 0 };
}

function dragPoint(
  ctx: ToolContext,
  grab: Extract<Grab, { kind: 'point' }>,
  from: Spot,
  to: Spot,
  alt: boolean,
): Drag {
  const point = ctx.doc.points.byId[grab.point];
  const found = to.surface === 'face' ? fabricOf(ctx, to.face) : null;
  if (!point || !found || to.surface !== 'face' || from.surface !== 'face') return NONE;
  const same = to.face === grab.on.face.id;
  const wish = same
    ? { u: grab.on.at.u + to.at.u - from.at.u, z: grab.on.at.z + to.at.z - from.at.z }
    : { u: to.at.u, z: grab.on.at.z + to.at.z - from.at.z };
  const reach = alt || !ctx.session.snapping ? 0 : ctx.tolerance / ctx.scale;
  const spot = snapPoint(ctx.doc, found.fabric, found.face, wish, point.kind, point.gangs, point.id, reach);
  const place = facePlace(found.face, spot.at);
  if (!place) return NONE;
  const faces: FaceMarks = new Map([
    [found.face.id, [plateMark(spot.at, point.kind, point.gangs), ...spot.marks]],
  ]);
  const touched = Object.values(ctx.doc.runs.byId).filter((r) => r.from === point.id || r.to === point.id);
  return shown(
    ctx,
    movePoint(point.id, place),
    touched.map((r) => r.id),
    faces,
    [],
    to,
  );
}

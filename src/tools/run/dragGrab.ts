import type { Grab } from './grab.ts';
import { guideMarks, guidesOf, nearestGuide, type Guide } from './guides.ts';
import { facePlace, onFace, planOf } from './places.ts';
import { legPreview } from './preview.ts';
import { faceById } from '../onFaces.ts';
import { roundStep } from '../snap.ts';
import { aimPoint } from '../point/aimPoint.ts';
import { movePoint } from '../../document/commands/points.ts';
import { moveCorner, moveStretch } from '../../document/commands/runCorners.ts';
import type { Command } from '../../document/types.ts';
import { resolveRun } from '../../engine/fabric/resolve.ts';
import type { Fabric, Face, FaceId } from '../../engine/fabric/types.ts';
import type { Id, Place, Run } from '../../engine/model/document.ts';
import type { FacePoint, Mm, PlanPoint, SpacePoint } from '../../engine/model/units.ts';
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

/** A drag that strays less than this from straight is straight: no jogs of a few millimetres. */
const STRAIGHT_PX = 4;

/** A move in whole steps of this scale; none for the little that a straight drag strays. */
function moveBy(ctx: ToolContext, by: Mm): Mm {
  if (Math.abs(by) * ctx.scale < STRAIGHT_PX) return 0;
  const step = roundStep(ctx.scale);
  return Math.round(by / step) * step;
}

/** What a leg may be held by on a face; nothing with snapping off. */
function guidesOn(ctx: ToolContext, fabric: Fabric, face: Face): readonly Guide[] {
  return ctx.session.snapping ? guidesOf(ctx.doc, fabric, ctx.derived.zones.get(face.id) ?? [], face) : [];
}

/** A shift along a face's length as plan x and y. */
function alongFace(face: Face, du: Mm, dz: Mm): SpacePoint {
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
    const found = faceById(ctx.derived, from.face);
    if (!found || !leg.fa || !leg.fb || to.face !== from.face) return NONE;
    const level = Math.abs(leg.fb.z - leg.fa.z) <= Math.abs(leg.fb.u - leg.fa.u);
    const axis = level ? 'z' : 'u';
    const wish = leg.fa[axis] + to.at[axis] - from.at[axis];
    const guide = alt
      ? null
      : nearestGuide(guidesOn(ctx, found.fabric, found.face), axis, wish, ctx.tolerance / ctx.scale);
    const value = guide?.value ?? leg.fa[axis] + moveBy(ctx, to.at[axis] - from.at[axis]);
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
  const by = line?.by ?? moveBy(ctx, moved);
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
    const found = faceById(ctx.derived, from.face);
    const on = found && onFace(found.fabric, place);
    if (!found || !on || to.face !== from.face) return NONE;
    const guides = guidesOn(ctx, found.fabric, found.face);
    const reach = ctx.tolerance / ctx.scale;
    const wish = { u: on.at.u + to.at.u - from.at.u, z: on.at.z + to.at.z - from.at.z };
    const held = [nearestGuide(guides, 'u', wish.u, reach), nearestGuide(guides, 'z', wish.z, reach)];
    const at = {
      u: held[0]?.value ?? on.at.u + moveBy(ctx, to.at.u - from.at.u),
      z: held[1]?.value ?? on.at.z + moveBy(ctx, to.at.z - from.at.z),
    };
    const kept = held.filter((g) => g !== null);
    const words = [`${Math.round(at.u)} from the left, ${Math.round(at.z)} up`, ...kept.map((g) => g.why)];
    faces.set(from.face, [
      ...guideMarks(found.face, at, kept),
      { kind: 'label', at, text: words.join('\n') },
    ]);
    const target = facePlace(found.face, at);
    if (!target) return NONE;
    const command = moveCorner(run.id, corner, target, !alt);
    return shown(ctx, command, [run.id], faces, [], { ...to, at });
  }
  if (to.surface !== 'plan' || from.surface !== 'plan' || place.on === 'face') return NONE;
  const target: Place = {
    ...place,
    x: place.x + moveBy(ctx, to.at.x - from.at.x),
    y: place.y + moveBy(ctx, to.at.y - from.at.y),
  };
  const command = moveCorner(run.id, corner, target, !alt);
  return shown(ctx, command, [run.id], faces, [], to);
}

/** A point along its wall (or onto another one in the band) and up or down, with the snapping of placing it. */
function dragPoint(
  ctx: ToolContext,
  grab: Extract<Grab, { kind: 'point' }>,
  from: Spot,
  to: Spot,
  alt: boolean,
): Drag {
  const point = ctx.doc.points.byId[grab.point];
  if (!point || to.surface !== 'face' || from.surface !== 'face') return NONE;
  const off =
    to.face === grab.on.face.id
      ? { u: grab.on.at.u - from.at.u, z: grab.on.at.z - from.at.z }
      : { u: 0, z: 0 };
  const aim = aimPoint(
    ctx,
    { ...to, at: { u: to.at.u + off.u, z: to.at.z + off.z } },
    {
      kind: point.kind,
      height: null,
      without: new Set([point.id]),
      snapping: ctx.session.snapping && !alt,
      tolerance: ctx.tolerance,
    },
  );
  if (!aim.ok)
    return {
      command: null,
      preview: { plan: [], faces: new Map([[to.face, [{ kind: 'label', at: to.at, text: aim.reason }]]]) },
    };
  const faces: FaceMarks = new Map([...aim.preview.faces].map(([face, marks]) => [face, [...marks]]));
  const touched = Object.values(ctx.doc.runs.byId).filter((r) => r.from === point.id || r.to === point.id);
  const runs = touched.map((r) => r.id);
  return shown(ctx, movePoint(point.id, aim.place), runs, faces, [...aim.preview.plan], to);
}

import { alongOfU, facePlan, roomAt, topAt } from '../../engine/fabric/lookup.ts';
import type { Fabric, Face } from '../../engine/fabric/types.ts';
import type { Gangs, Id, Place, PointKind } from '../../engine/model/document.ts';
import { POINT_KINDS } from '../../engine/model/pointKinds.ts';
import { rows } from '../../engine/model/tables.ts';
import type { FacePoint, Mm, PlanPoint } from '../../engine/model/units.ts';
import { mmText } from '../lengthText.ts';
import { shapesOf } from '../kit.ts';
import { faceById, faceNear, intoRoom, pointsOn } from '../onFaces.ts';
import type { PointOnFace } from '../onFaces.ts';
import { spotInRoom } from '../planShapes.ts';
import { nearestGuide } from '../run/guides.ts';
import { plateMark, pointGuides, snapPoint } from './pointSnap.ts';
import { roundStep } from '../snap.ts';
import type { Preview, PreviewMark, Spot, ToolContext } from '../types.ts';

/** Where a point would go, shown before it does; or why it cannot. */
export type Aim =
  | { readonly ok: true; readonly place: Place; readonly preview: Preview; readonly says: string }
  | { readonly ok: false; readonly preview: Preview | null; readonly reason: string };

export interface AimOptions {
  readonly kind: PointKind;
  readonly gangs?: Gangs;
  /** Height asked for; null for the usual one or that of its like on the wall. */
  readonly height: Mm | null;
  /** Points that are being moved themselves. */
  readonly without?: ReadonlySet<Id>;
  readonly snapping: boolean;
  readonly tolerance: number;
}

/** How far a pointer on the plan may be from a wall for a wall point to follow it, px. */
const WALL_REACH_PX = 90;

/** The place a pointer means for a point of this kind. Pure; distances in mm and screen pixels. */
export function aimPoint(ctx: ToolContext, spot: Spot, options: AimOptions): Aim {
  return spot.surface === 'face'
    ? aimOnFace(ctx, spot.face, spot.at, options)
    : aimOnPlan(ctx, spot.at, options);
}

function aimOnPlan(ctx: ToolContext, p: PlanPoint, options: AimOptions): Aim {
  const facts = POINT_KINDS[options.kind];
  const { fabric } = shapesOf(ctx);
  const wallOk = facts.hosts.includes('face');
  const openOk = facts.hosts.find((host) => host !== 'face');
  const on = wallOk && fabric ? faceNear(fabric, p, (openOk ? 25 : WALL_REACH_PX) / ctx.scale) : null;
  if (on && fabric) return aimAlongFace(ctx, fabric, on.face, on.u, options);
  if (openOk === undefined) {
    const reason = fabric && fabric.faces.size > 0 ? 'Move nearer to a wall.' : 'Draw the walls first.';
    return { ok: false, preview: null, reason: `A ${facts.name.toLowerCase()} goes on a wall. ${reason}` };
  }
  return aimOpen(ctx, p, openOk, options);
}

function aimAlongFace(ctx: ToolContext, fabric: Fabric, face: Face, u: Mm, options: AimOptions): Aim {
  const { kind, gangs = 1, without = new Set() } = options;
  const reach = options.snapping ? options.tolerance / ctx.scale : 0;
  const guides = reach > 0 ? pointGuides(ctx.doc, fabric, face, kind, without) : [];
  const guide = nearestGuide(guides, 'u', u, reach);
  const step = options.snapping ? roundStep(ctx.scale) : 1;
  const along = guide?.value ?? Math.max(0, Math.min(face.length, Math.round(u / step) * step));
  const neighbours = pointsOn(fabric, rows(ctx.doc.points), face, without);
  const height = heightFor(kind, options.height, neighbours, along);
  const z = Math.min(height.z, topAt(face, along));
  const on = alongOfU(face, along);
  if (!on) return { ok: false, preview: null, reason: 'That is the end of a wall.' };
  const at = facePlan(face, along);
  const into = intoRoom(face);
  // The label stands beyond the symbol, in the room; labels are drawn 18 px above their place.
  const out = 42 / ctx.scale;
  const aside = { x: at.x + into.x * out * 2, y: at.y + into.y * out + 18 / ctx.scale };
  const text = [
    `${mmText(along)} from the left, ${mmText(z)} up`,
    [guide?.why, height.why].filter(Boolean).join(', '),
  ].filter((line) => line !== '');
  const marks: PreviewMark[] = [
    { kind: 'line', points: [face.a, face.b], look: 'guide' },
    { kind: 'symbol', at, point: { kind, gangs }, into },
    ...(guide ? [{ kind: 'spot', at, look: 'snap' } as const] : []),
    { kind: 'label', at: aside, text: text.join('\n') },
  ];
  const preview = { plan: marks, faces: new Map([[face.id, [plateMark({ u: along, z }, kind, gangs)]]]) };
  return { ok: true, place: { on: 'face', ...on, z }, preview, says: text.join('; ') };
}

/** The height a point gets on the plan: the one asked for, else that of the nearest of its kind there, else the usual. */
export function heightFor(
  kind: PointKind,
  asked: Mm | null,
  neighbours: readonly PointOnFace[],
  u: Mm,
): { readonly z: Mm; readonly why: string | null } {
  const usual = POINT_KINDS[kind].height;
  if (asked !== null) return { z: asked, why: null };
  const like = neighbours
    .filter((n) => n.point.kind === kind)
    .sort((a, b) => Math.abs(a.at.u - u) - Math.abs(b.at.u - u))[0];
  if (!like || like.at.z === usual) return { z: usual, why: null };
  return { z: like.at.z, why: `height of ${like.point.label}` };
}

/** On a ceiling, a floor or free in the room: the middle of the room, and in line with others there. */
function aimOpen(ctx: ToolContext, p: PlanPoint, on: 'ceiling' | 'floor' | 'free', options: AimOptions): Aim {
  const shapes = shapesOf(ctx);
  const step = options.snapping ? roundStep(ctx.scale) : 1;
  const reach = options.tolerance / ctx.scale;
  const room = shapes.fabric ? roomAt(shapes.fabric, p) : null;
  const x: Offer[] = [];
  const y: Offer[] = [];
  if (room) {
    const middle = spotInRoom(room.outline, room.holes);
    x.push({ value: middle.x, label: 'Middle of the room', rank: 0, from: middle });
    y.push({ value: middle.y, label: 'Middle of the room', rank: 0, from: middle });
  }
  for (const other of shapes.points) {
    if (other.into !== null || options.without?.has(other.id)) continue;
    x.push({ value: other.at.x, label: `In line with ${other.point.label}`, rank: 1, from: other.at });
    y.push({ value: other.at.y, label: `In line with ${other.point.label}`, rank: 1, from: other.at });
  }
  const sx = options.snapping ? nearest(x, p.x, reach) : null;
  const sy = options.snapping ? nearest(y, p.y, reach) : null;
  const at = {
    x: sx?.value ?? Math.round(p.x / step) * step,
    y: sy?.value ?? Math.round(p.y / step) * step,
  };
  const marks: PreviewMark[] = [];
  for (const snapped of [sx, sy]) {
    if (snapped) marks.push({ kind: 'line', points: [snapped.from, at], look: 'guide' });
  }
  const labels = [...new Set([sx?.label, sy?.label].filter((label) => label !== undefined))];
  const where = on === 'free' ? 'Free in the room' : on === 'ceiling' ? 'On the ceiling' : 'On the floor';
  const text = [where, labels.join(', ')].filter((line) => line !== '');
  marks.push({ kind: 'symbol', at, point: { kind: options.kind, gangs: options.gangs ?? 1 }, into: null });
  if (labels.length > 0) marks.push({ kind: 'spot', at, look: 'snap' });
  marks.push({ kind: 'label', at: { x: at.x, y: at.y - 8 / ctx.scale }, text: text.join('\n') });
  const storey = ctx.session.storey;
  const place: Place =
    on === 'free'
      ? { on, storey, ...at, z: options.height ?? POINT_KINDS[options.kind].height }
      : { on, storey, ...at };
  return { ok: true, place, preview: { plan: marks, faces: new Map() }, says: text.join('; ') };
}

function aimOnFace(ctx: ToolContext, id: string, at: FacePoint, options: AimOptions): Aim {
  const { kind, gangs = 1, without = new Set() } = options;
  const facts = POINT_KINDS[kind];
  if (!facts.hosts.includes('face')) {
    return {
      ok: false,
      preview: null,
      reason: `A ${facts.name.toLowerCase()} goes on the plan, not on a wall.`,
    };
  }
  const found = faceById(ctx.derived, id);
  if (!found) return { ok: false, preview: null, reason: 'That wall is no longer in the plan.' };
  const { face, fabric } = found;
  const reach = options.snapping ? options.tolerance / ctx.scale : 0;
  const wish = options.height === null ? at : { u: at.u, z: options.height };
  const spot = snapPoint(ctx.doc, fabric, face, wish, kind, gangs, without, reach);
  const z = Math.min(options.height ?? spot.at.z, topAt(face, spot.at.u));
  const on = alongOfU(face, spot.at.u);
  if (!on) return { ok: false, preview: null, reason: 'That is the end of a wall.' };
  const placed = { u: spot.at.u, z };
  return {
    ok: true,
    place: { on: 'face', ...on, z },
    preview: {
      plan: [{ kind: 'spot', at: facePlan(face, placed.u), look: 'draft' }],
      faces: new Map([[face.id, [plateMark(placed, kind, gangs), ...spot.marks]]]),
    },
    says: [`${mmText(placed.u)} from the left, ${mmText(z)} up`, ...spot.reasons].join('; '),
  };
}

interface Offer {
  readonly value: Mm;
  readonly label: string;
  readonly rank: number;
  readonly from: PlanPoint;
}

/** The offer nearest to a value within reach; those of the lowest rank first. */
function nearest(offers: readonly Offer[], value: Mm, reach: Mm): Offer | null {
  const near = offers
    .filter((o) => Math.abs(o.value - value) <= reach)
    .sort((a, b) => a.rank - b.rank || Math.abs(a.value - value) - Math.abs(b.value - value));
  return near[0] ?? null;
}

import { moveNode, moveWall } from '../../document/commands/moveWalls.ts';
import { editOpening } from '../../document/commands/openings.ts';
import { movePoints } from '../../document/commands/points.ts';
import { editRoomTag, editThing } from '../../document/commands/rooms.ts';
import type { Command } from '../../document/types.ts';
import { faceSurfacePoint, wallFrame } from '../../engine/fabric/wallFrame.ts';
import type { Id, Place, PlanDocument, ThingPlace } from '../../engine/model/document.ts';
import { rows } from '../../engine/model/tables.ts';
import type { Mm, PlanPoint } from '../../engine/model/units.ts';
import { shapesOf, snapOptions, toleranceOf } from '../kit.ts';
import { mmText } from '../lengthText.ts';
import { placeAlong, wallUnder } from '../opening/alongWall.ts';
import { aimPoint } from '../point/aimPoint.ts';
import { roundStep, snapPlan } from '../snap.ts';
import type { Preview, PreviewMark, Ref, ToolContext, ToolEvent } from '../types.ts';

/** What letting go would do (null: nothing yet) and what to show meanwhile. */
export interface Dragged {
  readonly command: Command | null;
  readonly preview: Preview | null;
}

/** Records the select tool drags on the plan; the others only let themselves be selected. */
export function canDrag(ref: Ref): boolean {
  return ['points', 'walls', 'nodes', 'openings', 'roomTags', 'things'].includes(ref.table);
}

/** A drag of a record from one place of the plan to another: reckoned afresh from its start, never added up. */
export function dragRecord(
  ctx: ToolContext,
  ref: Ref,
  from: PlanPoint,
  to: PlanPoint,
  event: ToolEvent,
): Dragged {
  const by = { x: to.x - from.x, y: to.y - from.y };
  if (ref.table === 'points') return dragPoints(ctx, ref.id, by, event);
  if (ref.table === 'walls') return dragWall(ctx, ref.id, by, event);
  if (ref.table === 'nodes') return dragNode(ctx, ref.id, by, event);
  if (ref.table === 'openings') return dragOpening(ctx, ref.id, from, to, event);
  if (ref.table === 'roomTags') return dragTag(ctx, ref.id, by);
  if (ref.table === 'things') return dragThing(ctx, ref.id, by);
  return { command: null, preview: null };
}

function plan(marks: readonly PreviewMark[]): Preview {
  return { plan: marks, faces: new Map() };
}

/** The command with what it makes of the walls as a preview; a refusal shows its reason instead. */
function shown(
  ctx: ToolContext,
  command: Command,
  at: PlanPoint,
  text: string,
  more: readonly PreviewMark[],
): Dragged {
  const outcome = command.apply(ctx.doc);
  if (!outcome.ok) return { command: null, preview: plan([{ kind: 'label', at, text: outcome.reason }]) };
  return {
    command,
    preview: plan([...movedWalls(ctx.doc, outcome.doc), ...more, { kind: 'label', at, text }]),
  };
}

/** Walls that lie elsewhere in the second document, as thick draft lines. */
function movedWalls(before: PlanDocument, after: PlanDocument): PreviewMark[] {
  return rows(after.walls).flatMap((wall): PreviewMark[] => {
    const was = before.walls.byId[wall.id];
    const same = (id: Id) => before.nodes.byId[id] === after.nodes.byId[id];
    if (was && was.from === wall.from && was.to === wall.to && same(wall.from) && same(wall.to)) return [];
    const frame = wallFrame(after, wall);
    return frame ? [{ kind: 'line', points: [frame.from, frame.to], look: 'draft', half: frame.half }] : [];
  });
}

function dragPoints(ctx: ToolContext, id: Id, by: PlanPoint, event: ToolEvent): Dragged {
  const shape = shapesOf(ctx).points.find((p) => p.id === id);
  if (!shape) return { command: null, preview: null };
  const { point } = shape;
  const selected = ctx.session.selection.filter((r) => r.table === 'points').map((r) => r.id);
  const group = selected.includes(id) ? selected : [id];
  const spot = { surface: 'plan', at: { x: shape.at.x + by.x, y: shape.at.y + by.y } } as const;
  const aim = aimPoint(ctx, spot, {
    kind: point.kind,
    gangs: point.gangs,
    height: point.place.on === 'face' || point.place.on === 'free' ? point.place.z : null,
    without: new Set(group),
    snapping: ctx.session.snapping && !('alt' in event && event.alt),
    tolerance: toleranceOf(ctx, event),
  });
  if (!aim.ok) return { command: null, preview: plan([{ kind: 'label', at: spot.at, text: aim.reason }]) };
  const landed = planOfPlace(ctx.doc, aim.place) ?? spot.at;
  const shift = { x: landed.x - shape.at.x, y: landed.y - shape.at.y };
  const moves = group.flatMap((each) => {
    const place = each === id ? aim.place : shiftedPlace(ctx.doc, ctx.doc.points.byId[each]?.place, shift);
    return place ? [{ id: each, place }] : [];
  });
  const ghosts = moves.slice(0, 200).flatMap((move): PreviewMark[] => {
    const at = move.id === id ? null : planOfPlace(ctx.doc, move.place);
    return at ? [{ kind: 'spot', at, look: 'draft' }] : [];
  });
  const command = movePoints(moves);
  const outcome = command.apply(ctx.doc);
  if (!outcome.ok)
    return { command: null, preview: plan([{ kind: 'label', at: landed, text: outcome.reason }]) };
  return { command, preview: { ...aim.preview, plan: [...ghosts, ...aim.preview.plan] } };
}

/** Where a place is on the plan; null when its wall is gone. */
export function planOfPlace(doc: PlanDocument, place: Place): PlanPoint | null {
  if (place.on !== 'face') return { x: place.x, y: place.y };
  const wall = doc.walls.byId[place.wall];
  const frame = wall ? wallFrame(doc, wall) : null;
  return frame ? faceSurfacePoint(frame, place.side, place.along) : null;
}

/** A place moved over the plan: on a wall only the part along it counts. */
export function shiftedPlace(
  doc: PlanDocument,
  place: Place | undefined,
  by: PlanPoint,
  up: Mm = 0,
): Place | null {
  if (!place) return null;
  if (place.on !== 'face') {
    const moved = { ...place, x: place.x + by.x, y: place.y + by.y };
    return moved.on === 'free' ? { ...moved, z: moved.z + up } : moved;
  }
  const wall = doc.walls.byId[place.wall];
  const frame = wall ? wallFrame(doc, wall) : null;
  if (!frame) return null;
  return { ...place, along: place.along + by.x * frame.dir.x + by.y * frame.dir.y, z: place.z + up };
}

function dragWall(ctx: ToolContext, id: Id, by: PlanPoint, event: ToolEvent): Dragged {
  const wall = shapesOf(ctx).walls.find((w) => w.id === id);
  if (!wall) return { command: null, preview: null };
  const { from, to, normal } = wall.frame;
  const wish = by.x * normal.x + by.y * normal.y;
  const step = roundStep(ctx.scale);
  const { off } = snapOptions(ctx, event);
  let offset = off ? Math.round(wish) : Math.round(wish / step) * step;
  let why = '';
  const reach = toleranceOf(ctx, event) / ctx.scale;
  let best = reach;
  // Into line with the end of another wall.
  for (const node of off ? [] : shapesOf(ctx).nodes) {
    const away = (node.at.x - from.x) * normal.x + (node.at.y - from.y) * normal.y;
    if (Math.abs(away) < 1 || Math.abs(away - wish) >= best) continue;
    best = Math.abs(away - wish);
    offset = away;
    why = '\nIn line with a corner';
  }
  const at = {
    x: (from.x + to.x) / 2 + normal.x * offset,
    y: (from.y + to.y) / 2 + normal.y * offset,
  };
  if (Math.abs(offset) < 0.01) return { command: null, preview: null };
  return shown(ctx, moveWall(id, offset), at, `${mmText(Math.abs(offset))}${why}`, []);
}

function dragNode(ctx: ToolContext, id: Id, by: PlanPoint, event: ToolEvent): Dragged {
  const shapes = shapesOf(ctx);
  const node = shapes.nodes.find((n) => n.id === id);
  if (!node) return { command: null, preview: null };
  const own = shapes.walls.filter((w) => w.frame.wall.from === id || w.frame.wall.to === id);
  const snap = snapPlan(
    shapes,
    { x: node.at.x + by.x, y: node.at.y + by.y },
    { ...snapOptions(ctx, event), without: new Set([id, ...own.map((w) => w.id)]) },
  );
  if (snap.at.x === node.at.x && snap.at.y === node.at.y) return { command: null, preview: null };
  const lengths = own.map(({ frame }) => {
    const other = frame.wall.from === id ? frame.to : frame.from;
    return mmText(Math.hypot(other.x - snap.at.x, other.y - snap.at.y));
  });
  const text = [lengths.join(' | '), snap.label].filter(Boolean).join('\n') || 'Corner';
  return shown(ctx, moveNode(id, snap.at), snap.at, text, snap.marks);
}

function dragOpening(ctx: ToolContext, id: Id, from: PlanPoint, to: PlanPoint, event: ToolEvent): Dragged {
  const shape = shapesOf(ctx).openings.find((o) => o.id === id);
  if (!shape) return { command: null, preview: null };
  const { opening, frame } = shape;
  const here = wallUnder(ctx, to, toleranceOf(ctx, event)) ?? { frame, along: alongOf(frame, to) };
  const stays = here.frame.id === frame.id;
  const held = alongOf(frame, from) - opening.along;
  const reach = snapOptions(ctx, event).off ? 0 : toleranceOf(ctx, event) / ctx.scale;
  const near = (stays ? alongOf(frame, to) : here.along) - (stays ? held : opening.width / 2);
  const placed = placeAlong(ctx, here.frame, near, opening.width, reach, id);
  const end = placed.along + opening.width;
  const quad = [
    faceSurfacePoint(here.frame, 'left', placed.along),
    faceSurfacePoint(here.frame, 'left', end),
    faceSurfacePoint(here.frame, 'right', end),
    faceSurfacePoint(here.frame, 'right', placed.along),
  ];
  const fields = stays ? { along: placed.along } : { wall: here.frame.id, along: placed.along };
  const text = [`${mmText(placed.along)} | ${mmText(here.frame.length - end)}`, placed.why]
    .filter(Boolean)
    .join('\n');
  const outline: PreviewMark = { kind: 'line', points: quad, look: 'draft', closed: true };
  return shown(ctx, editOpening(id, fields), quad[0] as PlanPoint, text, [outline]);
}

function alongOf(frame: { from: PlanPoint; dir: PlanPoint }, p: PlanPoint): Mm {
  return (p.x - frame.from.x) * frame.dir.x + (p.y - frame.from.y) * frame.dir.y;
}

function dragTag(ctx: ToolContext, id: Id, by: PlanPoint): Dragged {
  const tag = ctx.doc.roomTags.byId[id];
  if (!tag) return { command: null, preview: null };
  const at = { x: Math.round(tag.x + by.x), y: Math.round(tag.y + by.y) };
  const command = editRoomTag(id, at);
  return { command, preview: plan([{ kind: 'label', at, text: tag.name }]) };
}

function dragThing(ctx: ToolContext, id: Id, by: PlanPoint): Dragged {
  const shape = shapesOf(ctx).things.find((t) => t.id === id);
  const step = roundStep(ctx.scale);
  const round = { x: Math.round(by.x / step) * step, y: Math.round(by.y / step) * step };
  const place = shape && shiftedThing(ctx.doc, shape.thing.place, round);
  if (!shape || !place) return { command: null, preview: null };
  const wall = place.on === 'face' ? ctx.doc.walls.byId[place.wall] : undefined;
  const frame = wall ? wallFrame(ctx.doc, wall) : null;
  const along = frame ? round.x * frame.dir.x + round.y * frame.dir.y : 0;
  const real = frame ? { x: frame.dir.x * along, y: frame.dir.y * along } : round;
  const points = shape.outline.map((p) => ({ x: p.x + real.x, y: p.y + real.y }));
  return {
    command: editThing(id, { place }),
    preview: plan([{ kind: 'line', points, look: 'draft', closed: true }]),
  };
}

/** A thing's place moved over the plan; on a wall only the part along it counts. */
export function shiftedThing(
  doc: PlanDocument,
  place: ThingPlace,
  by: PlanPoint,
  up: Mm = 0,
): ThingPlace | null {
  if (place.on === 'plan') {
    return { ...place, outline: place.outline.map((p) => ({ x: p.x + by.x, y: p.y + by.y })) };
  }
  const wall = doc.walls.byId[place.wall];
  const frame = wall ? wallFrame(doc, wall) : null;
  if (!frame) return null;
  const along = by.x * frame.dir.x + by.y * frame.dir.y;
  return {
    ...place,
    along0: place.along0 + along,
    along1: place.along1 + along,
    z0: place.z0 + up,
    z1: place.z1 + up,
  };
}

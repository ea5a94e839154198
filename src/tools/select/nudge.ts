import { moveNode, moveWall } from '../../document/commands/moveWalls.ts';
import { editOpening } from '../../document/commands/openings.ts';
import { movePoints } from '../../document/commands/points.ts';
import { editRoomTag, editThing } from '../../document/commands/rooms.ts';
import { editTracing } from '../../document/commands/tracings.ts';
import { together } from '../../document/transact.ts';
import type { Command } from '../../document/types.ts';
import { wallFrame } from '../../engine/fabric/wallFrame.ts';
import type { PlanPoint } from '../../engine/model/units.ts';
import type { Ref, ToolContext } from '../types.ts';
import { shiftedPlace, shiftedThing } from './drags.ts';

const ARROWS: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
};

/**
 * The command an arrow key means for what is selected: 10 mm, with shift 100 mm. On the plan things move the way the
 * arrow points, what sits on a wall only along it; on an elevation left and right go along the wall as seen facing it
 * and up and down change the height. Null when the key is no arrow or nothing selected moves that way.
 */
export function nudge(
  ctx: ToolContext,
  key: string,
  shift: boolean,
  surface: 'plan' | 'face',
): Command | null {
  const arrow = ARROWS[key];
  if (!arrow) return null;
  const step = shift ? 100 : 10;
  const by = { x: arrow[0] * step, y: arrow[1] * step };
  const points = ctx.session.selection.filter((ref) => ref.table === 'points');
  const commands: Command[] = [];
  const moves = points.flatMap(({ id }) => {
    const place = ctx.doc.points.byId[id]?.place;
    if (!place) return [];
    const moved =
      surface === 'face' && place.on === 'face'
        ? { ...place, along: place.along + (place.side === 'right' ? by.x : -by.x), z: place.z - by.y }
        : shiftedPlace(ctx.doc, place, by);
    return moved && changed(place, moved) ? [{ id, place: moved }] : [];
  });
  if (moves.length > 0) commands.push(movePoints(moves));
  for (const ref of ctx.session.selection) {
    const command = ref.table === 'points' ? null : nudgeOne(ctx, ref, by, surface);
    if (command) commands.push(command);
  }
  const [only] = commands;
  if (!only) return null;
  return commands.length === 1 ? only : together('Move', commands);
}

function changed(before: object, after: object): boolean {
  return JSON.stringify(before) !== JSON.stringify(after);
}

function nudgeOne(ctx: ToolContext, ref: Ref, by: PlanPoint, surface: 'plan' | 'face'): Command | null {
  const { doc } = ctx;
  const { table, id } = ref;
  if (table === 'openings') {
    const opening = doc.openings.byId[id];
    const wall = opening && doc.walls.byId[opening.wall];
    const frame = wall ? wallFrame(doc, wall) : null;
    if (!opening || !frame) return null;
    if (surface === 'face' && by.y !== 0)
      return editOpening(id, { sill: opening.sill - by.y, head: opening.head - by.y });
    const along = by.x * frame.dir.x + by.y * frame.dir.y;
    return Math.abs(along) < 0.5 ? null : editOpening(id, { along: opening.along + along });
  }
  if (table === 'things') {
    const thing = doc.things.byId[id];
    const up = surface === 'face' ? -by.y : 0;
    const place = thing && shiftedThing(doc, thing.place, surface === 'face' ? { x: by.x, y: 0 } : by, up);
    return place && changed(thing.place, place) ? editThing(id, { place }) : null;
  }
  if (surface === 'face') return null;
  if (table === 'nodes') {
    const node = doc.nodes.byId[id];
    return node ? moveNode(id, { x: node.x + by.x, y: node.y + by.y }) : null;
  }
  if (table === 'walls') {
    const wall = doc.walls.byId[id];
    const frame = wall ? wallFrame(doc, wall) : null;
    const offset = frame ? by.x * frame.normal.x + by.y * frame.normal.y : 0;
    return Math.abs(offset) < 0.5 ? null : moveWall(id, offset);
  }
  if (table === 'roomTags') {
    const tag = doc.roomTags.byId[id];
    return tag ? editRoomTag(id, { x: tag.x + by.x, y: tag.y + by.y }) : null;
  }
  if (table === 'tracings') {
    const picture = doc.tracings.byId[id];
    return picture?.lies.on === 'storey'
      ? editTracing(id, { x: picture.lies.x + by.x, y: picture.lies.y + by.y })
      : null;
  }
  return null;
}

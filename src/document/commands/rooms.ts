import type { Id, RoomTag, Thing, ThingPlace } from '../../engine/model/document.ts';
import { command, drop, nextId, patch, put, refuse } from '../transact.ts';
import type { Command, Refusal } from '../types.ts';
import { sound } from './plane.ts';

/** Names the room that holds this spot. */
export function addRoomTag(fields: Omit<RoomTag, 'id'>): Command {
  return command('Name room', (draft, step) => {
    if (!step.doc.storeys.byId[fields.storey]) return refuse('That storey is no longer in the plan.');
    if (!sound(fields.x, fields.y)) return refuse('That spot is not on the plan.');
    const id = nextId(draft, 'roomTags');
    put(draft, 'roomTags', { ...fields, id });
    step.made(id);
  });
}

/** Renames a room, says what it is used for, or moves its name. Numbers of points never change with it. */
export function editRoomTag(id: Id, fields: Partial<Omit<RoomTag, 'id' | 'storey'>>): Command {
  return command(fields.x === undefined ? 'Rename room' : 'Move room name', (draft, step) => {
    const now = step.doc.roomTags.byId[id];
    if (!now) return refuse('That room name is no longer in the plan.');
    if (!sound(fields.x ?? 0, fields.y ?? 0)) return refuse('That spot is not on the plan.');
    patch(draft, 'roomTags', id, fields);
  });
}

/** Takes room names away; the rooms stay. */
export function removeRoomTags(ids: readonly Id[]): Command {
  return command('Remove room name', (draft, step) => {
    if (ids.some((id) => !step.doc.roomTags.byId[id]))
      return refuse('That room name is no longer in the plan.');
    for (const id of ids) drop(draft, 'roomTags', id);
  });
}

/** Furniture, a pipe, insulation or a no-cable place, on a face or on the plan. */
export function addThing(fields: Omit<Thing, 'id'>): Command {
  return command(`Add ${fields.name || fields.kind}`, (draft, step) => {
    const wrong = thingRefusal(step.doc, fields.place);
    if (wrong) return wrong;
    const id = nextId(draft, 'things');
    put(draft, 'things', { ...fields, id });
    step.made(id);
  });
}

/** Moves, resizes, renames or changes a thing. */
export function editThing(id: Id, fields: Partial<Omit<Thing, 'id'>>): Command {
  return command(fields.place === undefined ? 'Edit thing' : 'Move thing', (draft, step) => {
    const now = step.doc.things.byId[id];
    if (!now) return refuse('That thing is no longer in the plan.');
    const wrong = thingRefusal(step.doc, fields.place ?? now.place);
    if (wrong) return wrong;
    patch(draft, 'things', id, fields);
  });
}

/** Takes things away. */
export function removeThings(ids: readonly Id[]): Command {
  return command(ids.length === 1 ? 'Remove thing' : 'Remove things', (draft, step) => {
    if (ids.some((id) => !step.doc.things.byId[id])) return refuse('That thing is no longer in the plan.');
    for (const id of ids) drop(draft, 'things', id);
  });
}

function thingRefusal(doc: Parameters<Command['apply']>[0], place: ThingPlace): Refusal | null {
  if (!sound(place.z0, place.z1) || place.z1 < place.z0) return refuse('Its top must be above its bottom.');
  if (place.on === 'face') {
    if (!doc.walls.byId[place.wall]) return refuse('That wall is no longer in the plan.');
    return sound(place.along0, place.along1) && place.along1 > place.along0
      ? null
      : refuse('It must be wider than 0 mm.');
  }
  if (!doc.storeys.byId[place.storey]) return refuse('That storey is no longer in the plan.');
  return place.outline.length >= 3 && place.outline.every((p) => sound(p.x, p.y))
    ? null
    : refuse('Its outline needs at least three corners.');
}

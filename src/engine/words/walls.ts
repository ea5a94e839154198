import type { Fabric, Face } from '../fabric/types.ts';

const DIRECTIONS = ['right', 'bottom right', 'bottom', 'bottom left', 'left', 'top left', 'top', 'top right'];

/** The faces a face is told apart from: its room's outer loop and islands in order, or its loop of outside faces. */
export function facesBeside(fabric: Fabric, face: Face): readonly Face[] {
  const room = face.room === null ? undefined : fabric.rooms.get(face.room);
  const ids = room
    ? [...room.faces, ...room.islands.flat()]
    : (fabric.outside.find((loop) => loop.includes(face.id)) ?? [face.id]);
  return ids.map((id) => fabric.faces.get(id)).filter((f): f is Face => f !== undefined);
}

/**
 * Which wall of its room, or of the building, a face is on the drawing: "top" for the wall you face looking up the sheet.
 * The plan does not know where north is.
 */
export function directionOf(face: Face): string {
  // Facing the wall with its left end a and right end b, one looks a quarter turn anticlockwise (on screen) from a to b.
  const look = Math.atan2(-(face.b.x - face.a.x), face.b.y - face.a.y);
  const turn = Math.round((look / (Math.PI * 2)) * 8 + 8) % 8;
  // Outside one looks back at the building: its top wall is seen looking down the sheet.
  return DIRECTIONS[(turn + (face.room === null ? 4 : 0)) % 8] as string;
}

/** "top wall", numbered in order round the room when several lie that way: "top wall 2". */
export function wallTitle(fabric: Fabric, face: Face): string {
  const direction = directionOf(face);
  const same = facesBeside(fabric, face).filter((f) => directionOf(f) === direction);
  const name = `${direction} wall`;
  return same.length > 1 ? `${name} ${same.findIndex((f) => f.id === face.id) + 1}` : name;
}

/** Name of the room a face looks into; "outside" when it looks outwards, "unnamed room" when it has no name yet. */
export function roomTitle(fabric: Fabric, face: Face): string {
  const room = face.room === null ? undefined : fabric.rooms.get(face.room);
  return room ? (room.tag?.name ?? 'unnamed room') : 'outside';
}

import { facesBeside } from '../../engine/words/walls.ts';
import { faceById } from '../../tools/onFaces.ts';
import type { Derived } from '../../engine/derive/types.ts';
import type { Fabric, Face, FaceId, Room, RoomId } from '../../engine/fabric/types.ts';

/** A room with the fabric it belongs to, whichever storey it is on. */
export function findRoom(derived: Derived, id: RoomId | null): { fabric: Fabric; room: Room } | null {
  if (id === null) return null;
  for (const fabric of derived.fabrics.values()) {
    const room = fabric.rooms.get(id);
    if (room) return { fabric, room };
  }
  return null;
}

/** What the band shows: the picked room, else the room of the picked face, else nothing. */
export function facesToShow(
  derived: Derived,
  room: RoomId | null,
  face: FaceId | null,
): { fabric: Fabric; room: Room | null; faces: readonly Face[] } | null {
  const picked = findRoom(derived, room);
  if (picked) {
    const ids = [...picked.room.faces, ...picked.room.islands.flat()];
    const faces = ids.map((id) => picked.fabric.faces.get(id)).filter((f): f is Face => f !== undefined);
    return { ...picked, faces };
  }
  const found = face === null ? null : faceById(derived, face);
  if (!found) return null;
  const own = found.face.room === null ? null : (found.fabric.rooms.get(found.face.room) ?? null);
  return { fabric: found.fabric, room: own, faces: facesBeside(found.fabric, found.face) };
}

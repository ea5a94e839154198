import type { Fabric, Room } from '../engine/fabric/types.ts';
import type { App } from '../tools/app.ts';

/**
 * Keeps a room picked for the band: the same while it stands; after an edit that renumbers it, the one that holds the
 * picked face or most of the old faces; otherwise the largest. A storey without rooms has none.
 */
export function followRoom(app: App): () => void {
  let faces: ReadonlySet<string> = new Set();
  const settle = (): void => {
    const { storey, room, face } = app.session.getState();
    const fabric = app.derived.get().derived.fabrics.get(storey);
    if (!fabric) return;
    const now = room === null ? undefined : fabric.rooms.get(room);
    const next = now ?? nextRoom(fabric, face, faces);
    faces = new Set(next?.faces);
    const keepsFace = face !== null && fabric.faces.has(face);
    if (next?.id !== room || (face !== null && !keepsFace))
      app.session.set({ room: next?.id ?? null, face: keepsFace ? face : null });
  };
  settle();
  const leave = [app.derived.subscribe(settle), app.session.subscribe(settle)];
  return () => leave.forEach((each) => each());
}

function nextRoom(fabric: Fabric, face: string | null, old: ReadonlySet<string>): Room | undefined {
  const rooms = [...fabric.rooms.values()];
  const shared = (room: Room): number => room.faces.filter((id) => old.has(id)).length;
  const holder = rooms.find((room) => face !== null && room.faces.includes(face));
  const [closest] = rooms.filter((room) => shared(room) > 0).sort((a, b) => shared(b) - shared(a));
  const [largest] = [...rooms].sort((a, b) => b.area - a.area);
  return holder ?? closest ?? largest;
}

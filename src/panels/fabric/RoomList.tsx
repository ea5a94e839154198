import type { ReactNode } from 'react';
import { addRoomTag, editRoomTag } from '../../document/commands/rooms.ts';
import { TextField } from '../ui/fields.tsx';
import { insideSpot } from '../ui/insideSpot.ts';
import { roomName } from '../ui/names.ts';
import { perform } from '../../app/program.ts';
import { useDerived, useProgram, useSession } from '../ui/hooks.ts';

/** The rooms that closed walls make, with their areas; names to be typed in. */
export function RoomList(): ReactNode {
  const program = useProgram();
  const derived = useDerived();
  const storey = useSession((state) => state.storey);
  const room = useSession((state) => state.room);
  const rooms = [...(derived.fabrics.get(storey)?.rooms.values() ?? [])];
  return (
    <details open>
      <summary>
        <h3>Rooms</h3>
        <span className="count">{rooms.length}</span>
      </summary>
      {rooms.length === 0 && <p className="quiet">None yet: a room needs a closed loop of walls.</p>}
      <ul className="rooms">
        {rooms.map((each, index) => (
          <li key={each.id} className={each.id === room ? 'on' : undefined}>
            <TextField
              label={`Name of room ${index + 1}`}
              hideLabel
              value={roomName(each, index)}
              onCommit={(name) => {
                const at = insideSpot(each);
                const outcome = perform(
                  program,
                  each.tag
                    ? editRoomTag(each.tag.id, { name })
                    : addRoomTag({ storey, x: at.x, y: at.y, name, use: 'other' }),
                );
                if (!outcome.ok) return outcome.reason;
              }}
            />
            <span className="area">{(each.area / 1e6).toFixed(2)} m²</span>
            <button
              className="button"
              type="button"
              aria-pressed={each.id === room}
              onClick={() =>
                program.session.set({
                  room: each.id,
                  face: null,
                  ...(each.tag ? { selection: [{ table: 'roomTags', id: each.tag.id, part: null }] } : {}),
                })
              }
            >
              Walls
            </button>
          </li>
        ))}
      </ul>
    </details>
  );
}

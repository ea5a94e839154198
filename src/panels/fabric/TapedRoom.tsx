import { useState, type ReactNode } from 'react';
import { addTapedRoom } from '../../document/commands/tapedRoom.ts';
import { closeOutline, walkSides } from '../../engine/geometry/closing.ts';
import type { PlanPoint } from '../../engine/model/units.ts';
import { perform } from '../../app/program.ts';
import { freeFaces, placeRoom } from '../../app/roomFromTape.ts';
import { CheckField, Choice, SelectField, TextField } from '../ui/fields.tsx';
import { faceName } from '../ui/faceName.ts';
import { insideSpot } from '../ui/insideSpot.ts';
import { LengthField, showLength } from '../ui/lengths.tsx';
import { useDerived, useDoc, useProgram, useSession } from '../ui/hooks.ts';
import { usePrefs } from '../ui/usePrefs.ts';
import { TapedDiagonals } from './TapedDiagonals.tsx';
import { TapedPicture } from './TapedPicture.tsx';
import { TapedSides } from './TapedSides.tsx';
import { diagonalsOf, FOUR_WALLS, sidesOf, type DiagonalRow, type SideRow } from './tapedRows.ts';

/** Without spreading, a room may miss its own beginning by this, mm. */
const CLOSED = 1;
/** More than tapes do: `Closing.tension`. */
const STRAINED = 3;

/** A room from a sketch with tape sizes, wall after wall: its closing error, spread on request, and its place on the plan. */
export function TapedRoom(): ReactNode {
  const program = useProgram();
  const doc = useDoc();
  const derived = useDerived();
  const { units } = usePrefs();
  const storey = useSession((state) => state.storey);
  const buildUp = useSession((state) => state.choices.buildUp) ?? '';
  const [rows, setRows] = useState<readonly SideRow[]>(FOUR_WALLS);
  const [across, setAcross] = useState<readonly DiagonalRow[]>([]);
  const [taped, setTaped] = useState<'inside' | 'middles'>('inside');
  const [spread, setSpread] = useState(false);
  const [faceId, setFaceId] = useState('');
  const [offset, setOffset] = useState(0);
  const [name, setName] = useState('');
  const faces = freeFaces(derived.fabrics.get(storey));
  const face = faces.find((each) => each.id === faceId) ?? null;
  const sides = sidesOf(rows);
  const walked = sides && walkSides(sides);
  const result = sides && closeOutline(sides, diagonalsOf(across));
  const closing = result?.ok ? result.closing : null;
  const unknown = rows.some((row) => row.turn === 'unknown');
  const end = walked?.at(-1);
  const gap = unknown || !end ? null : Math.hypot(end.x, end.y);
  const typed: readonly PlanPoint[] | null =
    walked && gap !== null && gap <= CLOSED && across.length === 0 ? walked.slice(0, -1) : null;
  const outline = spread ? (closing?.corners ?? null) : typed;
  const draw = (): void => {
    if (!outline) return;
    const corners = placeRoom(doc, outline, { storey, buildUp, taped, face, offset });
    const middle = insideSpot({ outline: corners, holes: [] });
    const outcome = perform(program, addTapedRoom({ storey, corners, buildUp, name, middle }));
    if (!outcome.ok) return;
    setRows(FOUR_WALLS);
    setAcross([]);
    setSpread(false);
    setName('');
    program.viewer.show({ kind: 'all' });
  };
  return (
    <div className="taped">
      <p className="help">
        Go round the room as the hands of a clock do, and type each wall as the tape gave it. At the end of
        each wall say how the next one turns.
      </p>
      <Choice
        label="Sizes were taped"
        value={taped}
        options={[
          { value: 'inside', text: 'Inside, wall to wall' },
          { value: 'middles', text: 'Between middles of walls' },
        ]}
        onCommit={setTaped}
      />
      <TapedSides rows={rows} onChange={setRows} corrections={spread && closing ? closing.sides : null} />
      <TapedDiagonals
        rows={across}
        corners={rows.length}
        onChange={setAcross}
        corrections={spread && closing ? closing.diagonals : null}
      />
      <TapedPicture walked={walked ?? null} closed={spread ? (closing?.corners ?? null) : null} />
      <p className={gap !== null && gap > CLOSED ? 'help warn' : 'help'} role="status">
        {sides === null
          ? 'Type the length of every wall to see how well they close.'
          : gap === null
            ? 'Turns that nobody knows are worked out from the diagonals, once the error is spread.'
            : `The last wall ends ${showLength(gap, units)} from where the first began.`}
      </p>
      {sides !== null && (
        <CheckField
          label="Spread the error over all sizes"
          value={spread}
          onCommit={setSpread}
          help="Each wall, diagonal and corner gives a little, as much as a tape may be out (least squares)."
        />
      )}
      {spread && result && !result.ok && <p className="help bad">{result.reason}</p>}
      {spread && closing && closing.tension >= STRAINED && (
        <p className="help bad">
          These sizes are further apart than tapes get: one is wrong, most likely that with the largest
          correction. Measure it again.
        </p>
      )}
      <TextField label="Name of the room" value={name} onCommit={setName} />
      <SelectField
        label="Wall 1 lies"
        value={face ? faceId : ''}
        options={[
          { value: '', text: 'On its own, beside what is drawn' },
          ...faces.map((each) => ({
            value: each.id,
            text: `On ${faceName(derived, each.id)}, ${showLength(Math.round(each.length), units)}`,
          })),
        ]}
        onCommit={setFaceId}
      />
      {face && (
        <LengthField
          label="Corner of wall 1 from the corner of that wall, middle to middle"
          value={offset}
          min={-1e5}
          max={1e5}
          onCommit={setOffset}
        />
      )}
      <button type="button" className="button primary" disabled={!outline || buildUp === ''} onClick={draw}>
        Draw this room
      </button>
      {sides !== null && !outline && !spread && (
        <p className="help">It does not close as typed: mend a size, or spread the error.</p>
      )}
    </div>
  );
}

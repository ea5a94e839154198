import type { ReactNode } from 'react';
import { editOpening } from '../../document/commands/openings.ts';
import { editRoomTag, editThing } from '../../document/commands/rooms.ts';
import { moveNode, setWallLength } from '../../document/commands/moveWalls.ts';
import { flipWalls, setWallBuildUp, setWallTop } from '../../document/commands/walls.ts';
import type { Opening, RoomTag, Thing, Wall, WallNode } from '../../engine/model/document.ts';
import type { Command } from '../../document/types.ts';
import { CheckField, Choice, SelectField, TextField } from '../ui/fields.tsx';
import { LengthField } from '../ui/lengths.tsx';
import { ROOM_USES, THINGS, buildUpOptions } from '../ui/options.ts';
import { perform } from '../../app/program.ts';
import { useDerived, useDoc, useProgram, useSession } from '../ui/hooks.ts';
import { faceName } from '../ui/faceName.ts';
import { alongFor, onTape } from '../../tools/opening/onTape.ts';
import { wallLength } from '../../document/commands/plane.ts';
import { ToldFields } from './ToldFields.tsx';

/** Does a command and gives a refusal back to the field it came from. */
function useDo(): (command: Command) => string | void {
  const program = useProgram();
  return (command) => {
    const outcome = perform(program, command);
    if (!outcome.ok) return outcome.reason;
  };
}

export function WallFields(props: { readonly walls: readonly Wall[] }): ReactNode {
  const doc = useDoc();
  const run = useDo();
  const { walls } = props;
  const ids = walls.map((each) => each.id);
  const wall = walls[0];
  if (!wall) return null;
  const one = walls.length === 1;
  const from = doc.nodes.byId[wall.from];
  const to = doc.nodes.byId[wall.to];
  const same = walls.every((each) => each.buildUp === wall.buildUp);
  const storey = doc.storeys.byId[wall.storey];
  const ceiling = storey?.ceilingHeight ?? 2400;
  return (
    <>
      {one && from && to && (
        <LengthField
          label="Length of its centre line"
          value={Math.hypot(to.x - from.x, to.y - from.y)}
          min={1}
          help="The first end stays; walls square to it at the other end move along."
          onCommit={(length) => run(setWallLength(wall.id, length))}
        />
      )}
      <SelectField
        label="Build-up"
        value={same ? wall.buildUp : 'mixed'}
        options={same ? buildUpOptions(doc) : [{ value: 'mixed', text: 'Several' }, ...buildUpOptions(doc)]}
        onCommit={(buildUp) => {
          if (buildUp !== 'mixed') run(setWallBuildUp(ids, buildUp));
        }}
      />
      <CheckField
        label="Turned round: layers listed from the other side"
        value={wall.flipped}
        onCommit={() => void run(flipWalls(ids))}
      />
      <Choice
        label="Top"
        value={wall.top.kind}
        options={[
          { value: 'ceiling', text: 'Ceiling' },
          { value: 'level', text: 'Level' },
          { value: 'sloped', text: 'Sloped' },
        ]}
        onCommit={(kind) =>
          void run(
            setWallTop(
              ids,
              kind === 'ceiling'
                ? { kind }
                : kind === 'level'
                  ? { kind, z: ceiling }
                  : { kind: 'sloped', zFrom: ceiling, zTo: ceiling },
            ),
          )
        }
      />
      {wall.top.kind === 'level' && (
        <LengthField
          label="Height of the top"
          value={wall.top.z}
          min={1}
          max={20000}
          onCommit={(z) => run(setWallTop(ids, { kind: 'level', z }))}
        />
      )}
      {wall.top.kind === 'sloped' && (
        <SlopeFields top={wall.top} onCommit={(top) => run(setWallTop(ids, top))} />
      )}
      <ToldFields walls={walls} />
    </>
  );
}

function SlopeFields(props: {
  readonly top: Extract<Wall['top'], { kind: 'sloped' }>;
  readonly onCommit: (top: Wall['top']) => string | void;
}): ReactNode {
  const { top, onCommit } = props;
  return (
    <>
      <LengthField
        label="Height at its first end"
        value={top.zFrom}
        max={20000}
        onCommit={(zFrom) => onCommit({ ...top, zFrom })}
      />
      <LengthField
        label="Height at its second end"
        value={top.zTo}
        max={20000}
        onCommit={(zTo) => onCommit({ ...top, zTo })}
      />
    </>
  );
}

export function NodeFields(props: { readonly node: WallNode }): ReactNode {
  const run = useDo();
  const { node } = props;
  return (
    <>
      <LengthField
        label="Across"
        value={node.x}
        min={-1e6}
        onCommit={(x) => run(moveNode(node.id, { x, y: node.y }))}
      />
      <LengthField
        label="Down the plan"
        value={node.y}
        min={-1e6}
        onCommit={(y) => run(moveNode(node.id, { x: node.x, y }))}
      />
    </>
  );
}

export function OpeningFields(props: { readonly opening: Opening }): ReactNode {
  const run = useDo();
  const { opening } = props;
  const doc = useDoc();
  const derived = useDerived();
  const face = useSession((state) => state.face);
  const set = (fields: Partial<Omit<Opening, 'id'>>): string | void => run(editOpening(opening.id, fields));
  const fabric = derived.fabrics.get(doc.walls.byId[opening.wall]?.storey ?? '');
  const on = fabric ? onTape(fabric, opening, face) : null;
  const name = on ? faceName(derived, on.face.id) : '';
  const resize = (width: number): string | void => {
    const most = wallLength(doc, opening.wall) - width;
    const along = Math.max(0, Math.min(most, opening.along + (opening.width - width) / 2));
    return set({ width, along });
  };
  return (
    <>
      <Choice
        label="Kind"
        value={opening.kind}
        options={[
          { value: 'door', text: 'Door' },
          { value: 'window', text: 'Window' },
          { value: 'opening', text: 'Opening' },
        ]}
        onCommit={(kind) => void set({ kind: kind as Opening['kind'] })}
      />
      <LengthField
        label="Width"
        value={opening.width}
        min={1}
        help="Its middle stays where it is."
        onCommit={resize}
      />
      <LengthField
        label="Sill above the floor"
        value={opening.sill}
        max={20000}
        onCommit={(sill) => set({ sill })}
      />
      <LengthField
        label="Head above the floor"
        value={opening.head}
        min={1}
        max={20000}
        onCommit={(head) => set({ head })}
      />
      {on ? (
        <>
          <LengthField
            label="From the left-hand corner to its left edge"
            value={on.left}
            min={-1e6}
            help={`Along the finished face, as you look at it: ${name}.`}
            onCommit={(left) => set({ along: alongFor(on, opening, left) })}
          />
          <LengthField
            label="From its right edge to the right-hand corner"
            value={on.right}
            min={-1e6}
            onCommit={(right) => set({ along: alongFor(on, opening, on.left + on.right - right) })}
          />
        </>
      ) : (
        <LengthField
          label="Near edge from the wall’s first end, on its centre line"
          value={opening.along}
          onCommit={(along) => set({ along })}
        />
      )}
    </>
  );
}

export function RoomTagFields(props: { readonly tag: RoomTag }): ReactNode {
  const run = useDo();
  const { tag } = props;
  return (
    <>
      <TextField
        label="Name of the room"
        value={tag.name}
        onCommit={(name) => run(editRoomTag(tag.id, { name }))}
      />
      <SelectField
        label="Used as"
        value={tag.use}
        options={ROOM_USES}
        onCommit={(use) => void run(editRoomTag(tag.id, { use }))}
      />
    </>
  );
}

export function ThingFields(props: { readonly thing: Thing }): ReactNode {
  const run = useDo();
  const { thing } = props;
  const { place } = thing;
  const set = (fields: Partial<Omit<Thing, 'id'>>): string | void => run(editThing(thing.id, fields));
  return (
    <>
      <TextField label="Name" value={thing.name} onCommit={(name) => set({ name })} />
      <SelectField label="Kind" value={thing.kind} options={THINGS} onCommit={(kind) => void set({ kind })} />
      {place.on === 'plan' && (
        <Choice
          label="Lies in"
          value={place.where}
          options={[
            { value: 'room', text: 'The room' },
            { value: 'ceiling', text: 'Ceiling void' },
            { value: 'floor', text: 'Floor void' },
          ]}
          onCommit={(where) => void set({ place: { ...place, where: where as typeof place.where } })}
        />
      )}
      <LengthField
        label="Bottom above the floor"
        value={place.z0}
        min={-5000}
        max={20000}
        onCommit={(z0) => set({ place: { ...place, z0 } })}
      />
      <LengthField
        label="Top above the floor"
        value={place.z1}
        min={-5000}
        max={20000}
        onCommit={(z1) => set({ place: { ...place, z1 } })}
      />
    </>
  );
}

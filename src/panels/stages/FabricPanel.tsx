import { useState, type ReactNode } from 'react';
import { addStorey, editStorey } from '../../document/commands/storeys.ts';
import type { Command } from '../../document/types.ts';
import type { Joists, Storey } from '../../engine/model/document.ts';
import { BuildUpEditor } from '../BuildUpEditor.tsx';
import { CheckField, Choice, NumberField, SelectField, TextField } from '../fields.tsx';
import { First } from '../First.tsx';
import { LengthField } from '../lengths.tsx';
import { THINGS, buildUpOptions } from '../options.ts';
import { perform, useDoc, useProgram, useSession } from '../program.ts';
import { RoomList } from '../RoomList.tsx';

/** What the building is made of: walls, openings, heights, ceilings, floors and rooms. */
export function FabricPanel(): ReactNode {
  const program = useProgram();
  const doc = useDoc();
  const tool = useSession((state) => state.tool);
  const choices = useSession((state) => state.choices);
  const storeyId = useSession((state) => state.storey);
  const [editing, setEditing] = useState(false);
  const storey = doc.storeys.byId[storeyId];
  const buildUp = doc.buildUps.byId[choices.buildUp ?? ''];
  const choose = (patch: Partial<typeof choices>): void =>
    program.session.set({ choices: { ...choices, ...patch } });
  return (
    <>
      {doc.walls.order.length === 0 && <First />}
      {tool === 'opening' && (
        <Choice
          label="Opening"
          value={choices.opening}
          options={[
            { value: 'door', text: 'Door' },
            { value: 'window', text: 'Window' },
            { value: 'opening', text: 'Opening' },
          ]}
          onCommit={(opening) => choose({ opening: opening as typeof choices.opening })}
        />
      )}
      {tool === 'thing' && (
        <SelectField
          label="What is in the way"
          value={choices.thing}
          options={THINGS}
          onCommit={(thing) => choose({ thing })}
        />
      )}
      <SelectField
        label="Walls are built as"
        value={choices.buildUp ?? ''}
        options={buildUpOptions(doc)}
        onCommit={(id) => choose({ buildUp: id })}
      />
      <details open={editing} onToggle={(event) => setEditing(event.currentTarget.open)}>
        <summary>
          <h3>Layers of this build-up</h3>
        </summary>
        {buildUp && editing && (
          <BuildUpEditor key={buildUp.id} buildUp={buildUp} onMade={(id) => choose({ buildUp: id })} />
        )}
      </details>
      {storey && <StoreyFields key={storey.id} storey={storey} />}
      <RoomList />
    </>
  );
}

function StoreyFields(props: { readonly storey: Storey }): ReactNode {
  const program = useProgram();
  const doc = useDoc();
  const { storey } = props;
  const run = (command: Command): string | void => {
    const outcome = perform(program, command);
    if (!outcome.ok) return outcome.reason;
  };
  const set = (fields: Parameters<typeof editStorey>[1]): string | void => run(editStorey(storey.id, fields));
  const { ceiling, floor } = storey;
  return (
    <details open>
      <summary>
        <h3>{storey.name || 'Storey'}</h3>
      </summary>
      <TextField label="Name" value={storey.name} onCommit={(name) => set({ name })} />
      <LengthField
        label="Ceiling height"
        value={storey.ceilingHeight}
        min={500}
        max={20000}
        onCommit={(ceilingHeight) => set({ ceilingHeight })}
      />
      {doc.storeys.order.length > 1 && (
        <LengthField
          label="Floor above datum"
          value={storey.level}
          min={-50000}
          onCommit={(level) => set({ level })}
        />
      )}
      <fieldset>
        <legend>Ceiling</legend>
        <Choice
          label="Made as"
          hideLabel
          value={ceiling.kind}
          options={[
            { value: 'void', text: 'With a void' },
            { value: 'solid', text: 'Solid' },
          ]}
          onCommit={(kind) => void set({ ceiling: { ...ceiling, kind: kind as typeof ceiling.kind } })}
        />
        {ceiling.kind === 'void' && (
          <>
            <LengthField
              label="Depth of the void"
              value={ceiling.voidDepth}
              max={5000}
              onCommit={(voidDepth) => set({ ceiling: { ...ceiling, voidDepth } })}
            />
            <LengthField
              label="Cables above the ceiling surface"
              value={ceiling.cableRise}
              max={5000}
              onCommit={(cableRise) => set({ ceiling: { ...ceiling, cableRise } })}
            />
            <SelectField
              label="Insulation over the cables"
              value={ceiling.insulation}
              options={[
                { value: 'none', text: 'None' },
                { value: 'thin', text: 'Up to 100 mm' },
                { value: 'thick', text: 'More than 100 mm' },
              ]}
              onCommit={(insulation) => void set({ ceiling: { ...ceiling, insulation } })}
            />
            <JoistFields
              joists={ceiling.joists}
              onCommit={(joists) => set({ ceiling: { ...ceiling, joists } })}
            />
          </>
        )}
      </fieldset>
      <fieldset>
        <legend>Floor</legend>
        <Choice
          label="Made as"
          hideLabel
          value={floor.kind}
          options={[
            { value: 'solid', text: 'Solid' },
            { value: 'void', text: 'With a void' },
          ]}
          onCommit={(kind) => void set({ floor: { ...floor, kind: kind as typeof floor.kind } })}
        />
        {floor.kind === 'void' && (
          <>
            <LengthField
              label="Depth of the void"
              value={floor.voidDepth}
              max={5000}
              onCommit={(voidDepth) => set({ floor: { ...floor, voidDepth } })}
            />
            <LengthField
              label="Cables below the finished floor"
              value={floor.cableDrop}
              max={5000}
              onCommit={(cableDrop) => set({ floor: { ...floor, cableDrop } })}
            />
            <JoistFields joists={floor.joists} onCommit={(joists) => set({ floor: { ...floor, joists } })} />
          </>
        )}
      </fieldset>
      <button
        type="button"
        onClick={() => {
          const outcome = perform(program, addStorey(`Storey ${doc.storeys.order.length + 1}`));
          if (outcome.ok && outcome.made[0]) program.session.set({ storey: outcome.made[0] });
        }}
      >
        Add a storey above
      </button>
    </details>
  );
}

const NEW_JOISTS: Joists = {
  direction: 0,
  depth: 195,
  breadth: 45,
  centres: 400,
  span: null,
  member: 'solid',
};

function JoistFields(props: {
  readonly joists: Joists | null;
  readonly onCommit: (joists: Joists | null) => string | void;
}): ReactNode {
  const { joists, onCommit } = props;
  return (
    <>
      <CheckField
        label="Joists"
        value={joists !== null}
        onCommit={(on) => void onCommit(on ? NEW_JOISTS : null)}
      />
      {joists && (
        <>
          <NumberField
            label="They run (0 across the plan, 90 down it)"
            unit="°"
            min={-180}
            max={180}
            value={Math.round((joists.direction * 180 * 100) / Math.PI) / 100}
            onCommit={(degrees) => onCommit({ ...joists, direction: (degrees * Math.PI) / 180 })}
          />
          <div className="pair">
            <LengthField
              label="Depth"
              value={joists.depth}
              min={10}
              max={2000}
              onCommit={(depth) => onCommit({ ...joists, depth })}
            />
            <LengthField
              label="Breadth"
              value={joists.breadth}
              min={10}
              max={1000}
              onCommit={(breadth) => onCommit({ ...joists, breadth })}
            />
          </div>
          <div className="pair">
            <LengthField
              label="Centres"
              value={joists.centres}
              min={50}
              max={5000}
              onCommit={(centres) => onCommit({ ...joists, centres })}
            />
            <LengthField<number | null>
              label="Clear span"
              value={joists.span}
              max={50000}
              empty="Not known"
              onCommit={(span) => onCommit({ ...joists, span })}
            />
          </div>
          <SelectField
            label="Members"
            value={joists.member}
            options={[
              { value: 'solid', text: 'Solid timber' },
              { value: 'engineered', text: 'Engineered: maker’s chart only' },
            ]}
            onCommit={(member) => void onCommit({ ...joists, member })}
          />
        </>
      )}
    </>
  );
}

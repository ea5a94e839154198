import type { ReactNode } from 'react';
import { addStorey, editStorey, removeStorey } from '../../document/commands/storeys.ts';
import type { Command } from '../../document/types.ts';
import type { Storey } from '../../engine/model/document.ts';
import { Choice, SelectField, TextField } from '../ui/fields.tsx';
import { LengthField } from '../ui/lengths.tsx';
import { perform } from '../../app/program.ts';
import { useDoc, useProgram } from '../ui/hooks.ts';
import { JoistFields } from './JoistFields.tsx';

/** Name, heights, ceiling and floor of a storey; a storey more, or this one out when nothing stands on it. */
export function StoreyFields(props: { readonly storey: Storey }): ReactNode {
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
      <div className="row">
        <button
          className="button"
          type="button"
          onClick={() => {
            const outcome = perform(program, addStorey(`Storey ${doc.storeys.order.length + 1}`));
            if (outcome.ok && outcome.made[0]) program.session.set({ storey: outcome.made[0] });
          }}
        >
          Add a storey above
        </button>
        {doc.storeys.order.length > 1 && (
          <button
            type="button"
            className="button remove"
            onClick={() => {
              const next = doc.storeys.order.find((id) => id !== storey.id);
              if (perform(program, removeStorey(storey.id)).ok && next !== undefined)
                program.session.set({ storey: next, room: null, face: null });
            }}
          >
            Remove this storey
          </button>
        )}
      </div>
    </details>
  );
}

import { useState, type ReactNode } from 'react';
import { addBox, editBox, removeBox } from '../../document/commands/catalogue.ts';
import type { Box } from '../../engine/model/document.ts';
import { rows } from '../../engine/model/tables.ts';
import { Choice, SelectField, TextField } from '../ui/fields.tsx';
import { LengthField } from '../ui/lengths.tsx';
import { perform } from '../../app/program.ts';
import { useDoc, useProgram } from '../ui/hooks.ts';

const MOUNTS: readonly { readonly value: Box['mount']; readonly text: string }[] = [
  { value: 'metal', text: 'Metal, in plaster' },
  { value: 'dry-lining', text: 'In a dry-lined wall' },
  { value: 'surface', text: 'On the surface' },
  { value: 'round', text: 'Round, on a ceiling' },
];

/** The back boxes of the catalogue: their depths, gangs and how they are fixed. */
export function BoxStock(): ReactNode {
  const program = useProgram();
  const doc = useDoc();
  const boxes = rows(doc.boxes);
  const [at, setAt] = useState('');
  const box = doc.boxes.byId[at] ?? boxes[0];
  if (!box) return null;
  const set = (fields: Partial<Omit<Box, 'id'>>): string | void => {
    const outcome = perform(program, editBox(box.id, fields));
    if (!outcome.ok) return outcome.reason;
  };
  return (
    <div className="fields">
      <SelectField
        label="Box"
        value={box.id}
        options={boxes.map((each) => ({ value: each.id, text: each.name }))}
        onCommit={setAt}
      />
      <TextField
        key={`${box.id}-name`}
        label="Name"
        needed
        value={box.name}
        onCommit={(name) => set({ name })}
      />
      <SelectField
        label="Fixed"
        value={box.mount}
        options={MOUNTS}
        onCommit={(mount) => void set({ mount })}
      />
      <Choice
        label="Gangs"
        value={box.gangs}
        options={[
          { value: 1, text: 'One' },
          { value: 2, text: 'Two' },
        ]}
        onCommit={(gangs) => void set({ gangs: gangs as 1 | 2 })}
      />
      <LengthField label="Depth" value={box.depth} min={1} max={200} onCommit={(depth) => set({ depth })} />
      <div className="row">
        <button
          className="button"
          type="button"
          onClick={() => {
            const { id: _id, ...rest } = box;
            const outcome = perform(program, addBox({ ...rest, name: `${box.name} (copy)` }));
            if (outcome.ok && outcome.made[0]) setAt(outcome.made[0]);
          }}
        >
          Copy as a new box
        </button>
        <button
          type="button"
          className="button remove"
          disabled={boxes.length === 1}
          onClick={() => {
            if (perform(program, removeBox(box.id)).ok) setAt('');
          }}
        >
          Remove this box
        </button>
      </div>
    </div>
  );
}

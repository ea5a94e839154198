import { useState, type ReactNode } from 'react';
import { addCable, editCable, removeCable } from '../../document/commands/catalogue.ts';
import { editJob } from '../../document/commands/job.ts';
import type { Cable, RatedBy } from '../../engine/model/document.ts';
import { rows } from '../../engine/model/tables.ts';
import { NumberField, SelectField, TextField } from '../ui/fields.tsx';
import { LengthField } from '../ui/lengths.tsx';
import { cableOptions, NONE } from '../ui/options.ts';
import { perform } from '../../app/program.ts';
import { useDoc, useProgram } from '../ui/hooks.ts';

/** Waste and tails: common practice, no published source, so all of it is the person's to change. */
export function AllowanceFields(): ReactNode {
  const program = useProgram();
  const { allowances } = useDoc().job;
  const set = (patch: Partial<typeof allowances>): string | void => {
    const outcome = perform(program, editJob({ allowances: { ...allowances, ...patch } }));
    if (!outcome.ok) return outcome.reason;
  };
  return (
    <div className="fields">
      <p className="help">Common practice, no published source: change them to how you work.</p>
      <NumberField
        label="Allowance on measured metres and tails"
        unit="%"
        min={0}
        max={100}
        value={allowances.percent}
        onCommit={(percent) => set({ percent })}
      />
      <LengthField
        label="Tail where the box comes later"
        value={allowances.tailLater}
        max={20000}
        onCommit={(tailLater) => set({ tailLater })}
      />
      <LengthField
        label="Tail where the metal box is fixed first"
        value={allowances.tailFixed}
        max={20000}
        onCommit={(tailFixed) => set({ tailFixed })}
      />
      <LengthField
        label="Tail at the consumer unit"
        value={allowances.tailBoard}
        max={20000}
        onCommit={(tailBoard) => set({ tailBoard })}
      />
      <LengthField
        label="Tail at a fitting with no box"
        value={allowances.tailFitting}
        max={20000}
        onCommit={(tailFitting) => set({ tailFitting })}
      />
    </div>
  );
}

/** A list of numbers typed with commas, all above 0. */
function readList(text: string): number[] | null {
  const parts = text.split(/[,;\s]+/).filter((part) => part !== '');
  const numbers = parts.map(Number);
  return numbers.every((each) => Number.isFinite(each) && each > 0) ? numbers : null;
}

/** Drum lengths, prices and remnants of each cable; sizes of the cable itself. */
export function CableStock(): ReactNode {
  const program = useProgram();
  const doc = useDoc();
  const cables = rows(doc.cables);
  const [at, setAt] = useState<string>('');
  const used = new Set(rows(doc.runs).map((run) => run.cable));
  const cable = doc.cables.byId[at] ?? cables.find((each) => used.has(each.id)) ?? cables[0];
  if (!cable) return null;
  const set = (fields: Partial<Omit<Cable, 'id'>>): string | void => {
    const outcome = perform(program, editCable(cable.id, fields));
    if (!outcome.ok) return outcome.reason;
  };
  return (
    <div className="fields">
      <SelectField label="Cable" value={cable.id} options={cableOptions(doc)} onCommit={setAt} />
      <TextField
        key={`${cable.id}-drums`}
        label="Drum lengths on sale, m"
        value={cable.drums.map((drum) => drum.length).join(', ')}
        onCommit={(text) => {
          const lengths = readList(text);
          if (!lengths) return 'Type lengths in metres, like 25, 50, 100.';
          const price = (length: number): number | null =>
            cable.drums.find((drum) => drum.length === length)?.price ?? null;
          return set({ drums: lengths.map((length) => ({ length, price: price(length) })) });
        }}
      />
      {cable.drums.map((drum, index) => (
        <NumberField<number | null>
          key={`${cable.id}-${drum.length}`}
          label={`Price of ${drum.length} m`}
          value={drum.price}
          min={0}
          max={1e6}
          empty="No price given"
          onCommit={(price) => set({ drums: cable.drums.with(index, { ...drum, price }) })}
        />
      ))}
      <TextField
        key={`${cable.id}-remnants`}
        label="Lengths you already have, m"
        value={cable.remnants.join(', ')}
        onCommit={(text) => {
          const remnants = readList(text);
          return remnants ? set({ remnants }) : 'Type lengths in metres, like 12, 8.5.';
        }}
      />
      <div className="pair">
        <LengthField
          label="Cable width"
          value={cable.width}
          min={0.1}
          max={200}
          onCommit={(width) => set({ width })}
        />
        <LengthField
          label="Cable height"
          value={cable.height}
          min={0.1}
          max={200}
          onCommit={(height) => set({ height })}
        />
      </div>
      <div className="row">
        <button
          className="button"
          type="button"
          onClick={() => {
            const { id: _id, ...rest } = cable;
            const outcome = perform(
              program,
              addCable({ ...rest, name: `${cable.name} (copy)`, ratedBy: null }),
            );
            if (outcome.ok && outcome.made[0]) setAt(outcome.made[0]);
          }}
        >
          Copy as a new cable
        </button>
        <button
          type="button"
          className="button remove"
          disabled={cables.length === 1}
          onClick={() => {
            if (perform(program, removeCable(cable.id)).ok) setAt('');
          }}
        >
          Remove this cable
        </button>
      </div>
      {cable.use !== 'data' && (
        <SelectField<RatedBy | typeof NONE>
          label="Its ratings are those of"
          value={cable.ratedBy ?? NONE}
          options={[
            { value: '4D5', text: 'Flat cable with earth, 70 °C (BS 7671 Table 4D5)' },
            { value: NONE, text: 'No table here: rating and drop not checked' },
          ]}
          onCommit={(table) => void set({ ratedBy: table === NONE ? null : table })}
        />
      )}
      <TextField
        key={`${cable.id}-name`}
        label="Name"
        needed
        value={cable.name}
        onCommit={(name) => set({ name })}
      />
    </div>
  );
}

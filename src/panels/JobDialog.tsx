import type { ReactNode } from 'react';
import { editJob } from '../document/commands/job.ts';
import type { Job } from '../engine/model/document.ts';
import { Dialog } from './Dialog.tsx';
import { CheckField, NumberField, SelectField, TextField } from './fields.tsx';
import { EDITIONS, NATIONS } from './options.ts';
import { perform, useDoc, useProgram } from './program.ts';

/** The job: what it is called, where, checked against what, and the supply. */
export function JobDialog(props: { readonly onClose: () => void }): ReactNode {
  const program = useProgram();
  const { job } = useDoc();
  const set = (fields: Partial<Job>): string | void => {
    const outcome = perform(program, editJob(fields));
    if (!outcome.ok) return outcome.reason;
  };
  const { supply } = job;
  return (
    <Dialog title="Job, supply and edition" onClose={props.onClose}>
      <div className="fields">
        <TextField label="Title" needed value={job.title} onCommit={(title) => set({ title })} />
        <div className="field">
          <label htmlFor="job-notes">Notes</label>
          <textarea
            id="job-notes"
            rows={4}
            maxLength={20000}
            defaultValue={job.notes}
            onBlur={(event) => void set({ notes: event.target.value })}
          />
        </div>
        <SelectField
          label="Nation"
          value={job.nation}
          options={NATIONS}
          help="What is notifiable and who may certify differ: ask the local authority before starting."
          onCommit={(nation) => void set({ nation })}
        />
        <SelectField
          label="Checked against"
          value={job.edition}
          options={EDITIONS}
          onCommit={(edition) => void set({ edition })}
        />
        <CheckField
          label="A new dwelling: heights of accessories are checked"
          value={job.newDwelling}
          onCommit={(newDwelling) => void set({ newDwelling })}
        />
        <SelectField
          label="Earthing of the supply"
          value={supply.earthing}
          options={(['TN-C-S', 'TN-S', 'TT'] as const).map((value) => ({ value, text: value }))}
          onCommit={(earthing) => void set({ supply: { ...supply, earthing } })}
        />
        <div className="pair">
          <NumberField
            label="External loop impedance Ze"
            unit="Ω"
            value={supply.ze}
            min={0}
            max={10000}
            onCommit={(ze) => set({ supply: { ...supply, ze } })}
          />
          <NumberField
            label="Line to neutral"
            unit="V"
            value={supply.nominalV}
            min={1}
            max={1000}
            onCommit={(nominalV) => set({ supply: { ...supply, nominalV } })}
          />
        </div>
        <NumberField<number | null>
          label="Prospective fault current at the board"
          unit="A"
          value={supply.faultCurrent}
          min={0}
          max={1e6}
          empty="Not given"
          onCommit={(faultCurrent) => set({ supply: { ...supply, faultCurrent } })}
        />
        <div className="pair">
          <NumberField
            label="Ambient"
            unit="°C"
            value={job.ambient}
            min={-50}
            max={150}
            onCommit={(ambient) => set({ ambient })}
          />
          <NumberField
            label="Readings taken at"
            unit="°C"
            value={job.testTemperature}
            min={-50}
            max={150}
            onCommit={(testTemperature) => set({ testTemperature })}
          />
        </div>
      </div>
      <div className="dialog-foot">
        <button type="button" className="primary" onClick={props.onClose}>
          Done
        </button>
      </div>
    </Dialog>
  );
}

import type { ReactNode } from 'react';
import { SupplyFields } from '../circuits/SupplyFields.tsx';
import { editJob } from '../../document/commands/job.ts';
import type { Job } from '../../engine/model/document.ts';
import { Dialog } from '../ui/Dialog.tsx';
import { CheckField, SelectField, TextField } from '../ui/fields.tsx';
import { EDITIONS, NATIONS } from '../ui/options.ts';
import { perform } from '../../app/program.ts';
import { useDoc, useProgram } from '../ui/hooks.ts';

/** The job: what it is called, where, checked against what, and the supply. */
export function JobDialog(props: { readonly onClose: () => void }): ReactNode {
  const program = useProgram();
  const { job } = useDoc();
  const set = (fields: Partial<Job>): string | void => {
    const outcome = perform(program, editJob(fields));
    if (!outcome.ok) return outcome.reason;
  };
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
        <CheckField
          label="Cables may rely on the strip of another circuit’s point"
          value={job.otherCircuitsInStrip}
          help="Only under the 2026 edition, as read from one public page: check it against the standard. Off, such a cable is disputed; on, each one is noted."
          onCommit={(otherCircuitsInStrip) => void set({ otherCircuitsInStrip })}
        />
        <SupplyFields />
      </div>
      <div className="dialog-foot">
        <button type="button" className="button primary" onClick={props.onClose}>
          Done
        </button>
      </div>
    </Dialog>
  );
}

import type { ReactNode } from 'react';
import { editJob } from '../../document/commands/job.ts';
import type { Job } from '../../engine/model/document.ts';
import { NumberField, SelectField } from '../ui/fields.tsx';
import { perform } from '../../app/program.ts';
import { useDoc, useProgram } from '../ui/hooks.ts';

/** The supply and the temperatures that every circuit is worked out with. */
export function SupplyFields(): ReactNode {
  const program = useProgram();
  const { job } = useDoc();
  const { supply } = job;
  const set = (fields: Partial<Job>): string | void => {
    const outcome = perform(program, editJob(fields));
    if (!outcome.ok) return outcome.reason;
  };
  return (
    <div className="fields">
      <div className="pair">
        <SelectField
          label="Earthing of the supply"
          value={supply.earthing}
          options={(['TN-C-S', 'TN-S', 'TT'] as const).map((value) => ({ value, text: value }))}
          onCommit={(earthing) => void set({ supply: { ...supply, earthing } })}
        />
        <NumberField
          label="External loop Ze"
          unit="Ω"
          value={supply.ze}
          min={0}
          max={10000}
          onCommit={(ze) => set({ supply: { ...supply, ze } })}
        />
      </div>
      {supply.earthing === 'TT' && (
        <NumberField<number | null>
          label="Resistance of the earth electrode"
          unit="Ω"
          value={supply.electrode}
          min={0}
          max={100000}
          empty="Not given: a question for the electrician"
          onCommit={(electrode) => set({ supply: { ...supply, electrode } })}
        />
      )}
      <NumberField
        label="Line to neutral"
        unit="V"
        value={supply.nominalV}
        min={1}
        max={1000}
        onCommit={(nominalV) => set({ supply: { ...supply, nominalV } })}
      />
      <NumberField<number | null>
        label="Prospective fault current at the board"
        unit="A"
        value={supply.faultCurrent}
        min={0}
        max={1e6}
        empty="Not given: a question for the electrician"
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
        <TestTemperature />
      </div>
      <p className="help">
        As found or as declared by the distributor; measured values come before typed ones.
      </p>
    </div>
  );
}

/** °C at which readings are taken: resistances are worked out for it. */
export function TestTemperature(): ReactNode {
  const program = useProgram();
  const { job } = useDoc();
  return (
    <NumberField
      label="Readings taken at"
      unit="°C"
      value={job.testTemperature}
      min={-50}
      max={150}
      onCommit={(testTemperature) => {
        const outcome = perform(program, editJob({ testTemperature }));
        if (!outcome.ok) return outcome.reason;
      }}
    />
  );
}

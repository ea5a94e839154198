import type { ReactNode } from 'react';
import { editCircuit } from '../../document/commands/circuits.ts';
import type { Circuit } from '../../engine/model/document.ts';
import { rows } from '../../engine/model/tables.ts';
import { Choice, NumberField, SelectField, TextField } from '../ui/fields.tsx';
import { NONE, cableOptions, orNull } from '../ui/options.ts';
import { perform } from '../../app/program.ts';
import { useDoc, useProgram } from '../ui/hooks.ts';
import { pointName } from '../ui/names.ts';

/** All fields of one circuit. The designer decides them; nothing is resized by the program. */
export function CircuitFields(props: { readonly circuit: Circuit }): ReactNode {
  const program = useProgram();
  const doc = useDoc();
  const { circuit } = props;
  const { device } = circuit;
  const set = (fields: Parameters<typeof editCircuit>[1]): string | void => {
    const outcome = perform(program, editCircuit(circuit.id, fields));
    if (!outcome.ok) return outcome.reason;
  };
  const boards = rows(doc.points).filter((point) => point.kind === 'consumer-unit');
  const threeCore = cableOptions(doc).filter((option) => (doc.cables.byId[option.value]?.cores ?? 0) > 2);
  return (
    <>
      <TextField label="Name" value={circuit.name} onCommit={(name) => set({ name })} />
      <Choice
        label="Shape"
        value={circuit.topology}
        options={[
          { value: 'ring', text: 'Ring', title: 'Out from the board and back to it' },
          { value: 'radial', text: 'Radial', title: 'Out from the board, not back' },
          { value: 'lighting', text: 'Lighting', title: 'Branches to lights and switches' },
        ]}
        onCommit={(topology) => void set({ topology: topology as Circuit['topology'] })}
      />
      <div className="pair">
        <SelectField
          label="Device"
          value={device.type}
          options={[
            { value: 'B', text: 'Type B' },
            { value: 'C', text: 'Type C' },
          ]}
          onCommit={(type) => void set({ device: { ...device, type } })}
        />
        <NumberField
          label="Rating"
          unit="A"
          value={device.rating}
          min={1}
          max={125}
          onCommit={(rating) => set({ device: { ...device, rating } })}
        />
      </div>
      <SelectField
        label="Residual current protection"
        value={device.rcd === null ? NONE : String(device.rcd)}
        options={[
          { value: NONE, text: 'None' },
          ...['10', '30', '100', '300'].map((value) => ({ value, text: `${value} mA` })),
        ]}
        help="Below 50 mm deep the rule asks for a zone and 30 mA, not either."
        onCommit={(rcd) => void set({ device: { ...device, rcd: rcd === NONE ? null : Number(rcd) } })}
      />
      <SelectField
        label="Cable"
        value={circuit.cable}
        options={cableOptions(doc)}
        onCommit={(cable) => void set({ cable })}
      />
      <SelectField
        label="Three-core cable"
        value={circuit.cable3 ?? NONE}
        options={[{ value: NONE, text: 'None' }, ...threeCore]}
        onCommit={(cable) => void set({ cable3: orNull(cable) })}
      />
      <SelectField
        label="Fed from"
        value={circuit.board ?? NONE}
        options={[
          { value: NONE, text: boards.length === 0 ? 'No consumer unit placed yet' : 'Not chosen' },
          ...boards.map((board) => ({ value: board.id, text: pointName(board) })),
        ]}
        onCommit={(board) => void set({ board: orNull(board) })}
      />
      <NumberField<number | null>
        label="Design current"
        unit="A"
        value={circuit.designCurrent}
        min={0}
        max={400}
        empty="From the loads of its points"
        onCommit={(designCurrent) => set({ designCurrent })}
      />
    </>
  );
}

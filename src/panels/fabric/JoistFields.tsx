import type { ReactNode } from 'react';
import type { Joists } from '../../engine/model/document.ts';
import { CheckField, NumberField, SelectField, TextField } from '../ui/fields.tsx';
import { LengthField } from '../ui/lengths.tsx';

const NEW_JOISTS: Joists = {
  direction: 0,
  depth: 195,
  breadth: 45,
  centres: 400,
  span: null,
  member: 'solid',
  chart: '',
};

/** The joists of a ceiling or floor void: which way they run, and their sizes. */
export function JoistFields(props: {
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
          {joists.member === 'engineered' && (
            <TextField
              label="Maker’s chart that says where to pass"
              value={joists.chart}
              onCommit={(chart) => onCommit({ ...joists, chart })}
            />
          )}
        </>
      )}
    </>
  );
}

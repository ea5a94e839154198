import type { ReactNode } from 'react';
import type { Mm } from '../../engine/model/units.ts';
import { NumberField, SelectField } from '../ui/fields.tsx';
import { LengthField } from '../ui/lengths.tsx';
import { correctionText, NEW_WALL, type SideRow, type Turn } from './tapedRows.ts';

const TURNS: readonly { readonly value: Turn; readonly text: string }[] = [
  { value: 'right', text: 'square right' },
  { value: 'left', text: 'square left' },
  { value: 'other', text: 'another angle' },
  { value: 'unknown', text: 'not known' },
];

/** The walls of a taped room, one after the other. */
export function TapedSides(props: {
  readonly rows: readonly SideRow[];
  readonly onChange: (rows: readonly SideRow[]) => void;
  /** Adjusted less taped; null while nothing is spread. */
  readonly corrections: readonly Mm[] | null;
}): ReactNode {
  const { rows, onChange, corrections } = props;
  const set = (i: number, row: Partial<SideRow>): void =>
    onChange(rows.with(i, { ...(rows[i] as SideRow), ...row }));
  return (
    <>
      <ol className="taped-sides">
        {rows.map((row, i) => (
          <li key={i}>
            <LengthField<Mm | null>
              label={`Wall ${i + 1}`}
              value={row.length}
              min={10}
              max={1e5}
              empty="not taped yet"
              onCommit={(length) => set(i, { length })}
            />
            <SelectField
              label={`Then, after wall ${i + 1}`}
              value={row.turn}
              options={TURNS}
              onCommit={(turn) => set(i, { turn })}
            />
            {row.turn === 'other' && (
              <NumberField
                label={`Turn after wall ${i + 1}, to the right`}
                unit="°"
                value={row.degrees}
                min={-179}
                max={179}
                onCommit={(degrees) => set(i, { degrees })}
              />
            )}
            {corrections && <output>Corrected: {correctionText(corrections[i] ?? 0)}</output>}
            {rows.length > 3 && (
              <button
                type="button"
                className="button plain taped-out"
                aria-label={`Take wall ${i + 1} out`}
                onClick={() => onChange(rows.toSpliced(i, 1))}
              >
                ✕
              </button>
            )}
          </li>
        ))}
      </ol>
      <button type="button" className="button" onClick={() => onChange([...rows, NEW_WALL])}>
        Add a wall
      </button>
    </>
  );
}

import type { ReactNode } from 'react';
import type { Mm } from '../../engine/model/units.ts';
import { SelectField } from '../ui/fields.tsx';
import { LengthField } from '../ui/lengths.tsx';
import { correctionText, type DiagonalRow } from './tapedRows.ts';

/** Lengths taped straight across a room, from corner to corner. */
export function TapedDiagonals(props: {
  readonly rows: readonly DiagonalRow[];
  readonly corners: number;
  readonly onChange: (rows: readonly DiagonalRow[]) => void;
  readonly corrections: readonly Mm[] | null;
}): ReactNode {
  const { rows, onChange, corrections } = props;
  const corners = Array.from({ length: props.corners }, (_, i) => ({
    value: String(i),
    text: `start of wall ${i + 1}`,
  }));
  const set = (i: number, row: Partial<DiagonalRow>): void =>
    onChange(rows.with(i, { ...(rows[i] as DiagonalRow), ...row }));
  return (
    <>
      {rows.length > 0 && (
        <ol className="taped-sides">
          {rows.map((row, i) => (
            <li key={i}>
              <SelectField
                label={`Diagonal ${i + 1} from`}
                value={String(Math.min(row.from, props.corners - 1))}
                options={corners}
                onCommit={(from) => set(i, { from: Number(from) })}
              />
              <SelectField
                label={`Diagonal ${i + 1} to`}
                value={String(Math.min(row.to, props.corners - 1))}
                options={corners}
                onCommit={(to) => set(i, { to: Number(to) })}
              />
              <LengthField<Mm | null>
                label={`Diagonal ${i + 1}`}
                value={row.length}
                min={10}
                max={1e5}
                empty="not taped yet"
                onCommit={(length) => set(i, { length })}
              />
              {corrections && <output>Corrected: {correctionText(corrections[i] ?? 0)}</output>}
              <button
                type="button"
                className="button plain taped-out"
                aria-label={`Take diagonal ${i + 1} out`}
                onClick={() => onChange(rows.toSpliced(i, 1))}
              >
                ✕
              </button>
            </li>
          ))}
        </ol>
      )}
      <button
        type="button"
        className="button"
        onClick={() => onChange([...rows, { from: 0, to: 2, length: null }])}
      >
        Add a diagonal
      </button>
    </>
  );
}

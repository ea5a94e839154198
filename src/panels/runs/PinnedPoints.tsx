import type { ReactNode } from 'react';
import { editCircuit } from '../../document/commands/circuits.ts';
import type { Circuit, Id } from '../../engine/model/document.ts';
import { rows } from '../../engine/model/tables.ts';
import { SelectField } from '../ui/fields.tsx';
import { pointName } from '../ui/names.ts';
import { NONE } from '../ui/options.ts';
import { perform } from '../../app/program.ts';
import { useDoc, useProgram } from '../ui/hooks.ts';

/** Points that come first from the board, and last, whatever is shortest. Rings and radials only. */
export function PinnedPoints(props: { readonly circuit: Circuit }): ReactNode {
  const { circuit } = props;
  if (circuit.topology === 'lighting')
    return <p className="quiet">A lighting circuit branches: there is no order to pin.</p>;
  return (
    <>
      <Pinned circuit={circuit} end="first" title="First from the board" />
      <Pinned
        circuit={circuit}
        end="last"
        title={circuit.topology === 'ring' ? 'Last before the board' : 'Last'}
      />
    </>
  );
}

function Pinned(props: {
  readonly circuit: Circuit;
  readonly end: 'first' | 'last';
  readonly title: string;
}): ReactNode {
  const program = useProgram();
  const doc = useDoc();
  const { circuit, end, title } = props;
  const pinned = circuit[end];
  const free = rows(doc.points).filter(
    (p) =>
      p.circuit === circuit.id &&
      p.kind !== 'consumer-unit' &&
      !circuit.first.includes(p.id) &&
      !circuit.last.includes(p.id),
  );
  const set = (ids: readonly Id[]): void => void perform(program, editCircuit(circuit.id, { [end]: ids }));
  const name = (id: Id): string => {
    const point = doc.points.byId[id];
    return point ? pointName(point) : id;
  };
  return (
    <div className="field pinned">
      {pinned.length > 0 && (
        <ol aria-label={title}>
          {pinned.map((id) => (
            <li key={id}>
              {name(id)}
              <button
                type="button"
                className="button plain"
                aria-label={`Unpin ${name(id)}`}
                onClick={() => set(pinned.filter((each) => each !== id))}
              >
                ✕
              </button>
            </li>
          ))}
        </ol>
      )}
      <SelectField
        label={title}
        value={NONE}
        options={[
          { value: NONE, text: pinned.length === 0 ? 'Whatever is shortest' : 'Pin another …' },
          ...free.map((p) => ({ value: p.id, text: pointName(p) })),
        ]}
        onCommit={(id) => {
          if (id !== NONE) set(end === 'first' ? [...pinned, id] : [id, ...pinned]);
        }}
      />
    </div>
  );
}
